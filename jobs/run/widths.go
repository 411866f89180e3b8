package run

import (
	"context"

	"proofmass/jobs/plan"
)

// widthRows is how many draws of each replicate tell what other widths of guesses do to a
// chance: 16,384 in 16 replicates know it to half a point and better.
const widthRows = 1024

// WidthRows is how many draws that makes of a sample.
func WidthRows(sample plan.Round) int {
	all := 0
	for r := range sample.Replicates {
		all += min(widthRows, sample.Bound(r+1)-sample.Bound(r))
	}
	return all
}

// Held counts for each claim of a plan the draws in which it holds, among the first of each
// replicate of the sample: the same points as without other widths. It writes nothing.
func (r *Runner) Held(ctx context.Context, p *plan.Plan) ([]int, error) {
	replicates := p.Sample.Replicates
	counts := make([][]int, replicates)
	err := Each(ctx, r.Workers, replicates, func() (func(int) error, error) {
		d := &drawer{plan: p, design: p.Design, purpose: plan.PurposeSample, round: p.Sample.Number}
		worker := p.Program.NewWorker(block)
		inputs := inputColumns(worker, len(p.Drawn))
		return func(replicate int) error {
			held := make([]int, len(p.Claims))
			rows := min(widthRows, p.Sample.Bound(replicate+1)-p.Sample.Bound(replicate))
			for done := 0; done < rows; done += block {
				n := min(block, rows-done)
				d.draw(inputs, n, replicate, done)
				worker.Run(n)
				for c := range held {
					for _, holds := range worker.Output(p.Claims[c].Holds)[:n] {
						if holds == 1 {
							held[c]++
						}
					}
				}
			}
			counts[replicate] = held
			return nil
		}, nil
	})
	if err != nil {
		return nil, err
	}
	total := make([]int, len(p.Claims))
	for _, held := range counts {
		for c, n := range held {
			total[c] += n
		}
	}
	return total, nil
}
