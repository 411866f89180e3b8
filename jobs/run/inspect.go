package run

import "proofmass/jobs/plan"

// Inspect evaluates the first rows of the sample, one block at most, from as many
// replicates as that takes: what is looked at without bounds, then every output of the
// plan's program. Columns are in SI.
func (r *Runner) Inspect(x *plan.Inspection) (raw, kept [][]float64) {
	d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample}
	n := min(block, r.Plan.Sample.Rows)
	own := r.Plan.Program.NewWorker(n)
	into := inputColumns(own, len(r.Plan.Drawn))
	for _, s := range r.Plan.Sample.Slices {
		if s.First >= n {
			break
		}
		rest := make([][]float64, len(into))
		for i, column := range into {
			rest[i] = column[s.First:]
		}
		d.draw(rest, min(s.Rows, n-s.First), s.Replicate, s.From)
	}
	own.Run(n)
	for output := range r.Plan.Program.Outputs() {
		kept = append(kept, own.Output(output)[:n])
	}
	free := x.Program.NewWorker(n)
	for i, drawn := range x.Inputs {
		copy(free.Input(i), own.Input(drawn)[:n])
	}
	free.Run(n)
	for output := range x.Program.Outputs() {
		raw = append(raw, free.Output(output)[:n])
	}
	return raw, kept
}
