package analyse

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/sensitivity/split"
)

// divided makes the columns of a function of what is made, and divides them.
func divided(causes []string, rows int, value func(row int, made split.Set) float64) *division {
	o := &plan.CausedOutput{Causes: causes, Sets: split.Combinations(len(causes)), Mass: -1}
	var columns [][]float64
	for i, s := range o.Sets {
		x := make([]float64, rows)
		for row := range x {
			x[row] = value(row, s)
		}
		columns, o.Values = append(columns, x), append(o.Values, i)
	}
	return divide(&plan.Causes{}, o, columns)
}

// TestDivide: x1 x2 + x3 from (2, 3, 1) to (3, 5, 4) is 4 + 5 + 3, by all six orders.
func TestDivide(t *testing.T) {
	from, to := []float64{2, 3, 1}, []float64{3, 5, 4}
	d := divided([]string{"a", "b", "c"}, 1, func(_ int, made split.Set) float64 {
		x := [3]float64{}
		for i := range x {
			if x[i] = from[i]; made>>i&1 == 1 {
				x[i] = to[i]
			}
		}
		return x[0]*x[1] + x[2]
	})
	for i, want := range []float64{4, 5, 3} {
		if got := d.entries[i].shares[0]; math.Abs(got-want) > 1e-14*12 {
			t.Errorf("cause %d: %g, want %g", i, got, want)
		}
	}
}

// TestDivisionAddsUp to the change, row by row, to 1e-12 of it, with all orders and with
// random ones; a row without a value in one combination is left out of all.
func TestDivisionAddsUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for _, k := range []int{1, 2, 5, 6, 9} {
		const rows = 50
		table := map[[2]int]float64{}
		value := func(row int, made split.Set) float64 {
			at := [2]int{row, int(made)}
			if _, known := table[at]; !known {
				table[at] = 400 + 30*rng.NormFloat64()
			}
			if row == 7 && made == 1 {
				return math.NaN()
			}
			return table[at]
		}
		d := divided(make([]string, k), rows, value)
		for row := range rows {
			sum := 0.0
			for _, e := range d.entries {
				sum += e.shares[row]
			}
			change := value(row, 1<<k-1) - value(row, 0)
			if left := d.total[row] != d.total[row]; left != (row == 7 && (k <= split.Exact || d.total[7] != d.total[7])) {
				t.Errorf("%d causes, row %d: total %g", k, row, d.total[row])
			}
			if row != 7 && (d.total[row] != sum || math.Abs(sum-change) > 1e-12*math.Max(400, math.Abs(change))) {
				t.Errorf("%d causes, row %d: parts %.17g, total %.17g, change %.17g", k, row, sum, d.total[row], change)
			}
		}
	}
}

// TestMassParts: the ledger's items share the effect of mass by their kilograms and add up to
// it, also where the mass does not change though its parts do.
func TestMassParts(t *testing.T) {
	own, base := []float64{1490, 1500, 1505}, []float64{1500, 1500, 1500}
	cells, beam := []float64{-12, 3, 2}, []float64{-2, 3, -1}
	columns := [][]float64{own, base, cells, {0, 0, 0}, beam}
	l := &plan.Ledger{Own: 0, Base: 1, Items: []plan.LedgerItem{
		{Name: "cells", Columns: []int{2, 3}, Signs: []float64{1, -1}}, {Name: "beam", Columns: []int{4}, Signs: []float64{-1}}, {Name: "nothing", Columns: []int{3}, Signs: []float64{1}}}}
	mass := entry{cause: "mass", shares: []float64{0.5, 0, -0.25}} // 0.05 a kilogram
	parts := massParts(l, &mass, make([]float64, 3), columns)
	want := map[string][]float64{"cells": {0.6, -0.15, -0.1}, "beam": {-0.1, 0.15, -0.05}, plan.RestOfMass: {0, 0, -0.1}}
	if len(parts) != len(want) {
		t.Fatalf("parts %+v", parts)
	}
	for _, p := range parts {
		for row, w := range want[p.cause] {
			if math.Abs(p.shares[row]-w) > 1e-12 {
				t.Errorf("%s, row %d: %g, want %g", p.cause, row, p.shares[row], w)
			}
		}
	}
}
