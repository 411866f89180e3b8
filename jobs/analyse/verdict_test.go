package analyse

import (
	"math"
	"testing"

	"proofmass/jobs/result"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// A verdict respects the interval of its chance.
func TestVerdictRespectsItsInterval(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		low, high float64
		want      result.Verdict
	}{
		{0.95, 0.97, result.Stands}, {1, 1, result.Stands}, {0.9499, 0.97, result.TooFew}, {0.90, 0.9499, result.InDoubt}, {0.90, 0.95, result.TooFew},
		{0, 0.05, result.Falls}, {0, 0, result.Falls}, {0.02, 0.0501, result.TooFew}, {0.0501, 0.10, result.InDoubt}, {0.05, 0.10, result.TooFew},
		{0.2, 0.8, result.InDoubt}, {0.01, 0.99, result.TooFew}, {nan, nan, result.TooFew}, {0.5, nan, result.TooFew}, {nan, 0.5, result.TooFew},
	} {
		if got := verdict(&result.ClaimRow{Rows: 100, ChanceLow: c.low, ChanceHigh: c.high}); got != c.want {
			t.Errorf("%g to %g: %s, want %s", c.low, c.high, got, c.want)
		}
	}
	if got := verdict(&result.ClaimRow{Rows: 100, Infeasible: 51, ChanceLow: 0, ChanceHigh: 0.04}); got != result.NotJudged {
		t.Errorf("with 51 of 100 draws infeasible: %s", got)
	}
	if got := verdict(&result.ClaimRow{ChanceLow: nan, ChanceHigh: nan}); got != result.NotJudged {
		t.Errorf("without draws: %s", got)
	}
}

// Sixteen draws can not tell a chance of 12 % from one of 5 %: with every count that they
// can give, neither is said to fall, and nothing stands.
func TestSixteenDrawsSayLittle(t *testing.T) {
	for held := range 17 {
		holds := make([]float64, 16)
		for i := range held {
			holds[i] = 1
		}
		v, err := claim.Chance(holds, nil, estimate.Rows{Independent: true}, estimate.Options{Level: 0.95, Coverage: 0.95})
		if err != nil {
			t.Fatal(err)
		}
		row := result.ClaimRow{Rows: 16, ChanceLow: v.Interval.Low, ChanceHigh: v.Interval.High}
		if got := verdict(&row); got == result.Falls || got == result.Stands {
			t.Errorf("%d of 16: %s, %g to %g", held, got, row.ChanceLow, row.ChanceHigh)
		}
	}
}
