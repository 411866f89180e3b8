package plan

import "proofmass/sensitivity/sequential"

// A Tempering is where populations are on their way from what is believed of all inputs to what
// is believed after what was measured.
type Tempering struct {
	Rows        int   // of each population
	Scores      []int // the drawn inputs: those of a row's normal scores
	State       sequential.Tempering
	Populations []sequential.Population // none before the first round
	Runs        int                     // of the model
}

// Effective rows that weights must leave: so many, or such a share of fewer rows. Below it p05
// and p95 are vague, and p01 is not told.
const leastEffective, leastShare = 1000, 0.05

// NewTempering begins one where so many rows of the sample leave too few effective ones, or their
// weights have a tail too heavy to be relied on; nil where weights do. Of choices, and
// with rival accounts, each of which has weights of its own, there is none.
func (p *Plan) NewTempering(rows int, effective float64, heavy bool) *Tempering {
	if len(p.Facts) == 0 || p.Choosing != nil || len(p.Study.Accounts) > 0 || !heavy && effective >= min(leastEffective, leastShare*float64(rows)) {
		return nil
	}
	t := &Tempering{Rows: min(sequential.MostTempered, max(sequential.FewestTempered, rows/256))}
	for i := range p.Drawn {
		t.Scores = append(t.Scores, i)
	}
	return t
}

// After reports whether it came to what was measured.
func (t *Tempering) After() bool { return t != nil && t.State.Done }

// nextTempering is the next power of the likelihood, nil where there is none. A slice is one
// population.
func (p *Plan) nextTempering(j *Joined) *Step {
	t := j.Tempering
	if t == nil || t.State.Done || t.State.Failed {
		return nil
	}
	done := j.Rounds[Temper]
	r := Round{Number: done, Kind: Temper, Replicates: sequential.Populations}
	for k := range sequential.Populations {
		if done > 0 && t.Populations[k].Rows() == 0 {
			continue // it has died out
		}
		r.Slices = append(r.Slices, Slice{Number: len(r.Slices), Replicate: k, First: r.Rows, Rows: t.Rows})
		r.Rows += t.Rows
	}
	s := &Step{Kind: Temper, Plan: p, Rounds: []Round{r}, Tempering: t}
	if done > 0 {
		s.Moves = sequential.TemperMoves
	}
	return s
}
