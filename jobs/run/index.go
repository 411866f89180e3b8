package run

import (
	"context"

	"proofmass/jobs/plan"
	"proofmass/model"
	"proofmass/sensitivity"
)

// Index evaluates the pairs of rows that variance-based indices need: every row
// of design A, of design B, and of A with one factor's columns taken from B.
// centre has a value near the middle of each asked output. The sums are joined in
// the order of the slices.
func (r *Runner) Index(ctx context.Context, centre []float64) (*sensitivity.PickFreeze, error) {
	ix := &r.Plan.Index
	all := sensitivity.NewPickFreeze(len(ix.Swapped), len(ix.Outputs), ix.Replicates, centre)
	sums := make([]*sensitivity.PickFreezeSums, len(ix.Slices))
	err := r.each(ctx, ix.Slices, func() (task, error) {
		w := newIndexer(r, &drawer{plan: r.Plan, design: ix.Design, round: ix.Number})
		return func(s plan.Slice) error {
			sums[s.Number] = all.NewSums()
			w.slice(s, sums[s.Number])
			return nil
		}, nil
	})
	if err != nil {
		return nil, err
	}
	for i, s := range ix.Slices {
		all.Join(s.Replicate, sums[i])
	}
	return all, nil
}

// indexer is one worker's columns for a block of base rows.
type indexer struct {
	*Runner
	drawer *drawer
	worker *model.Worker
	every  []int       // all inputs
	a, b   [][]float64 // designs A and B, a column an input
	swap   [][]float64 // the columns of a factor
	fA, fB [][]float64 // a column an asked output
}

func newIndexer(r *Runner, d *drawer) *indexer {
	inputs, outputs := len(r.Plan.Drawn), len(r.Plan.Index.Outputs)
	w := &indexer{Runner: r, drawer: d, worker: r.Plan.Program.NewWorker(block),
		every: make([]int, inputs), b: columns(inputs, block), fA: columns(outputs, block), fB: columns(outputs, block)}
	for i := range w.every {
		w.every[i] = i
	}
	w.a = inputColumns(w.worker, inputs)
	return w
}

func (w *indexer) slice(s plan.Slice, sums *sensitivity.PickFreezeSums) {
	for done := 0; done < s.Rows; done += block {
		n := min(block, s.Rows-done)
		w.base(s, s.From+done, n)
		for o := range w.fA {
			sums.AddBase(o, w.fA[o][:n], w.fB[o][:n])
		}
		for i, f := range w.Plan.Index.Swapped {
			w.swapped(i, &w.Plan.Factors[f], n, sums)
		}
		w.tick(n * (len(w.Plan.Index.Swapped) + 2))
	}
}

// base evaluates n rows of A and of B.
func (w *indexer) base(s plan.Slice, from, n int) {
	w.drawer.purpose = plan.PurposeA
	w.drawer.draw(w.a, n, s.Replicate, from)
	w.drawer.purpose = plan.PurposeB
	w.drawer.draw(w.b, n, s.Replicate, from)
	w.worker.Run(n)
	w.worker.RunSwapped(w.every, w.b, n)
	for o, output := range w.Plan.Index.Outputs {
		copy(w.fA[o], w.worker.Output(output)[:n])
		copy(w.fB[o], w.worker.SwappedOutput(output)[:n])
	}
}

// swapped evaluates n rows of A with factor f's columns from B and adds what
// they tell of every output that the factor reaches.
func (w *indexer) swapped(number int, f *plan.Factor, n int, sums *sensitivity.PickFreezeSums) {
	w.swap = w.swap[:0]
	for _, i := range f.Inputs {
		w.swap = append(w.swap, w.b[i])
	}
	w.worker.RunSwapped(f.Inputs, w.swap, n)
	for o, output := range w.Plan.Index.Outputs {
		if w.Plan.Reaches(*f, output) {
			sums.AddSwapped(number, o, w.fA[o][:n], w.fB[o][:n], w.worker.SwappedOutput(output)[:n])
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
