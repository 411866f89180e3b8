package run

import (
	"proofmass/jobs/plan"
	"proofmass/sensitivity"
)

// newScreener evaluates the few rows of screening: each row of one design, and the same
// row with each factor in turn from another. Inputs of the part are the factors among the
// plan's swaps, outputs its screened targets.
func newScreener(r *Runner, step *plan.Step) func(plan.Slice) (Part, error) {
	w := &screener{Runner: r, a: r.screenSide(plan.PurposeScreenA), b: r.screenSide(plan.PurposeScreenB),
		from: make([]float64, block), to: make([]float64, block)}
	all := NewEffects(step)
	return func(s plan.Slice) (Part, error) {
		sums := all.NewSums()
		w.slice(s, sums)
		return sums, nil
	}
}

func (r *Runner) screenSide(purpose string) side {
	s := newSide(r, r.Plan.Index.Screening.Round, purpose)
	s.drawer.design = r.Plan.Index.Screening.Design
	return s
}

type screener struct {
	*Runner
	a, b     side
	from, to []float64 // points of one input in A and in B
}

func (w *screener) slice(s plan.Slice, sums *sensitivity.EffectsSums) {
	screening := &w.Plan.Index.Screening
	for done := 0; done < s.Rows; done += block {
		n := min(block, s.Rows-done)
		w.a.run(s, s.From+done, n)
		w.b.drawer.draw(w.b.inputs, n, s.Replicate, s.From+done)
		for i, f := range screening.Factors {
			w.a.drawer.points(w.from[:n], f.Inputs[0], s.Replicate, s.From+done)
			w.b.drawer.points(w.to[:n], f.Inputs[0], s.Replicate, s.From+done)
			w.a.swap(f.Inputs, &w.b, n)
			for t, target := range screening.Targets {
				if o := target.Output; w.Plan.Reaches(f, o) {
					sums.Add(i, t, w.from[:n], w.to[:n], w.a.worker.Output(o)[:n], w.a.worker.SwappedOutput(o)[:n])
				}
			}
		}
		w.tick(n * screening.Each())
	}
}
