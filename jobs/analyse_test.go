package jobs_test

import (
	"math"
	"path/filepath"
	"testing"

	"proofmass/jobs/result"
)

// Half of the draws ask for the root of a negative number: they are infeasible,
// counted everywhere, and hold no claim.
func TestInfeasibleRowsAreCounted(t *testing.T) {
	o := quick(t, 0)
	a := mustRun(t, write(t, `format: 1
study: half
model: formulas
inputs: {x: {between: [-1, 1]}, idle: {between: [0, 1]}, fixed: 7}
outputs: {root: sqrt(x), always: fixed + 0 * idle, none: sqrt(-1 - idle)}
claims: {real: {holds: root >= 0}, third: {holds: root > 0.5}}
sample: {rows: 4096, seed: 1}
indices: {half_width: 0.1}
`), o).Answer
	// 16 Latin hypercubes of 256 rows put exactly half of each on either side.
	for _, c := range a.Claims {
		if c.Infeasible != 2048 || c.Held+c.Failed+c.Infeasible != c.Rows {
			t.Errorf("%s: %d held, %d failed, %d infeasible of %d; want 2048 infeasible", c.Name, c.Held, c.Failed, c.Infeasible, c.Rows)
		}
	}
	if a.Claims[0].Chance != 0.5 {
		t.Errorf("real holds in %g of the draws, want 0.5: an infeasible draw does not hold", a.Claims[0].Chance)
	}
	summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
	if err != nil {
		t.Fatal(err)
	}
	for name, infeasible := range map[string]int64{"root": 2048, "always": 0, "none": 4096, "x": 0, "fixed": 0} {
		row := rowOf(t, summary, "output", name)
		if got := summary.Column("infeasible").Ints[row]; got != infeasible {
			t.Errorf("%s: %d infeasible, want %d", name, got, infeasible)
		}
	}
	if sd := cell(summary, "sd", rowOf(t, summary, "output", "always")); sd != 0 {
		t.Errorf("sd of a constant %g, want exactly 0", sd)
	}
	if mean := cell(summary, "mean", rowOf(t, summary, "output", "root")); math.Abs(mean-2.0/3) > 0.01 { // by hand, over 0 to 1
		t.Errorf("mean of the feasible roots %.4f, want 2/3", mean)
	}
	checkIndices(t, o.Out)
}

// checkIndices: x decides root wholly; idle cannot reach it, and that is exact; an
// output that never varies has no index.
func checkIndices(t *testing.T, folder string) {
	t.Helper()
	indices, err := result.ReadTable(filepath.Join(folder, result.IndicesTable))
	if err != nil {
		t.Fatal(err)
	}
	for i, output := range indices.Column("output").Texts {
		input, method := indices.Column("input").Texts[i], indices.Column("method").Texts[i]
		estimate, low, high := cell(indices, "estimate", i), cell(indices, "low", i), cell(indices, "high", i)
		switch {
		case output == "root" && input == "idle":
			if estimate != 0 || low != 0 || high != 0 || method != "none" {
				t.Errorf("root, idle: %g in [%g, %g] by %s; want exactly 0 by none", estimate, low, high, method)
			}
		case output == "root" && input == "x":
			share := indices.Column("order").Texts[i] == "first" || indices.Column("order").Texts[i] == "total"
			if share && math.Abs(estimate-1) > 0.1 || cell(indices, "dropped", i) < 0.5 {
				t.Errorf("root, x: %s %g, dropped %g; want 1 and half or more", indices.Column("order").Texts[i], estimate, cell(indices, "dropped", i))
			}
		case output == "always" && input == "idle":
			if estimate == estimate {
				t.Errorf("always: index %g, want none", estimate)
			}
		}
	}
}
