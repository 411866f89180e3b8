package jobs_test

import (
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

func mustTable(t *testing.T, folder, name string) *result.Table {
	t.Helper()
	table, err := result.ReadTable(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// A claim that no draw holds may hold all the same: the mean of its yes or no has the
// interval of its chance, not [0, 0].
func TestMeanOfWhatNoDrawHolds(t *testing.T) {
	o := quick(t, 0)
	mustRun(t, write(t, `format: 1
study: never
model: formulas
inputs: {x: {between: [0, 1]}}
outputs: {y: x}
claims: {never: {holds: y > 2}, seldom: {holds: y > 0.999}}
sample: {rows: 4096, seed: 1}
indices: none
`), o)
	summary, claims := mustTable(t, o.Out, result.SummaryTable), mustTable(t, o.Out, result.ClaimsTable)
	for _, name := range []string{"never", "seldom"} {
		s, c := rowOf(t, summary, "output", name), rowOf(t, claims, "claim", name)
		low, high := cell(summary, "mean_low", s), cell(summary, "mean_high", s)
		if !(high > 0) || low != cell(claims, "chance_low", c) || high != cell(claims, "chance_high", c) {
			t.Errorf("%s: mean in [%g, %g], chance in [%g, %g]", name, low, high, cell(claims, "chance_low", c), cell(claims, "chance_high", c))
		}
	}
}

// Sixteen hypercubes that all have the same share of draws beyond a limit tell the chance
// as well as they can: the half-width is reached.
func TestEqualCountsReachTheHalfWidth(t *testing.T) {
	o := quick(t, 0)
	if mustRun(t, write(t, `format: 1
study: equal
model: formulas
inputs: {x: {between: [0, 1]}}
outputs: {y: x}
claims: {half: {holds: y > 0.5}}
sample: {half_width: {chance: 0.003}, at_most: 20_000, seed: 1}
indices: none
`), o).Missed {
		t.Error("the half-width of the chance was not reached")
	}
}

// An input that cancels but for rounding does not drive the indices to at_most, and an
// output of rounding alone has none.
func TestRoundingDrivesNothing(t *testing.T) {
	o := quick(t, 0)
	missed := mustRun(t, write(t, `format: 1
study: cancels
model: formulas
inputs: {x: {between: [0, 1]}, b: {between: [0, 1]}}
outputs:
  y: 1900 + 0.3 * floor(b + 0.004) + 50 * x - (1900 + 0.3 * floor(b + 0.004))
  noise: (0.1 + 0.1 * floor(8 * b)) - 0.1 - 0.1 * floor(8 * b)
sample: {rows: 4096, seed: 1}
indices: {half_width: 0.05, at_most: 60_000}
`), o).Missed
	if missed {
		t.Error("the half-width of the indices was not reached")
	}
	indices := mustTable(t, o.Out, result.IndicesTable)
	for i, output := range indices.Column("output").Texts {
		estimate, order := cell(indices, "estimate", i), indices.Column("order").Texts[i]
		if output == "noise" && indices.Column("method").Texts[i] != "none" && estimate == estimate {
			t.Errorf("noise: %s of %s is %g", order, indices.Column("input").Texts[i], estimate)
		}
	}
}

// The size of an effect as a number of standard deviations is as uncertain as these: of a
// sum of 60 inputs the effects themselves are exact. sd = sqrt(60/12).
func TestEffectsPerStandardDeviation(t *testing.T) {
	inside, all := 0, 0
	for _, seed := range []string{"1", "2", "3"} {
		text := "format: 1\nstudy: sum\nmodel: formulas\ninputs:\n"
		sum := "0"
		for i := range 60 {
			name := "x" + string(rune('a'+i/26)) + string(rune('a'+i%26))
			text += "  " + name + ": {between: [0, 1]}\n"
			sum += " + " + name
		}
		o := quick(t, 0)
		mustRun(t, write(t, text+"outputs: {y: "+sum+"}\nsample: {rows: 1024, seed: "+seed+"}\nindices: {half_width: 0.2, at_most: 200_000}\n"), o)
		indices := mustTable(t, o.Out, result.IndicesTable)
		for i, order := range indices.Column("order").Texts {
			if order != "mean_absolute_effect" {
				continue
			}
			all++
			if low, high := cell(indices, "low", i), cell(indices, "high", i); low <= 0.4472135955 && 0.4472135955 <= high {
				inside++
			}
			break // all have one
		}
	}
	if all != 3 || inside < 2 { // 3 at once fail to hold it in 1 of 8000, 2 in 1 of 140
		t.Errorf("%d of %d intervals hold 1/sqrt(5)", inside, all)
	}
}

// An output so wide that its variance is no number has no shares, and the answer says why, not
// that runs were infeasible; of the outputs beside it nothing is said.
func TestVarianceBeyondNumbersIsTold(t *testing.T) {
	const wide = `format: 1
study: wide
model: formulas
inputs: {a: {between: [-0.8e308, 0.8e308]}, b: {between: [0, 1]}}
outputs: {y: a * (1 + b) / 2, z: b * 3}
sample: {rows: 512}
indices: {half_width: 50 %, at_most: 1024}
`
	o := quick(t, 0)
	cautions := strings.Join(mustRun(t, write(t, wide), o).Answer.Cautions, "\n")
	if !strings.Contains(cautions, "No shares of y: the variance is beyond") || strings.Contains(cautions, "infeasible") {
		t.Errorf("cautions %q", cautions)
	}
}
