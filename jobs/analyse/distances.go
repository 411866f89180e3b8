package analyse

import (
	"cmp"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/sensitivity"
)

// A distance takes some milliseconds whatever the rows. So they are for the inputs that
// have most of each output, about mostDistances in all, from mostDistanceRows. A margin
// has the distances of what it is the margin of.
const (
	mostDistances    = 30
	leastOfEach      = 2
	mostDistanceRows = 4096
)

// choose finds the inputs of each output whose distances are looked at.
func (g *GivenData) choose() {
	g.chosen = make([][]bool, len(g.singles))
	for i := range g.chosen {
		g.chosen[i] = make([]bool, len(g.Plan.Index.Targets))
	}
	each := max(leastOfEach, mostDistances/max(1, len(g.Plan.Index.Outputs)))
	for t, target := range g.Plan.Index.Targets {
		if target.Of != plan.OfOutput {
			continue
		}
		var reaching []int
		for i := range g.singles {
			if g.found[i][t].reaches {
				reaching = append(reaching, i)
			}
		}
		slices.SortStableFunc(reaching, func(a, b int) int { return cmp.Compare(g.found[b][t].first.High, g.found[a][t].first.High) })
		for _, i := range reaching[:min(each, len(reaching))] {
			g.chosen[i][t] = true
		}
	}
}

// distances compares the distribution of outputs given one input with the whole one.
func (g *GivenData) distances(i int, x []float64) error {
	classes, err := sensitivity.NewClasses(g.apart.of(x), g.apart.design)
	if err != nil {
		return err
	}
	for t, chosen := range g.chosen[i] {
		if chosen {
			d := classes.Of(g.apart.of(g.targets[t])).Distance(g.Plan.Study.Level)
			g.found[i][t].distances = &d
		}
	}
	return nil
}
