package analyse

import "proofmass/jobs/result"

// verdict is the one place where a chance and its interval become a word; who tells an
// answer reads the word from the table. It stands or falls only where the whole interval
// lies beyond the limit, and is in doubt only where it lies between both limits.
func verdict(c *result.ClaimRow) result.Verdict {
	switch {
	case c.Rows == 0 || 2*c.Infeasible > c.Rows:
		return result.NotJudged
	case c.ChanceLow >= result.StandsFrom:
		return result.Stands
	case c.ChanceHigh <= result.FallsTo:
		return result.Falls
	case c.ChanceLow > result.FallsTo && c.ChanceHigh < result.StandsFrom:
		return result.InDoubt
	}
	return result.TooFew // an end that is not known is beyond nothing
}
