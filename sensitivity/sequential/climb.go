package sequential

import (
	"math"
	"slices"

	"proofmass/sampling/portable"
)

// A climb towards a rare event: rows of each population, moves of each row in a round. With half
// the rows the interval held the chance of a published case (the oscillator of climb_test.go) in
// 89 of 100 seeds, with twice the moves in 92, with these in 94.
const (
	ClimbRows  = 1000
	ClimbMoves = 5
)

const (
	levelShare = 0.1 // of all rows that lie beyond a level, about
	mostTied   = 0.5 // beyond it, from which the next value is the level
	climbStep  = 0.5 // of the first moves
	climbAim   = 0.4 // share of moves that are taken
	fastest    = 1.0 // by which the step follows it
	leastStep  = 0.02
	mostLevels = 40
)

// Event is the value of a row that has the event; others are told apart by how near they come.
var Event = math.Inf(1)

// A Level is one of a climb: what is at least as far.
type Level struct {
	At     float64   // the value; Event at the last
	Shares []float64 // of each population's rows that lie beyond it, 0 of one that has died out
	Step   float64   // of the moves that led to it, 0 at the first
	Taken  float64   // share of those moves that were accepted
}

// A Climb is subset simulation with several populations and levels in common: levels of each
// population's own are biased (Au and Beck, 2001, section 5).
type Climb struct {
	Levels []Level
	Step   float64 // of the next moves
	Done   bool
}

// Tell adds the level that the joined rows of all populations come to, and says by Done whether
// it is the last: the event, a chance below least, or no row that lies further than the others.
// A population without rows has died out. accepted of moves led to the rows.
func (c *Climb) Tell(populations []Population, accepted, moves int, least float64) {
	level := Level{At: levelOf(populations), Shares: make([]float64, len(populations)), Step: c.Step}
	if moves > 0 {
		level.Taken = float64(accepted) / float64(moves)
		c.Step = nextStep(c.Step, level.Taken)
	} else {
		c.Step = climbStep
	}
	for k := range populations {
		p := &populations[k]
		beyond := 0
		for _, v := range p.Value {
			if v >= level.At {
				beyond++
			}
		}
		if p.Rows() > 0 {
			level.Shares[k] = float64(beyond) / float64(p.Rows())
		}
	}
	stuck := level.At == math.Inf(-1) || len(c.Levels) > 0 && level.At <= c.Levels[len(c.Levels)-1].At
	if stuck {
		c.Done = true
		return
	}
	c.Levels = append(c.Levels, level)
	c.Done = level.At == Event || mean(c.Chances()) < least || len(c.Levels) == mostLevels
}

// nextStep follows how many moves were taken.
func nextStep(step, taken float64) float64 {
	return min(1, max(leastStep, float64(step*portable.Exp(float64(fastest*(taken-climbAim))))))
}

// levelOf is the value that about a tenth of all rows lie at or beyond. Where many rows have that
// value, it is the next one.
func levelOf(populations []Population) float64 {
	var all []float64
	for k := range populations {
		all = append(all, populations[k].Value...)
	}
	if len(all) == 0 {
		return math.Inf(-1)
	}
	slices.Sort(all)
	at := all[len(all)-int(math.Ceil(levelShare*float64(len(all))))]
	first, _ := slices.BinarySearch(all, at)
	if float64(len(all)-first) > mostTied*float64(len(all)) {
		for _, v := range all[first:] {
			if v > at {
				return v
			}
		}
		if first == 0 && at != Event {
			return math.Inf(-1) // all alike
		}
	}
	return at
}

// Reached reports whether the event was.
func (c *Climb) Reached() bool {
	return len(c.Levels) > 0 && c.Levels[len(c.Levels)-1].At == Event
}

// Chances are those that the populations give the last level: of the event, where it was reached,
// else more than that.
func (c *Climb) Chances() []float64 {
	if len(c.Levels) == 0 {
		return nil
	}
	chances := make([]float64, len(c.Levels[0].Shares))
	for k := range chances {
		chances[k] = 1
		for _, l := range c.Levels {
			chances[k] *= l.Shares[k]
		}
	}
	return chances
}

// Beyond are the rows of a population that lie beyond the last level, from which it goes on.
func (c *Climb) Beyond(p *Population) Population {
	at, kept := c.Levels[len(c.Levels)-1].At, Population{Scores: p.Scores}
	for i, v := range p.Value {
		if v >= at {
			kept.Z, kept.Value = append(kept.Z, p.Row(i)...), append(kept.Value, v)
		}
	}
	return kept
}

// Alike are the weights of so many rows that count alike.
func Alike(rows int) []float64 {
	weight := make([]float64, rows)
	for i := range weight {
		weight[i] = 1
	}
	return weight
}

// Accept takes what stays beyond the last level.
func (c *Climb) Accept() Accept {
	at := c.Levels[len(c.Levels)-1].At
	return func(_, to, _ float64) bool { return to >= at }
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
