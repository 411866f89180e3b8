package jobs

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// measuresOf runs a study and gives the rows of its table by claim and item, with the other of
// a pair behind it.
func measuresOf(t *testing.T, text string) map[string]result.MeasureRow {
	t.Helper()
	out := filepath.Join(t.TempDir(), "r")
	if _, err := Run(t.Context(), WriteStudy(t, text), Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	found := map[string]result.MeasureRow{}
	for _, r := range RowsOf(t, result.Measure.Read, out) {
		found[r.Claim+" "+r.Item+" "+r.Other] = r
	}
	return found
}

const linear = `format: 1
study: linear
model: formulas
sample: {rows: 32768, seed: 5}
indices: none
inputs:
  x: {normal: {mean: 0, sd: 4}, unit: kg}
  z: {normal: {mean: 0, sd: 3}, unit: kg}
  idle: {normal: {mean: 0, sd: 1}, unit: kg}
outputs:
  y: {formula: x + z + 0 * idle, unit: kg}
claims:
  even: {holds: y <= 0 kg}
  rare: {holds: y <= -5 kg}
  far: {holds: y <= -14 kg}
`

// TestMeasureNext: of y = x + z, 4 and 3 wide, correlations 0.8 and 0.6, learning x takes
// asin(0.8)/pi from the risk of an even claim (Sheppard 1899) and leaves 3 of 5 of the spread;
// where y <= -5, one sd down, it leaves 0.1147294535633583 (bivariate normal).
func TestMeasureNext(t *testing.T) {
	rows := measuresOf(t, linear)
	for _, c := range []struct {
		row        string
		gain, left float64
	}{{"even x ", math.Asin(0.8) / math.Pi, 3}, {"even z ", math.Asin(0.6) / math.Pi, 4}, {"rare x ", 0.15865525393145707 - 0.1147294535633583, 3}} {
		r := rows[c.row]
		if !(r.GainLow <= c.gain && c.gain <= r.GainHigh) || r.GainHigh-r.GainLow > 0.04 || math.Abs(r.SDLeft-c.left) > 0.05 || math.Abs(r.SD-5) > 0.05 || r.Unit != "kg" {
			t.Errorf("%s: %+v, want a gain of %g that leaves %g kg", c.row, r, c.gain, c.left)
		}
	}
	if x, z := rows["even x "], rows["even z "]; x.Rank != 1 || z.Rank != 2 || math.Abs(x.Share+z.Share-1) > 0.5 {
		t.Errorf("ranks: %+v, %+v", x, z)
	}
	if idle := rows["even idle "]; idle.GainLow != 0 {
		t.Errorf("what does nothing helps: %+v", idle)
	}
	if far, pair := rows["far x "], rows["far x z"]; far.Gain != 0 || pair.Method != result.LearntByPairs {
		t.Errorf("of a far claim: %+v; %+v", far, pair)
	}
}

// TestMeasureNextOfNothing: a claim that nothing but the model's own error reaches has no rows,
// beside others that have.
func TestMeasureNextOfNothing(t *testing.T) {
	text := strings.NewReplacer("{between: [4575 lb, 4825 lb],", "{value: 4700 lb,", "rows: 32_768", "rows: 512",
		"\nclaims:\n", "\nindices: none\nclaims:\n  fits: {holds: filed.model_error_city <= 1.05}\n").Replace(readFile(t, "../testdata/studies/certified-car.yaml"))
	rows := measuresOf(t, text)
	for key, r := range rows {
		if r.Claim == "fits" {
			t.Errorf("%s: %+v", key, r)
		}
	}
	if len(rows) == 0 {
		t.Error("no claim has rows")
	}
}
