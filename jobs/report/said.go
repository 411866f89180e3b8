package report

import (
	"fmt"
	"strconv"

	"proofmass/jobs/result"
)

// Said is what was announced, in its unit: "-4 %".
func (c Claim) Said() string { return c.inUnit(*c.Announced) }

// inUnit writes a number as somebody wrote it.
func (c Claim) inUnit(x float64) string {
	return WithUnit(strconv.FormatFloat(x, 'g', 12, 64), c.Unit)
}

// Tested says in words which values of the announced quantity bear the claim out, and
// why these; "" for a condition of the study's own.
func (c Claim) Tested() string {
	switch {
	case c.Announced == nil:
		return ""
	case c.Side == result.Within && c.RoundedTo != nil:
		half := *c.RoundedTo / 2
		return fmt.Sprintf("from %s to %s, since %s is rounded to %s", c.inUnit(*c.Announced-half), c.inUnit(*c.Announced+half), c.Said(), c.inUnit(*c.RoundedTo))
	case c.Limit == nil:
		return ""
	}
	words := "at least "
	if c.Side == result.Below {
		words = "at most "
	}
	words += c.inUnit(*c.Limit)
	if c.RoundedTo != nil {
		words += fmt.Sprintf(", since %s is rounded to %s", c.Said(), c.inUnit(*c.RoundedTo))
	}
	return words
}

// drawn says what the draws give of the announced quantity, "" where there is none.
func (c Claim) drawn() string {
	s := c.Seen
	if s == nil || s.P50 == nil {
		return ""
	}
	n := Numbers(differs(c.Of, s.P05), differs(c.Of, s.P50), differs(c.Of, s.P95))
	if s.P05 == nil || s.P95 == nil {
		return WithUnit(n[1], s.Unit) + "; " + TooFewCount
	}
	return fmt.Sprintf("%s, nine in ten of them %s to %s", WithUnit(n[1], s.Unit), n[0], n[2])
}
