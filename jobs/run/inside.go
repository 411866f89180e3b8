package run

import "proofmass/jobs/plan"

// insideRows is how many draws show what is inside: enough for a figure, whose ends of nine
// in ten draws they give to a twentieth of the range.
const insideRows = 2048

// Inside evaluates the first rows of the sample: a column for each that is to be shown, in
// SI.
func (r *Runner) Inside(x *plan.Inside) [][]float64 {
	d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample}
	n := min(insideRows, r.Plan.Sample.Rows)
	inputs, worker := columns(len(r.Plan.Drawn), min(block, n)), x.Program.NewWorker(min(block, n))
	shown := columns(len(x.Columns), n)
	if after := r.After; after != nil {
		n = min(n, len(after.Rows))
		for from := 0; from < n; from += block {
			rows := min(block, n-from)
			d.place(inputs, after.Scores, after.Rows[from:from+rows])
			for i, drawn := range x.Inputs {
				copy(worker.Input(i), inputs[drawn][:rows])
			}
			worker.Run(rows)
			for i, c := range x.Columns {
				copy(shown[i][from:], worker.Output(c.Output)[:rows])
			}
		}
		return shown
	}
	for _, s := range r.Plan.Sample.Slices {
		for done := 0; done < s.Rows && s.First+done < n; {
			rows := min(block, s.Rows-done, n-s.First-done)
			d.draw(inputs, rows, s.Replicate, s.From+done)
			for i, drawn := range x.Inputs {
				copy(worker.Input(i), inputs[drawn][:rows])
			}
			worker.Run(rows)
			for i, c := range x.Columns {
				copy(shown[i][s.First+done:], worker.Output(c.Output)[:rows])
			}
			done += rows
		}
	}
	return shown
}
