package analyse

import "proofmass/jobs/plan"

// RowCounts are how many rows the tables of sensitivity will have, as far as a plan tells:
// its rounds without those of pairs, which depend on what is found.
type RowCounts struct {
	Indices, Bars, Curves int
	Reached               int // pairs of a factor and a target
	Told                  int // of those, from the sample's own rows
}

// What a curve takes, and how many of an output are usually worth one: they depend on what
// is found.
const (
	curveRows  = 20
	curvesEach = 8
)

// CountRows counts by the usual budget.
func CountRows(p *plan.Plan) RowCounts {
	var b Budget
	swapped := make([]bool, len(p.Factors))
	groups := 0
	for _, s := range p.Index.Swaps {
		if s.Number >= 0 {
			swapped[s.Number] = true
			continue
		}
		groups += reachedBy(p, s.Factor)
	}
	c := RowCounts{}
	unreached, alone := 0, 0
	for _, f := range p.Factors {
		n := reachedBy(p, f)
		c.Reached += n
		unreached += len(p.Index.Targets) - n
		for _, t := range p.Index.Targets {
			if t.Of == plan.OfOutput && p.Reaches(f, t.Output) {
				alone++
			}
		}
	}
	c.Told = min(c.Reached, b.pairs())
	c.Bars, c.Curves = alone+c.Told, curveRows*min(c.Told, curvesEach*len(p.Index.Targets))
	c.Indices = c.Told + 2*min(b.distances(), c.Told)
	inputs := len(p.StoredInputs())
	c.Indices += 2 * (inputs + 1) * min(b.fitted(inputs), len(p.Index.Targets))
	if p.Index.Rows > 0 {
		c.Indices += 2 * (unreached + groups)
		for f, factor := range p.Factors {
			if swapped[f] {
				c.Indices += 2 * reachedBy(p, factor)
			}
		}
	}
	if p.Index.Screening.Rows > 0 {
		for _, f := range p.Index.Screening.Factors {
			c.Indices += 3 * reachedBy(p, f)
		}
		for _, f := range p.Index.Aside {
			c.Indices += reachedBy(p, f)
		}
	}
	return c
}

// reachedBy is how many targets a factor reaches.
func reachedBy(p *plan.Plan, f plan.Factor) (n int) {
	for _, t := range p.Index.Targets {
		if p.Reaches(f, t.Output) {
			n++
		}
	}
	return n
}
