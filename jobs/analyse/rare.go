package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/sensitivity/estimate"
	"proofmass/sensitivity/sequential"
)

// rare begins the climbs towards claims of which the sample's rows tell too little.
func (a *Analyst) rare() ([]plan.Climb, error) {
	held, rows := make([]int, len(a.Plan.Claims)), 0
	err := a.forEach(len(held), func(i int, read reader, _ *estimate.Scratch) error {
		x, err := read(a.Plan.Claims[i].Name)
		if err != nil {
			return err
		}
		if i == 0 {
			rows = x.Rows()
		}
		return x.Each(0, x.Rows(), func(piece []float64) error {
			for _, holds := range piece {
				if holds == 1 {
					held[i]++
				}
			}
			return nil
		})
	})
	return a.Plan.Climbs(held, rows), err
}

// beginClimbs makes room for what a step of climbs gives.
func (j *joined) beginClimbs(step *plan.Step) {
	j.climbs, j.moved = slices.Clone(step.Climbs), make([][]run.Moved, len(step.Climbs))
	for _, e := range step.Moved() {
		j.moved[e] = make([]run.Moved, sequential.Populations)
	}
	for _, s := range step.Rounds[0].Slices {
		j.climbs[s.Climb].Runs += s.Rows * step.Each()
	}
}

// tellClimbs takes each climb of a step to the level that its rows have come to.
func (j *joined) tellClimbs(least float64) {
	for e, moved := range j.moved {
		if moved == nil {
			continue
		}
		c := &j.climbs[e]
		populations, accepted, moves := gathered(moved, sequential.ClimbMoves)
		if len(c.State.Levels) == 0 {
			moves = 0 // they were drawn
		}
		c.State.Levels = slices.Clone(c.State.Levels)
		c.State.Tell(populations, accepted, moves, least)
		c.Populations = nil
		for k := range populations {
			if !c.State.Done {
				c.Populations = append(c.Populations, c.State.Beyond(&populations[k]))
			}
		}
	}
	j.moved = nil
}

// gathered are the populations of a step, how many moves of their rows were accepted, and how
// many were made, so many a row.
func gathered(moved []run.Moved, each int) (populations []sequential.Population, accepted, moves int) {
	for k := range moved {
		populations = append(populations, moved[k].Population)
		accepted += moved[k].Accepted
		moves += moved[k].Rows() * each
	}
	return populations, accepted, moves
}

// Rare makes the rows of rare.parquet: a level of each climb. It must come before Claims, which
// takes their chances from them and notes in them which it took.
func (a *Analyst) Rare() []result.RareRow {
	if len(a.joined.climbs) == 0 {
		return a.rareRows
	}
	a.rareRows = nil
	for i := range a.joined.climbs {
		a.rareRows = append(a.rareRows, a.climbRows(&a.joined.climbs[i])...)
	}
	return a.rareRows
}

// SetRare says what an earlier run found of rare claims.
func (a *Analyst) SetRare(rows []result.RareRow) { a.rareRows = rows }

func (a *Analyst) climbRows(c *plan.Climb) []result.RareRow {
	claim := &a.Plan.Claims[c.Claim]
	var rows []result.RareRow
	for k, l := range c.State.Levels {
		sofar := sequential.Climb{Levels: c.State.Levels[:k+1]}
		chance, i := a.chanceOf(sofar.Chances())
		row := result.RareRow{Claim: claim.Name, Turning: result.TurnsToHold, Level: int64(k + 1), At: claim.Unit.DeltaFromSI(l.At), Unit: claim.Unit.String(),
			Chance: chance, Low: i.Low, High: i.High, Taken: l.Taken, Step: l.Step, ModelRuns: int64(c.Runs)}
		if c.Fails {
			row.Turning, row.At = result.TurnsToFail, -row.At
		}
		if l.At == sequential.Event {
			row.At, row.Reached = math.NaN(), 1
		}
		if k == 0 {
			row.Taken, row.Step = math.NaN(), math.NaN()
		}
		for _, share := range l.Shares {
			row.Share += share / float64(len(l.Shares))
			if share > 0 {
				row.Populations++
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// chanceOf is the mean of what the populations say, and its interval.
func (a *Analyst) chanceOf(each []float64) (float64, estimate.Interval) {
	sum := 0.0
	for _, p := range each {
		sum += p
	}
	p, half := sum/float64(len(each)), estimate.HalfWidth(each, a.Plan.Study.Level)
	return p, estimate.Interval{Low: max(0, p-half), High: min(1, p+half)}
}

// addRare takes the chance of a rare claim from its climb, where both agree: what plain rows say
// is a check of it. A climb that did not come to its end says only below what the chance lies.
func (a *Analyst) addRare(row *result.ClaimRow) {
	last := -1
	for i := range a.rareRows {
		if a.rareRows[i].Claim == row.Claim {
			last = i
		}
	}
	if last < 0 || row.Method == result.ChanceMethod(estimate.MethodNone) {
		return
	}
	r := &a.rareRows[last]
	chance, low, high := r.Chance, r.Low, r.High
	n := row.Held
	if r.Turning == result.TurnsToFail {
		n = row.Rows - row.Held
	}
	if r.Reached == 0 {
		chance, low = 0, 0
	}
	width := high - r.Chance
	if r.Turning == result.TurnsToFail {
		chance, low, high = 1-chance, 1-high, 1-low
	}
	r.Used = 0
	if low > row.ChanceHigh || high < row.ChanceLow || r.Reached == 0 && n > 0 {
		return
	}
	r.Used = 1
	row.Chance, row.ChanceLow, row.ChanceHigh, row.Method = chance, low, high, result.RareChance
	se := width / estimate.StudentQuantile(a.Plan.Study.Level, sequential.Populations-1)
	row.EffectiveRows = math.NaN()
	if r.Reached == 1 && se > 0 {
		row.EffectiveRows = r.Chance * (1 - r.Chance) / (se * se)
	}
}
