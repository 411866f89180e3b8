package analyse

import (
	"math"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// The chance of a climb counts where the plain draws do not contradict it: else theirs stands,
// and so it does where a climb did not come to a claim that some draw holds.
func TestRareAgainstPlainDraws(t *testing.T) {
	plainly := func(held int64, low, high float64) result.ClaimRow {
		const rows = 100_000
		return result.ClaimRow{Claim: "c", Chance: float64(held) / rows, ChanceLow: low, ChanceHigh: high, Held: held, Failed: rows - held, Rows: rows, Method: "clopper_pearson"}
	}
	climb := func(chance, half float64, side result.Turning, reached int64) result.RareRow {
		return result.RareRow{Claim: "c", Turning: side, Chance: chance, Low: chance - half, High: chance + half, Reached: reached}
	}
	hold, fail := result.TurnsToHold, result.TurnsToFail
	for _, c := range []struct {
		what      string
		row       result.ClaimRow
		climb     result.RareRow
		used      int64
		low, high float64
	}{
		{"agrees", plainly(0, 0, 3.7e-5), climb(2e-6, 5e-7, hold, 1), 1, 1.5e-6, 2.5e-6},
		{"agrees with some", plainly(2, 2.4e-6, 7.2e-5), climb(4e-6, 2e-6, hold, 1), 1, 2e-6, 6e-6},
		{"too rare", plainly(12, 6e-5, 2.1e-4), climb(2e-6, 5e-7, hold, 1), 0, 6e-5, 2.1e-4},
		{"too common", plainly(0, 0, 3.7e-5), climb(1e-3, 1e-4, hold, 1), 0, 0, 3.7e-5},
		{"did not come", plainly(0, 0, 3.7e-5), climb(8e-7, 1e-7, hold, 0), 1, 0, 9e-7},
		{"did not come, though some hold", plainly(1, 2.5e-7, 5.6e-5), climb(8e-7, 1e-7, hold, 0), 0, 2.5e-7, 5.6e-5},
		{"fails", plainly(100_000, 1-3.7e-5, 1), climb(2e-6, 5e-7, fail, 1), 1, 1 - 2.5e-6, 1 - 1.5e-6},
	} {
		a := &Analyst{Plan: &plan.Plan{Study: &study.Study{Level: 0.95}}, rareRows: []result.RareRow{{Claim: "other"}, c.climb}}
		a.addRare(&c.row)
		if got := a.rareRows[1].Used; got != c.used || (c.row.Method == result.RareChance) != (c.used == 1) {
			t.Errorf("%s: used %d, method %s", c.what, got, c.row.Method)
		}
		if math.Abs(c.row.ChanceLow-c.low) > 1e-12 || math.Abs(c.row.ChanceHigh-c.high) > 1e-12 || c.row.Chance < c.row.ChanceLow || c.row.Chance > c.row.ChanceHigh {
			t.Errorf("%s: %g in %g to %g", c.what, c.row.Chance, c.row.ChanceLow, c.row.ChanceHigh)
		}
	}
}
