package analyse

import (
	"cmp"
	"fmt"
)

// A Budget bounds what is told from the sample's own rows of a study with many inputs and
// outputs: what is left out costs nothing but its figures, and is said. 0 means the usual.
type Budget struct {
	Pairs     int // of an input and a target that it reaches: 20,000
	Distances int // of the distribution of an output given an input: 100
	Steps     int // multiplications and additions of a regression: 2,000,000,000
}

func (b Budget) pairs() int { return cmp.Or(b.Pairs, 20_000) }

func (b Budget) distances() int { return cmp.Or(b.Distances, 100) }

// fitted is how many targets a regression on so many inputs tells of, those that come first,
// fewestFitted at least.
func (b Budget) fitted(inputs int) int {
	const fewestFitted = 16
	once, each := steps(inputs)
	return max(fewestFitted, (cmp.Or(b.Steps, 2_000_000_000)-once)/max(1, each))
}

// steps of a regression on so many inputs, and of each target: the products of columns (of
// values, ranks, ranks in replicates) and, with each replicate left out, Cholesky's root of the
// inputs' and two triangles for each target.
func steps(inputs int) (once, each int) {
	const products, solutions = 3 * mostRegressedRows, 2 * 18
	return inputs * inputs * (products/2 + solutions*inputs/6), inputs * (products + solutions*inputs)
}

// SummaryWork is how many tasks on columns the tables of statistics and claims take at least,
// and about how many values of columns they go through, of a sample of so many rows.
func (a *Analyst) SummaryWork(rows int) (tasks, cells int) {
	tasks = len(a.Plan.Columns) + len(a.Plan.StoredClaims()) + len(a.Plan.Claims)
	for _, g := range a.Plan.Study.Together {
		tasks += len(g.Inputs)
	}
	if len(a.Plan.Facts) > 0 { // all of it before them too, and where each lies
		tasks = 2*tasks + 3*len(a.Plan.Facts)
	}
	return tasks, tasks * rows
}

// LeftOut says, in plain words, which figures the budget left out; nothing where it left out
// none. It is whole once the rows are read and the regression is made.
func (g *GivenData) LeftOut() []string { return g.left }

// leave puts down that only the strongest pairs have these figures.
func (g *GivenData) leave(what string, told, of int) {
	g.left = append(g.left, fmt.Sprintf("%s: %d of %d pairs of an input and an output or claim, those where the input has most of it", what, told, of))
}
