// Package claim says how sure a claim is: in what share of the rows it holds,
// with an interval, and how far inside its limit the rows are.
//
// A claim arrives as a column of 1 (holds), 0 (fails) and NaN (infeasible). The
// chance is that of holding given the inputs as stated and the model: it knows
// nothing of the error of a model, and infeasible rows count as not holding.
// A joint claim is the caller's product of such columns, row by row; single
// chances are never multiplied, since claims share their inputs.
//
// A claim that holds in no row has the chance 0 and an interval whose upper end
// says "at most x". Claims rarer than a sample of rows can show, and what must be
// true for a claim to hold, are not treated here.
//
// The interval code is proofmass/sensitivity/estimate; its sources stand there.
package claim

import (
	"fmt"
	"math"

	"proofmass/sensitivity/estimate"
)

// Verdict is what the rows say about a claim.
type Verdict struct {
	Held, Failed, Infeasible, Rows  int     // Held + Failed + Infeasible = Rows
	Chance                          float64 // Held / Rows, by their weights; NaN without rows
	Interval                        estimate.Interval
	Method                          string  // of the interval: replicates | wilson | clopper_pearson | none
	EffectiveRows                   float64 // independent rows that would tell as much
	MarginP05, MarginP50, MarginP95 float64 // type 7, over the rows that have a margin; NaN without
}

// Chance judges a claim from its column and, unless nil, the column of its
// margin, how far inside its limit each row is, of the same length and NaN where
// infeasible. Both are only read. Weighted rows have the interval of
// [estimate.WeightedChance]. The error names a row that is neither 1, 0 nor
// NaN, an infinite margin, or what is wrong with d or o.
func Chance(holds, margin []float64, d estimate.Rows, o estimate.Options) (Verdict, error) {
	var margins estimate.Column
	if margin != nil {
		margins = estimate.Values(margin)
	}
	return ChanceOf(estimate.Values(holds), margins, d, o, nil)
}

// ChanceOf is Chance for columns that need not be in memory. scratch may be nil.
func ChanceOf(holds, margin estimate.Column, d estimate.Rows, o estimate.Options, scratch *estimate.Scratch) (Verdict, error) {
	rows := holds.Rows()
	if margin != nil && margin.Rows() != rows {
		return Verdict{}, fmt.Errorf("claim: %d margins for %d rows", margin.Rows(), rows)
	}
	v := Verdict{Rows: rows, MarginP05: math.NaN(), MarginP50: math.NaN(), MarginP95: math.NaN()}
	chance := v.plain
	if d.HasWeights() {
		chance = v.weighted
	}
	p, err := chance(holds, d, o)
	if err != nil {
		return Verdict{}, err
	}
	v.Chance, v.Interval, v.Method, v.EffectiveRows = p.Chance, p.Interval, p.Method, p.EffectiveRows
	if margin == nil {
		return v, nil
	}
	m, err := estimate.DescribeColumn(margin, estimate.Rows{Independent: true, Weights: d.OfRows()}, o, scratch)
	if err != nil {
		return Verdict{}, fmt.Errorf("claim: margin: %w", err)
	}
	v.MarginP05, v.MarginP50, v.MarginP95 = m.P05, m.P50, m.P95
	return v, nil
}

// plain counts the rows.
func (v *Verdict) plain(holds estimate.Column, d estimate.Rows, o estimate.Options) (estimate.Proportion, error) {
	bounds, err := d.Replicates(holds.Rows())
	if err != nil {
		return estimate.Proportion{}, err
	}
	counts := make([]estimate.Count, 0, len(bounds))
	for r := 1; r < len(bounds); r++ {
		before := v.Held
		at := bounds[r-1]
		err := holds.Each(at, bounds[r], func(piece []float64) error {
			at += len(piece)
			return v.count(piece, at-len(piece))
		})
		if err != nil {
			return estimate.Proportion{}, err
		}
		counts = append(counts, estimate.Count{Held: v.Held - before, Rows: bounds[r] - bounds[r-1]})
	}
	return estimate.Chance(counts, d.Independent, o)
}

// weighted sums the weights of rows, and of those that hold; counts are of rows all the
// same.
func (v *Verdict) weighted(holds estimate.Column, d estimate.Rows, o estimate.Options) (estimate.Proportion, error) {
	bounds, err := d.Blocks(holds.Rows())
	if err == nil {
		err = d.CheckWeights(holds.Rows())
	}
	if err != nil {
		return estimate.Proportion{}, err
	}
	weighings := make([]estimate.Weighing, len(bounds)-1)
	for r := range weighings {
		at := bounds[r]
		err := estimate.EachTogether([]estimate.Column{holds, d.OfRows()}, at, bounds[r+1], func(pieces [][]float64) error {
			for i, h := range pieces[0] {
				weighings[r].Add(pieces[1][i], h == 1)
			}
			at += len(pieces[0])
			return v.count(pieces[0], at-len(pieces[0]))
		})
		if err != nil {
			return estimate.Proportion{}, err
		}
	}
	return estimate.WeightedChance(weighings, o)
}

// count adds rows, the first of which has the number from.
func (v *Verdict) count(holds []float64, from int) error {
	for i, h := range holds {
		switch {
		case h == 1:
			v.Held++
		case h == 0:
			v.Failed++
		case h != h:
			v.Infeasible++
		default:
			return fmt.Errorf("claim: row %d is %g, want 1, 0 or NaN", from+i, h)
		}
	}
	return nil
}
