package run

import (
	"proofmass/jobs/plan"
	"proofmass/model"
	"proofmass/sensitivity"
)

// indexer is one worker's blocks of pairs of rows, which variance-based indices need: each
// row of design A and of design B, and both with the columns of one swap after the other
// exchanged between them.
type indexer struct {
	*Runner
	swaps []plan.Swap
	a, b  side
}

// side is one of the two designs.
type side struct {
	drawer *drawer
	worker *model.Worker
	inputs [][]float64 // a column an input
	lent   [][]float64 // the columns of the other side that stand in for some of them
}

func newIndexer(r *Runner, step *plan.Step, round plan.Round) func(plan.Slice) (Part, error) {
	w := &indexer{Runner: r, swaps: step.Swaps, a: newSide(r, round, plan.PurposeA), b: newSide(r, round, plan.PurposeB)}
	all := NewSwaps(step)
	return func(s plan.Slice) (Part, error) {
		sums := all.NewSums()
		w.slice(s, sums)
		return sums, nil
	}
}

func newSide(r *Runner, round plan.Round, purpose string) side {
	s := side{worker: r.Plan.Program.NewWorker(block),
		drawer: &drawer{plan: r.Plan, design: r.Plan.Index.Design, purpose: purpose, round: round.Number}}
	s.inputs = inputColumns(s.worker, len(r.Plan.Drawn))
	return s
}

func (w *indexer) slice(s plan.Slice, sums *sensitivity.PickFreezeSums) {
	targets := w.Plan.Index.Targets
	for done := 0; done < s.Rows; done += block {
		n := min(block, s.Rows-done)
		w.a.run(s, s.From+done, n)
		w.b.run(s, s.From+done, n)
		for t, target := range targets {
			sums.AddBase(t, w.a.worker.Output(target.Output)[:n], w.b.worker.Output(target.Output)[:n])
		}
		for i := range w.swaps {
			w.swapped(i, n, sums)
		}
		w.tick(n * (2*len(w.swaps) + 2))
	}
}

// run draws and evaluates n rows.
func (d *side) run(s plan.Slice, from, n int) {
	d.drawer.draw(d.inputs, n, s.Replicate, from)
	d.worker.Run(n)
}

// swap evaluates n rows with the given inputs' columns from the other side.
func (d *side) swap(inputs []int, other *side, n int) {
	d.lent = d.lent[:0]
	for _, i := range inputs {
		d.lent = append(d.lent, other.inputs[i])
	}
	d.worker.RunSwapped(inputs, d.lent, n)
}

// swapped evaluates n rows of both sides with one swap and adds what they tell of
// every target that it reaches.
func (w *indexer) swapped(number, n int, sums *sensitivity.PickFreezeSums) {
	s := &w.swaps[number]
	w.a.swap(s.Inputs, &w.b, n)
	w.b.swap(s.Inputs, &w.a, n)
	for t, target := range w.Plan.Index.Targets {
		if o := target.Output; w.Plan.Reaches(s.Factor, o) {
			a, b := w.a.worker, w.b.worker
			sums.AddSwapped(number, t, a.Output(o)[:n], b.Output(o)[:n], a.SwappedOutput(o)[:n], b.SwappedOutput(o)[:n])
		}
	}
}

func columns(count, rows int) [][]float64 {
	c := make([][]float64, count)
	for i := range c {
		c[i] = make([]float64, rows)
	}
	return c
}
