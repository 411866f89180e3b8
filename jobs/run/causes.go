package run

import (
	"context"

	"proofmass/jobs/plan"
)

// causeRows is how many draws of each replicate the causes of a gain are told from: the
// first, of each. Their shares have far less spread than what they divide.
const causeRows = 256

// CauseBounds are where the replicates of the rows of Evaluate begin and end.
func CauseBounds(sample plan.Round) []int {
	bounds := make([]int, sample.Replicates+1)
	for r := range sample.Replicates {
		bounds[r+1] = bounds[r] + min(causeRows, sample.Bound(r+1)-sample.Bound(r))
	}
	return bounds
}

// CauseBounds are those of the rows of Evaluate: of the sample, or of the rows after what was
// measured.
func (x *Tempered) CauseBounds(sample plan.Round) []int {
	if x == nil {
		return CauseBounds(sample)
	}
	bounds := make([]int, len(x.Bounds))
	for k := range x.Bounds[1:] {
		bounds[k+1] = bounds[k] + min(causeRows, x.Bounds[k+1]-x.Bounds[k])
	}
	return bounds
}

// Evaluate runs a program over the first rows of each replicate of the sample: a column of SI
// values for each of its outputs. It writes nothing.
func (r *Runner) Evaluate(ctx context.Context, e *plan.Evaluation) ([][]float64, error) {
	bounds := r.After.CauseBounds(r.Plan.Sample)
	values := columns(len(e.Program.Outputs()), bounds[len(bounds)-1])
	err := Each(ctx, r.Workers, len(bounds)-1, func() (func(int) error, error) {
		d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample, round: r.Plan.Sample.Number}
		inputs, worker := columns(len(r.Plan.Drawn), causeRows), e.Program.NewWorker(causeRows)
		return func(replicate int) error {
			n := bounds[replicate+1] - bounds[replicate]
			if x := r.After; x != nil {
				d.place(inputs, x.Scores, x.Rows[x.Bounds[replicate]:x.Bounds[replicate]+n])
			} else {
				d.draw(inputs, n, replicate, 0)
			}
			for i, drawn := range e.Inputs {
				copy(worker.Input(i), inputs[drawn][:n])
			}
			worker.Run(n)
			for k := range values {
				copy(values[k][bounds[replicate]:], worker.Output(k)[:n])
			}
			return nil
		}, nil
	})
	return values, err
}
