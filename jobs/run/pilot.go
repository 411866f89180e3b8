package run

import (
	"math"

	"proofmass/jobs/plan"
	"proofmass/model"
)

// pilotRows are enough that few rows lie far beyond the lowest and the highest of them.
const pilotRows = 4096

// Pilot evaluates the first rows of the sample, and gives the lowest and the highest value
// of each output of the pilot's program, in SI.
func (r *Runner) Pilot(x *plan.Pilot) (lowest, highest []float64) {
	d := &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample}
	drawn := columns(len(r.Plan.Drawn), block)
	w := x.Program.NewWorker(block)
	for range x.Program.Outputs() {
		lowest, highest = append(lowest, math.Inf(1)), append(highest, math.Inf(-1))
	}
	rows, some := pilotRows, r.Plan.SomeChoices()
	if len(some) > 1 {
		rows = max(block, pilotRows/len(some))
	}
	for _, choice := range some {
		if choice > 0 {
			d.plan = r.Plan.ForChoice(choice)
		}
		r.look(x, w, d, drawn, rows, lowest, highest)
	}
	return lowest, highest
}

// look widens the lowest and highest values by those of the first rows.
func (r *Runner) look(x *plan.Pilot, w *model.Worker, d *drawer, drawn [][]float64, rows int, lowest, highest []float64) {
	for _, s := range r.Plan.Sample.Slices {
		for done := 0; done < s.Rows && s.First+done < rows; done += block {
			n := min(block, s.Rows-done)
			d.draw(drawn, n, s.Replicate, s.From+done)
			for i, input := range x.Inputs {
				copy(w.Input(i), drawn[input][:n])
			}
			w.Run(n)
			for o := range lowest {
				for _, v := range w.Output(o)[:n] {
					if v == v {
						lowest[o], highest[o] = min(lowest[o], v), max(highest[o], v)
					}
				}
			}
		}
	}
}
