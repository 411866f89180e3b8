package analyse

import (
	"math"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/sensitivity/estimate"
	"proofmass/sensitivity/sequential"
)

// temper begins a tempering where the weights of the sample's rows are poor, but for facts that
// contradict what is believed and leave next to no row: nothing lies between the two.
func (a *Analyst) temper() (*plan.Tempering, error) {
	if a.Plan.Choosing != nil {
		return nil, nil
	}
	m, err := a.likely()
	if err != nil {
		return nil, err
	}
	t := a.Plan.NewTempering(m.rows, m.health.ESS, m.health.Poor())
	if t == nil || m.health.ESS >= fewestEffective {
		return t, nil
	}
	prior, err := a.percentiles(false)
	for _, p := range prior {
		if plan.Contradicts(p) || p != p {
			return nil, err
		}
	}
	return t, err
}

func (j *joined) beginTempering(step *plan.Step) {
	t := *step.Tempering
	t.Runs += step.Runs()
	j.tempering, j.moved = &t, [][]run.Moved{make([]run.Moved, sequential.Populations)}
}

// tellTempering takes the tempering to the next power.
func (j *joined) tellTempering() {
	t := j.tempering
	populations, accepted, moves := gathered(j.moved[0], sequential.TemperMoves)
	if len(t.State.Powers) == 0 {
		moves = 0 // they were drawn
	}
	t.State.LogZ = append([]float64{}, t.State.LogZ...)
	t.State.Tell(populations, accepted, moves)
	for k := range populations {
		if !t.State.Done && math.IsInf(t.State.LogZ[k], -1) {
			populations[k] = sequential.Population{} // none of its rows is possible
		}
	}
	t.Populations, j.moved = populations, nil
}

// Tempered are the rows that populations were moved to, nil where weights do.
func (a *Analyst) Tempered() *run.Tempered {
	if !a.joined.tempering.After() {
		return nil
	}
	return run.NewTempered(a.joined.tempering)
}

// temperedEvidence says in the rows of the facts, and for the manifest, how populations took them
// in, where weights would have left so few effective rows.
func (a *Analyst) temperedEvidence(rows []result.EvidenceRow, weighed float64) (*result.Weights, error) {
	t := a.joined.tempering
	x := run.NewTempered(t)
	h, err := estimate.WeightHealth(estimate.Values(x.Weight))
	_, evidence := t.State.Shares()
	for i := range rows {
		r := &rows[i]
		r.ESS, r.LargestShare, r.LogEvidence, r.Method = h.ESS, h.LargestShare, evidence, result.ByTempering
	}
	return &result.Weights{Facts: len(rows), ESS: h.ESS, LargestShare: h.LargestShare, ParetoLimit: h.Limit, LogEvidence: evidence, Method: result.ByTempering,
		Weighed: weighed, Rows: len(x.Rows), Rounds: len(t.State.Powers), ModelRuns: t.Runs}, err
}

// GoAfter has all that follows made of the rows of a file: those that populations were moved to
// after what was measured. Their weights are what their populations count.
func (a *Analyst) GoAfter(path string, x *run.Tempered) error {
	h, err := estimate.WeightHealth(estimate.Values(x.Weight))
	h.ParetoK = math.NaN() // no tail: a weight a population
	a.paths, a.slices, a.bounds = []string{path}, nil, x.Bounds
	a.measured = &measured{rows: len(x.Rows), health: h, moved: true}
	return err
}

// weightColumn is that of samples with what a row counts.
const weightColumn = "weight"

// causeBounds are where the replicates of the rows begin and end by which causes are told.
func (a *Analyst) causeBounds() []int {
	if a.measured == nil || !a.measured.moved {
		return run.CauseBounds(a.Plan.Sample)
	}
	return (&run.Tempered{Bounds: a.bounds}).CauseBounds(a.Plan.Sample)
}
