package run

import (
	"slices"
	"time"

	"proofmass/jobs/plan"
)

// A Trial is what the work of a plan takes here and now, in seconds: the middle of some tries.
type Trial struct {
	Row  float64 // a row of the sample, drawn and evaluated in blocks as its slices have them
	Eval float64 // a row that is evaluated in full blocks
	Swap float64 // a run for sensitivity, summed; 0 without
}

// Try tries blocks of rows, each kind for about as long as patience, and some of the swaps.
// Nothing is kept. clock tells the time that is counted.
func (r *Runner) Try(patience time.Duration, clock func() time.Duration) Trial {
	own := *r
	own.Plan, _ = r.saving()
	rows, full := own.tryRows()
	t := Trial{Row: middle(patience, clock, rows), Eval: middle(patience, clock, full)}
	if r.Plan.Index.FirstRounds() > 0 {
		t.Swap = middle(patience, clock, own.trySwaps())
	}
	return t
}

// middle is what one of the units takes that a call of do counts.
func middle(patience time.Duration, clock func() time.Duration, do func() (units int)) float64 {
	do() // fills the caches
	var took []float64
	began := clock()
	for before := began; before-began < patience; before = clock() {
		units := do()
		took = append(took, (clock()-before).Seconds()/float64(units))
	}
	slices.Sort(took)
	return took[len(took)/2]
}

// tryRows are a block of the sample's first slice, drawn and evaluated, and as many rows as a
// block has, which are those again and again.
func (r *Runner) tryRows() (rows, full func() int) {
	d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample}
	w := r.Plan.Program.NewWorker(block)
	inputs, n := inputColumns(w, len(r.Plan.Drawn)), min(block, r.Plan.Sample.Slices[0].Rows)
	rows = func() int {
		d.draw(inputs, n, 0, 0)
		w.Run(n)
		return n
	}
	full = func() int {
		for _, column := range inputs {
			for i := n; i < block; i++ {
				column[i] = column[i-n]
			}
		}
		w.Run(block)
		return block
	}
	return rows, full
}

// trySwaps evaluates the first block of index rows with some of the swaps at each call.
func (r *Runner) trySwaps() func() int {
	const tried = 40
	round := r.Plan.IndexRound(0)
	w := &indexer{Runner: r, swaps: r.Plan.Index.Swaps, a: newSide(r, round, plan.PurposeA), b: newSide(r, round, plan.PurposeB)}
	sums := NewSwaps(&plan.Step{Plan: r.Plan, Swaps: w.swaps, Slots: 1}).NewSums()
	s := round.Slices[0]
	n := min(block, s.Rows)
	w.a.run(s, s.From, n)
	w.b.run(s, s.From, n)
	each := (len(w.swaps) + tried - 1) / tried
	return func() (runs int) {
		for i := 0; i < len(w.swaps); i += each {
			w.swapped(i, n, sums)
			runs += 2 * n
		}
		return runs
	}
}
