package run

import (
	"proofmass/jobs/plan"
	"proofmass/sampling"
)

// drawer fills columns of inputs from a design.
type drawer struct {
	plan    *plan.Plan
	design  sampling.Design
	purpose string
	round   int
}

// draw fills x with the SI values of input number i in rows [from, from+len(x))
// of a replicate. A value outside the quantity's limits is infeasible.
func (d *drawer) draw(x []float64, i, replicate, from int) {
	in := &d.plan.Drawn[i]
	d.design.Fill(x, d.purpose, in.Name, d.round, replicate, from)
	in.Marginal.Fill(x, x)
	plan.Limit(x, in.Low, in.High)
}
