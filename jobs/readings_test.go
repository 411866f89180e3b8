package jobs

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// Joint chances of two normal claims Y1 <= h and Y2 <= k with a correlation: the distribution
// function of the bivariate normal, by quadrature at 60 digits.
var bothNormal = []struct{ h, k, rho, both float64 }{
	{0, 0, 0.7, 0.37340834444668251035}, {1, 0.5, -0.3, 0.55820632582406199567}, {-1, -1, 0.9, 0.11549033742835829674},
}

// TestReadings: each reading's chance and that of every combination are those of the closed
// forms, whatever the order of the readings; the first combination is as stated, so its chances
// are those of claims.parquet.
func TestReadings(t *testing.T) {
	var outputs, firsts, seconds []string
	for i, c := range bothNormal {
		outputs = append(outputs, fmt.Sprintf("one%d: {formula: 10 m + z - %.17g m, unit: m}", i, c.h),
			fmt.Sprintf("two%d: {formula: 10 m + %.17g * z + %.17g * w - %.17g m, unit: m}", i, c.rho, math.Sqrt(1-c.rho*c.rho), c.k))
		firsts, seconds = append(firsts, fmt.Sprint("one", i)), append(seconds, fmt.Sprint("two", i))
	}
	text := fmt.Sprintf(`format: 1
study: readings
model: formulas
indices: none
sample: {rows: 65_536, seed: 3}
inputs: {z: {normal: {mean: 0 m, sd: 1 m}}, w: {normal: {mean: 0 m, sd: 1 m}}}
outputs: {%s}
claims:
  first:  {of: one0, announced: 10 m, sense: at_most, could_mean: [%s]}
  second: {of: two0, announced: 10 m, sense: at_most, could_mean: [%s]}
`, strings.Join(outputs, ", "), strings.Join(firsts[1:], ", "), strings.Join(seconds[1:], ", "))
	out := filepath.Join(t.TempDir(), "out")
	outcome, err := Run(t.Context(), WriteStudy(t, text), Options{Out: out})
	if err != nil {
		t.Fatal(err)
	}
	rows := RowsOf(t, result.Readings.Read, out)
	if len(rows) != 9*3 {
		t.Fatalf("%d rows", len(rows))
	}
	near := func(r result.ReadingRow, want float64) { // four half-widths: a false alarm in 10,000 tests of nine
		t.Helper()
		if half := (r.High - r.Low) / 2; math.Abs(r.Chance-want) > 4*half {
			t.Errorf("combination %d, %s: %g, want %g +- %g", r.Combination, r.Text, r.Chance, want, half)
		}
	}
	below := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	for i, c := range bothNormal {
		at := rows[3*(3*i+i):] // of the combination of reading i of both
		near(at[0], below(c.h))
		near(at[1], below(c.k))
		near(at[2], c.both)
		if at[2].Claim != "" || at[0].Of != firsts[i] || at[1].Of != seconds[i] {
			t.Errorf("case %d: %+v", i, at[:3])
		}
	}
	for i, c := range RowsOf(t, result.Claims.Read, out) {
		if r := rows[i]; r.Chance != c.Chance || r.Low != c.ChanceLow || r.High != c.ChanceHigh || r.Held != c.Held {
			t.Errorf("as stated: %+v, claims: %+v", r, c)
		}
	}
	r := outcome.Answer.Readings
	most := int64(0)
	for _, row := range rows {
		if row.Claim == "" {
			most = max(most, row.Held)
		}
	}
	if r == nil || len(r.Combinations) != 9 || r.Combinations[r.Best].Held != most {
		t.Errorf("the answer has %+v", r)
	}
	if told := r.Told(); !strings.Contains(told, "Of 9 combinations") {
		t.Error(told)
	}
}

// TestReadingsAfterFacts: of z ~ N(0, 1) measured 1 with sd 0.5, N(0.8, 0.2) is left (conjugate
// normal: Gelman and others, Bayesian Data Analysis, 3rd edition, 2.5), so that what is at least
// 1 is so, read as z, in Phi(-0.2/sqrt(0.2)) of the draws, and read as z + 1/2 in Phi(0.3/sqrt(0.2)).
func TestReadingsAfterFacts(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	if _, err := Run(t.Context(), WriteStudy(t, `format: 1
study: read
model: formulas
indices: none
sample: {rows: 16_384, seed: 3}
inputs: {z: {normal: {mean: 0 m, sd: 1 m}}}
outputs: {one: {formula: z, unit: m}, two: {formula: z + 0.5 m, unit: m}}
claims:
  far: {of: one, announced: 1 m, sense: at_least, could_mean: [two]}
measured: [{of: one, normal: {mean: 1 m, sd: 0.5 m}}]
`), Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	below := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	rows, claims := RowsOf(t, result.Readings.Read, out), RowsOf(t, result.Claims.Read, out)
	for i, want := range []float64{below(-0.2 / math.Sqrt(0.2)), below(0.3 / math.Sqrt(0.2))} {
		if r := rows[2*i]; math.Abs(r.Chance-want) > r.High-r.Low || r.High-r.Low > 0.05 || r.Method != "weighted" {
			t.Errorf("%+v, want %g", r, want)
		}
	}
	if rows[0].Chance != claims[0].Chance || rows[0].Low != claims[0].ChanceLow {
		t.Errorf("%+v, claims: %+v", rows[0], claims[0])
	}
}
