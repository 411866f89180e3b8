package run

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/study"
	"proofmass/sensitivity/estimate"
)

// Figures finds those by which choices are compared. One goroutine at a time.
type Figures struct {
	Plan   *plan.Plan
	sorted []float64 // of a part, for its percentile
}

// Of are the figures of each replicate of a slice, whose stored columns, in display units and
// by their place in the plan, are given; nil where nothing is compared.
func (x *Figures) Of(s plan.Slice, stored func(int) []float64) [][]float64 {
	if x.Plan.Choosing == nil || len(x.Plan.Choosing.Figures) == 0 {
		return nil
	}
	all := make([][]float64, len(x.Plan.Choosing.Figures))
	for f := range all {
		figure := &x.Plan.Choosing.Figures[f]
		column := stored(figure.Stored)
		for _, part := range s.Pieces() {
			all[f] = append(all[f], x.of(figure, column[:part.Rows]))
			column = column[part.Rows:]
		}
	}
	return all
}

// of is the figure of one replicate: a chance counts what is infeasible as failed, all others
// leave it out.
func (x *Figures) of(f *plan.ChoiceFigure, column []float64) float64 {
	x.sorted = x.sorted[:0]
	sum := 0.0
	for _, v := range column {
		if v == v {
			sum += v
			x.sorted = append(x.sorted, v)
		}
	}
	switch n := len(x.sorted); {
	case f.At == study.AtChance:
		return sum / float64(len(column))
	case n == 0:
		return math.NaN()
	case f.At == study.AtMean:
		return sum / float64(n)
	}
	slices.Sort(x.sorted)
	return estimate.Percentile(x.sorted, f.Share())
}
