package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity"
	"proofmass/sensitivity/estimate"
)

// Method names of indices.parquet.
const (
	methodFirst = "saltelli_2010_b" // S. Saltelli et al. 2010, Comput. Phys. Commun. 181, table 2 (b)
	methodTotal = "jansen_1999"     // Jansen 1999, Comput. Phys. Commun. 117
	methodNone  = "none"            // the input cannot reach the output: 0, known without a run
)

// Indices makes indices.parquet: first-order and total index of each output asked
// for and each uncertain input. It returns the largest half-width as well, NaN
// where there is no interval.
func (a *Analyst) Indices(sums *sensitivity.PickFreeze) (*result.Table, float64) {
	ix := &a.Plan.Index
	pairs := sums.Indices(a.Plan.Study.Level)
	place := make(map[int]int, len(ix.Swapped)) // factor -> its number among the swapped
	for i, f := range ix.Swapped {
		place[f] = i
	}
	t, widest := newTable(), 0.0
	for o, output := range ix.Outputs {
		for f, factor := range a.Plan.Factors {
			i, swapped := place[f]
			if !swapped || !a.Plan.Reaches(factor, output) {
				a.addIndex(t, output, factor, methodNone, "first", exactZero(), 0)
				a.addIndex(t, output, factor, methodNone, "total", exactZero(), 0)
				continue
			}
			pair := pairs[o][i]
			a.addIndex(t, output, factor, methodFirst, "first", pair.First, pair.Dropped)
			a.addIndex(t, output, factor, methodTotal, "total", pair.Total, pair.Dropped)
			widest = wider(widest, pair.First.Interval)
			widest = wider(widest, pair.Total.Interval)
		}
	}
	return t.table(nil), widest
}

func exactZero() sensitivity.Index { return sensitivity.Index{} }

// wider is the larger half-width; a constant output's missing interval counts for
// nothing.
func wider(widest float64, i estimate.Interval) float64 {
	if half := (i.High - i.Low) / 2; half > widest {
		return half
	}
	return widest
}

func (a *Analyst) addIndex(t *table, output int, f plan.Factor, method, order string, index sensitivity.Index, dropped float64) {
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("output", a.name(output), "the output")
	t.text("of", "output", "output, margin of a claim, or whether a claim holds")
	t.text("input", f.Name, "the input; model_error stands for both of its factors")
	t.text("other", "", "the other input of a second-order index")
	t.text("method", method, "the estimator; none: the input cannot reach the output")
	t.text("order", order, "first: share of the variance that this input takes away alone; total: with all it does together with others")
	t.number("estimate", "1", index.Estimate, "the index; null for a constant output")
	t.number("low", "1", index.Low, "lower end of its interval")
	t.number("high", "1", index.High, "upper end of its interval")
	t.count("model_runs", a.Plan.Index.Runs, "evaluations of the model behind this table")
	t.number("dropped", "1", dropped, "share of the pairs of rows left out because a run is infeasible")
}

// name is the full name of a program output that is stored.
func (a *Analyst) name(output int) string { return a.Plan.Program.Outputs()[output] }
