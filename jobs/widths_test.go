package jobs

import (
	"math"
	"path/filepath"
	"testing"

	"proofmass/jobs/result"
)

// Invented: a guess, a limit that stays, a weighed number, a list, and claims on each.
const wide = `format: 1
study: wide
model: formulas
indices: none
sample: {rows: 65_536}
inputs:
  guess:   {normal: {mean: 0 m, sd: 1 m}, how_known: guess}
  silent:  {between: [1 kg, 3 kg]}
  capped:  {normal: {mean: 0 m, sd: 1 m}, max: 1.5 m, how_known: rule}
  weighed: {normal: {mean: 0 m, sd: 1 m}, how_known: weighed}
  listed:  {one_of: {1: 0.5, 2: 0.25, 3: 0.25}, how_known: announced}
  never:   {between: [0 kg, 1 kg], how_known: guess}
outputs: {total: {formula: guess + capped + weighed, unit: m}}
claims:
  far:     {holds: guess > 1 m}
  heavy:   {holds: silent > 2.5 kg}
  under:   {holds: capped > 1.6 m}
  high:    {holds: capped > 1 m}
  sure:    {holds: weighed > 1 m}
  first:   {holds: listed < 1.5}
  below:   {holds: never < 0 kg}
`

// TestGuessedWidths: chances with all guessed widths halved and doubled are those of the closed
// forms; limits stay, what is never below nil stays so, and what is no guess does not move.
func TestGuessedWidths(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	if _, err := Run(t.Context(), WriteStudy(t, wide), Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	above := func(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }
	capped := func(sd float64) float64 { return (above(1/sd) - above(1.5/sd)) / (1 - above(1.5/sd)) }
	root := math.Pow(2, 0.25)
	want := map[string]struct {
		halved, doubled float64
		guesses         int64
	}{
		"far": {above(2), above(0.5), 1}, "heavy": {0, 0.375, 1}, "under": {0, 0, 1}, "high": {capped(0.5), capped(2), 1},
		"first": {16.0 / 18, root / (root + 2), 1}, "below": {0, 0, 1}, "sure": {math.NaN(), math.NaN(), 0}, "all_claims": {0, 0, 5},
	}
	for _, r := range RowsOf(t, result.Claims.Read, out) {
		w, there := want[r.Claim]
		if !there || r.Guesses != w.guesses || r.Defaults != 0 {
			t.Errorf("%s: %d guessed widths, want %d", r.Claim, r.Guesses, w.guesses)
		}
		for _, pair := range [][2]float64{{r.Halved, w.halved}, {r.Doubled, w.doubled}} { // a hypercube of 1024 and its first rows: sd below 0.004
			if !(math.Abs(pair[0]-pair[1]) <= 0.016 || pair[0] != pair[0] && pair[1] != pair[1]) {
				t.Errorf("%s: %g, want %g", r.Claim, pair[0], pair[1])
			}
		}
		if w.guesses > 0 && r.WidthRows != 16_384 {
			t.Errorf("%s: from %d draws", r.Claim, r.WidthRows)
		}
	}
}
