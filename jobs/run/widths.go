package run

import (
	"context"
	"math"

	"proofmass/jobs/plan"
	"proofmass/model/unit"
	"proofmass/sampling/portable"
	"proofmass/sensitivity/estimate"
)

// fewestWeighted is the effective number of rows after what was measured below which a chance
// with other widths is not told. Common practice, no source.
const fewestWeighted = 200

// Holding tells the share of the draws in which each claim of a plan holds, among the first of each
// replicate of the sample: the same points as without other widths. What was measured weighs
// them again; where it leaves too few the shares are NaN. Evidence is the logarithm of the mean
// likelihood, 0 without facts; rows are the effective ones. It writes nothing.
func (r *Runner) Holding(ctx context.Context, p *plan.Plan) (h Holding, err error) {
	var wanted []Wanted
	for _, c := range p.Claims {
		wanted = append(wanted, Wanted{c.Holds, unit.SI(unit.One)})
	}
	f, err := r.FirstRows(ctx, p, plan.WidthRows, wanted)
	if err != nil {
		return h, err
	}
	weight, evidence := f.Weights()
	var all estimate.Weighing
	for _, w := range weight {
		all.Add(w, false)
	}
	h = Holding{Rows: all.Kish(), Shares: make([]float64, len(wanted)), Evidence: evidence}
	for c, column := range f.Columns {
		h.Shares[c] = nan
		if !(h.Rows >= min(fewestWeighted, float64(len(weight)))) {
			continue
		}
		var claim estimate.Weighing
		for i, holds := range column {
			claim.Add(weight[i], holds == 1)
		}
		h.Shares[c] = claim.Held / claim.All
	}
	return h, nil
}

// A Holding is the shares of the draws in which each claim holds.
type Holding struct {
	Rows     float64 // effective ones
	Shares   []float64
	Evidence float64
}

// Weights are those of the rows after what was measured, the greatest 1, and the logarithm of
// the mean likelihood; all 1 and 0 without facts, all 0 and -Inf where every likelihood is nil.
func (f *First) Weights() (weight []float64, evidence float64) {
	rows := f.Bounds[len(f.Bounds)-1]
	weight = make([]float64, rows)
	if f.Log == nil {
		for i := range weight {
			weight[i] = 1
		}
		return weight, 0
	}
	greatest, sum := math.Inf(-1), 0.0
	for _, l := range f.Log {
		greatest = max(greatest, l)
	}
	if math.IsInf(greatest, -1) {
		return weight, greatest
	}
	for i, l := range f.Log {
		weight[i] = portable.Exp(l - greatest)
		sum += weight[i]
	}
	return weight, greatest + portable.Log(sum/float64(rows))
}

var nan = math.NaN()
