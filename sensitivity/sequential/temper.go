package sequential

import (
	"math"

	"proofmass/sampling/portable"
)

// Rows of each population on the way to what was measured, and moves of each in a round.
const (
	FewestTempered = 256
	MostTempered   = 512
	TemperMoves    = 10
)

const (
	temperStep   = 0.5  // of the first moves
	temperAim    = 0.35 // share of moves that are taken
	temperFast   = 2.0  // by which the step follows it
	countAlike   = 0.5  // effective share of the rows that a round's increments of weights leave
	fewestLikely = 0.05 // share of drawn rows that are possible at all, below which nothing is tempered
	mostPowers   = 60
)

// A Tempering takes populations from what is believed of the inputs to what is believed after a
// measurement, by its likelihood to powers from 0 to 1. The value of a row is the logarithm of
// its likelihood, -Inf where it can not be.
type Tempering struct {
	Power  float64   // of the likelihood, that the next moves keep
	By     float64   // by which it grew, to which rows are weighed before them
	Step   float64   // of the next moves
	LogZ   []float64 // of each population: logarithm of its mean likelihood, as far as Power
	Powers []float64 // so far
	Taken  []float64 // share of moves that were accepted, of each round
	Done   bool      // the rows have the whole likelihood
	Failed bool      // next to no row is possible, or there is no end to the powers
}

// Tell takes the joined rows of all populations to the next power: that at which their weights
// leave half of them effective. accepted of moves led to the rows, none to the first.
func (t *Tempering) Tell(populations []Population, accepted, moves int) {
	taken := math.NaN()
	if moves > 0 {
		taken = float64(accepted) / float64(moves)
		t.Taken = append(t.Taken, taken)
	} else {
		t.LogZ, t.Step = make([]float64, len(populations)), temperStep
	}
	if t.Power == 1 {
		t.Done = true
		return
	}
	possible, rows := 0, 0
	for k := range populations {
		for _, l := range populations[k].Value {
			if rows++; !math.IsInf(l, -1) {
				possible++
			}
		}
	}
	if float64(possible) < fewestLikely*float64(rows) || possible == 0 || len(t.Powers) == mostPowers {
		t.Failed = true
		return
	}
	t.By = growth(populations, 1-t.Power, countAlike*float64(possible))
	next := t.Power + t.By
	if t.By == 1-t.Power {
		next = 1
	}
	if moves > 0 {
		t.Step = min(1, max(leastStep, float64(t.Step*math.Sqrt(t.Power/next))*portable.Exp(float64(temperFast*(taken-temperAim)))))
	}
	t.Power, t.Powers = next, append(t.Powers, next)
	for k := range populations {
		t.LogZ[k] += logMean(populations[k].Value, t.By)
	}
}

// growth is the greatest one, up to most, by which weights leave so many effective rows.
func growth(populations []Population, most, effective float64) float64 {
	if ess(populations, most) >= effective {
		return most
	}
	low, high := 0.0, most
	for range 60 {
		middle := (low + high) / 2
		if ess(populations, middle) >= effective {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// ess is the effective number of rows with the likelihood to a power as weights.
func ess(populations []Population, power float64) float64 {
	greatest := math.Inf(-1)
	for k := range populations {
		greatest = max(greatest, greatestOf(populations[k].Value))
	}
	var sum, square float64
	for k := range populations {
		for _, l := range populations[k].Value {
			w := portable.Exp(float64(power * (l - greatest)))
			sum += w
			square += float64(w * w)
		}
	}
	return sum * sum / square
}

func greatestOf(log []float64) float64 {
	greatest := math.Inf(-1)
	for _, l := range log {
		greatest = max(greatest, l)
	}
	return greatest
}

// logMean is the logarithm of the mean of the likelihood to a power, -Inf of nothing possible.
func logMean(log []float64, power float64) float64 {
	greatest := greatestOf(log)
	if math.IsInf(greatest, -1) {
		return greatest
	}
	sum := 0.0
	for _, l := range log {
		sum += portable.Exp(float64(power * (l - greatest)))
	}
	return float64(power*greatest) + portable.Log(sum/float64(len(log)))
}

// Weights are those by which a population goes on; all nil where none of its rows is possible.
func (t *Tempering) Weights(p *Population) []float64 {
	weight, greatest := make([]float64, p.Rows()), greatestOf(p.Value)
	if math.IsInf(greatest, -1) {
		return weight
	}
	for i, l := range p.Value {
		weight[i] = portable.Exp(float64(t.By * (l - greatest)))
	}
	return weight
}

// Accept takes moves by the likelihood to the present power (Metropolis and others, 1953).
func (t *Tempering) Accept() Accept {
	power := t.Power
	return func(from, to, u float64) bool { return portable.Log(u) < float64(power*(to-from)) }
}

// Shares are what each population counts, the greatest 1, and the logarithm of the mean
// likelihood of all.
func (t *Tempering) Shares() (share []float64, logEvidence float64) {
	greatest := greatestOf(t.LogZ)
	share = make([]float64, len(t.LogZ))
	for k, l := range t.LogZ {
		share[k] = portable.Exp(l - greatest)
	}
	return share, greatest + portable.Log(mean(share))
}
