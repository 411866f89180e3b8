package analyse

import (
	"cmp"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/sensitivity"
)

// A distance takes some milliseconds whatever the rows. So they are for the inputs that
// have most of each output, about mostDistances in all, from mostDistanceRows; where that
// are more than the budget has, for the pairs of those with the greatest share. A margin
// has the distances of what it is the margin of.
const (
	mostDistances    = 30
	leastOfEach      = 2
	mostDistanceRows = 4096
)

// choose finds the inputs of each output whose distances are looked at.
func (g *GivenData) choose() {
	g.chosen = make([][]bool, len(g.inputs))
	for i := range g.chosen {
		g.chosen[i] = make([]bool, len(g.Plan.Index.Targets))
	}
	each := max(leastOfEach, mostDistances/max(1, len(g.Plan.Index.Outputs)))
	var pairs [][2]int // a single and a target
	for t, target := range g.Plan.Index.Targets {
		if target.Of != plan.OfOutput {
			continue
		}
		order := g.strongest(t)
		for _, i := range order[:min(each, len(order))] {
			pairs = append(pairs, [2]int{i, t})
		}
	}
	high := func(p [2]int) float64 { return g.found[p[0]][p[1]].first.High }
	slices.SortStableFunc(pairs, func(p, q [2]int) int { return cmp.Compare(high(q), high(p)) })
	told := min(g.Budget.distances(), len(pairs))
	for _, p := range pairs[:told] {
		g.chosen[p[0]][p[1]] = true
	}
	if told < len(pairs) {
		g.leave("distances of distributions", told, len(pairs))
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
