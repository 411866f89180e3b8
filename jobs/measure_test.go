package jobs

import (
	"fmt"
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

// TestCouldMeasure: of y = x + z, 5 wide, a gauge of y with an error of 5 has a correlation of
// sqrt(1/2) with it, one of x with an error of 3 of 0.8 times 0.8; such a correlation r takes
// asin(r)/pi from the risk of an even claim (Sheppard 1899). Money ranks by what is gained for it.
func TestCouldMeasure(t *testing.T) {
	text := strings.NewReplacer("sd: 4}, unit: kg}", "sd: 4}, unit: kg, price: 100 EUR}", "sd: 3}, unit: kg}", "sd: 3}, unit: kg, price: 5}", "rows: 32768, seed: 5", "rows: 32768, seed: 8").Replace(linear) +
		"could_measure: [{of: y, sd: 5 kg, price: 0.06 EUR}, {of: x, sd: 3000 g, price: 20}, {of: y, sd: 20 kg, source: a spring}]\n"
	out := filepath.Join(t.TempDir(), "r")
	if _, err := Run(t.Context(), WriteStudy(t, text), Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	found := map[string]result.MeasureRow{}
	for _, r := range RowsOf(t, result.Measure.Read, out) {
		if r.Claim == "even" {
			found[fmt.Sprintf("%s %g", r.Item, r.Error)] = r
		}
	}
	for _, c := range []struct {
		row      string
		r, price float64
		forMoney int64
	}{{"y 5", math.Sqrt(0.5), 0.06, 1}, {"x 3", 0.64, 20, 3}, {"y 20", 5 / math.Sqrt(425), math.NaN(), 0}, {"x 0", 0.8, 100, 4}, {"z 0", 0.6, 5, 2}} {
		row, gain := found[c.row], math.Asin(c.r)/math.Pi
		if !(row.GainLow <= gain && gain <= row.GainHigh) || row.GainHigh-row.GainLow > 0.04 || row.Gain > 0 && math.Abs(row.SDLeft-5*math.Sqrt(1-float64(c.r*c.r))) > 0.1 {
			t.Errorf("%s: %+v, want a gain of %g", c.row, row, gain)
		}
		priced := c.price == c.price
		if row.RankForMoney != c.forMoney || priced && (row.Price != c.price || row.PriceUnit != "EUR" || math.Abs(row.GainPerPrice-row.Gain/c.price) > 1e-12) || !priced && row.Price == row.Price || row.ErrorUnit != "kg" {
			t.Errorf("%s: %+v, want the price %g and the rank %d", c.row, row, c.price, c.forMoney)
		}
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
