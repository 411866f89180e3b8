package estimate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestShares: shares add up to 1, replicates that agree leave no doubt, and what cannot be a sum
// is refused.
func TestShares(t *testing.T) {
	same, err := Shares([][]float64{{1, 1, 1}, {3, 3, 3}}, 0.95)
	if err != nil || same[0].Value != 0.25 || same[1].Value != 0.75 || math.Abs(same[0].Low-0.25)+math.Abs(same[0].High-0.25) > 1e-12 {
		t.Errorf("%+v, %v", same, err)
	}
	if none, err := Shares([][]float64{{0, 0}, {1, 2}}, 0.95); err != nil || none[0].Value != 0 || none[1].Value != 1 || none[0].Low == none[0].Low {
		t.Errorf("%+v, %v", none, err)
	}
	for _, wrong := range [][][]float64{{{1, -1}}, {{1, 2}, {1}}, {{math.NaN()}}, {{math.Inf(1)}}} {
		if _, err := Shares(wrong, 0.95); err == nil {
			t.Errorf("%v is let through", wrong)
		}
	}
}

// TestSharesCoverage: of sums of exponential variables, 50 a replicate, whose means are 1 and 4,
// the interval holds the share 1/5. 95 % of 400 with the false alarm of a thousandth: 365.
func TestSharesCoverage(t *testing.T) {
	hits := 0
	for trial := range 400 {
		rng := rand.New(rand.NewPCG(uint64(trial), 8))
		sums := [][]float64{make([]float64, 16), make([]float64, 16)}
		for r := range 16 {
			for range 50 {
				sums[0][r] += rng.ExpFloat64()
				sums[1][r] += 4 * rng.ExpFloat64()
			}
		}
		s, err := Shares(sums, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if s[0].Low <= 0.2 && 0.2 <= s[0].High {
			hits++
		}
	}
	if hits < 365 {
		t.Errorf("%d of 400 intervals hold the share", hits)
	}
}
