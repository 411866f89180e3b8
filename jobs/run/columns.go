package run

import (
	"context"

	"proofmass/jobs/plan"
)

// Columns evaluates the first round of the sample and keeps it in memory: a column of SI
// values for each of these outputs of the program. It writes nothing.
func (r *Runner) Columns(ctx context.Context, outputs []int) ([][]float64, error) {
	round := r.Plan.Sample
	columns := make([][]float64, len(outputs))
	for i := range columns {
		columns[i] = make([]float64, round.Rows)
	}
	err := Each(ctx, r.Workers, len(round.Slices), func() (func(int) error, error) {
		d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample, round: round.Number}
		w := r.Plan.Program.NewWorker(block)
		inputs := inputColumns(w, len(r.Plan.Drawn))
		return func(i int) error {
			s := round.Slices[i]
			for done := 0; done < s.Rows; done += block {
				n := min(block, s.Rows-done)
				d.draw(inputs, n, s.Replicate, s.From+done)
				w.Run(n)
				for k, output := range outputs {
					copy(columns[k][s.First+done:], w.Output(output)[:n])
				}
				r.tick(n)
			}
			return nil
		}, nil
	})
	return columns, err
}
