package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
)

// Widths are the draws in which each claim of the plan holds, of so many, with all guessed
// widths halved and doubled.
type Widths struct {
	Rows            int
	Halved, Doubled []int
	Changed         []int // drawn inputs whose width was changed
}

// addWidths tells what a claim rests on that is but guessed, and how far that moves its chance.
func (a *Analyst) addWidths(row *result.ClaimRow, c plan.Claim) {
	row.Halved, row.Doubled = math.NaN(), math.NaN()
	for i := range a.Plan.Drawn {
		switch {
		case !a.Plan.Rests(c, i):
			continue
		case a.Plan.Drawn[i].Default:
			row.Defaults++
		}
		if a.Widths != nil && slices.Contains(a.Widths.Changed, i) {
			row.Guesses++
		}
	}
	if row.Guesses == 0 {
		return
	}
	k := slices.IndexFunc(a.Plan.Claims, func(p plan.Claim) bool { return p.Name == c.Name })
	n := float64(a.Widths.Rows)
	row.Halved, row.Doubled, row.WidthRows = float64(a.Widths.Halved[k])/n, float64(a.Widths.Doubled[k])/n, int64(a.Widths.Rows)
}
