package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// Widths are the shares of draws in which each claim of the plan holds with all guessed widths
// halved and doubled.
type Widths struct {
	Halved, Doubled run.Holding
	Changed         []int // drawn inputs whose width was changed
}

// addWidths tells what a claim rests on that is but guessed, and how far that moves its chance.
func (a *Analyst) addWidths(row *result.ClaimRow, c plan.Claim) {
	row.Halved, row.Doubled = math.NaN(), math.NaN()
	for i := range a.Plan.Drawn {
		switch {
		case !a.Plan.Rests(c, i) && !a.Plan.Tells(i):
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
	w := a.Widths
	row.Halved, row.Doubled, row.WidthRows = w.Halved.Shares[k], w.Doubled.Shares[k], int64(min(w.Halved.Rows, w.Doubled.Rows))
}
