package analyse

import (
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

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

// around reports whether the draws lie to both sides of what was announced as about so much:
// not 19 in 20 of them on one. They are then wider than the claim, and though few come as near
// to it as it is rounded they do not speak against it: it is in doubt, and does not fall.
func (a *Analyst) around(said *study.Claim) bool {
	if said.Sense != string(result.About) {
		return false
	}
	c := a.column(said.Of)
	if c == nil {
		return false
	}
	ends, known := a.middles[c.Stored()]
	if known && ends[0] != ends[0] {
		return true // nobody knows how wide the draws are
	}
	u := c.Quantity.Unit
	return known && u.ToSI(ends[0]) < said.Announced && u.ToSI(ends[1]) > said.Announced
}
