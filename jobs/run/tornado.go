package run

import (
	"slices"

	"proofmass/jobs/plan"
)

// newPointer evaluates single points: each column of points is that of a drawn input, in
// SI. A slice gives its rows of the outputs.
func newPointer(r *Runner, points [][]float64, outputs []int) func(plan.Slice) (Part, error) {
	w := r.Plan.Program.NewWorker(block)
	return func(s plan.Slice) (Part, error) {
		at := columns(len(outputs), s.Rows)
		for done := 0; done < s.Rows; done += block {
			n := min(block, s.Rows-done)
			for i, column := range points {
				copy(w.Input(i), column[s.First+done:s.First+done+n])
			}
			w.Run(n)
			for o, output := range outputs {
				copy(at[o][done:], w.Output(output)[:n])
			}
			r.tick(n)
		}
		return &Points{at}, nil
	}
}

// Row evaluates one row of the sample, counted through its rounds, and returns every output of the
// program, in SI.
func (r *Runner) Row(row int) []float64 {
	round := r.Plan.SampleRound(row / r.Plan.Sample.Rows)
	row -= round.FirstRow
	d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample, round: round.Number}
	p, _ := r.saving()
	w := p.Program.NewWorker(1)
	replicate := 0
	for round.Bound(replicate+1) <= row {
		replicate++
	}
	d.draw(inputColumns(w, len(r.Plan.Drawn)), 1, replicate, row-round.Bound(replicate))
	w.Run(1)
	values := make([]float64, len(r.Plan.Program.Outputs()))
	for o := range values {
		values[o] = w.Output(o)[0]
	}
	return values
}

// Only evaluates the first rows of the sample's first replicate, at most those of a block,
// with every drawn input but those in moved at its median: a column an output, in SI.
func (r *Runner) Only(moved []int, outputs []int) [][]float64 {
	d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample}
	w := r.Plan.Program.NewWorker(block)
	n := min(block, r.Plan.Sample.Bound(1))
	inputs := inputColumns(w, len(r.Plan.Drawn))
	d.draw(inputs, n, 0, 0)
	for i, in := range r.Plan.Drawn {
		if slices.Contains(moved, i) {
			continue
		}
		median := in.Marginal.Quantile(0.5)
		for k := range n {
			inputs[i][k] = median
		}
	}
	w.Run(n)
	at := columns(len(outputs), n)
	for o, output := range outputs {
		copy(at[o], w.Output(output)[:n])
	}
	return at
}
