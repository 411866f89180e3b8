package report

import (
	"cmp"
	"fmt"
	"slices"
)

// tellWhere adds to each claim the inputs that surely differ where it holds and where
// it fails.
func (t *tables) tellWhere(a *Answer) {
	f := t.regions
	for i := range a.Claims {
		c := &a.Claims[i]
		for row := range f.rows() {
			w := Where{Input: f.text("input", row), Unit: f.text("input_unit", row),
				HoldsLow: f.number("holds_p10", row), HoldsMid: f.number("holds_p50", row), HoldsTop: f.number("holds_p90", row),
				FailsLow: f.number("fails_p10", row), FailsMid: f.number("fails_p50", row), FailsTop: f.number("fails_p90", row),
				Distance: f.number("distance", row), Low: f.number("distance_low", row), High: f.number("distance_high", row)}
			if f.text("claim", row) == c.Name && w.Distance != nil && w.Low != nil && *w.Low > 0 {
				c.Where = append(c.Where, w)
			}
		}
		slices.SortStableFunc(c.Where, func(x, y Where) int { return cmp.Compare(*y.Distance, *x.Distance) })
	}
}

// worthTelling is the least distance of two distributions that a reader would see.
// Common practice, no source.
const worthTelling = 0.2

// told says of the input that differs most how it does, "" if none differs much.
func (c Claim) told() string {
	if len(c.Where) == 0 || *c.Where[0].Distance < worthTelling {
		return ""
	}
	w := c.Where[0]
	all := numbers(w.HoldsLow, w.HoldsTop, w.FailsLow, w.FailsTop)
	return fmt.Sprintf("The clearest difference: eight in ten draws have %s %s where it holds, and %s where it fails.",
		w.Input, between(all[0], all[1], w.Unit), between(all[2], all[3], w.Unit))
}

func between(low, high, unit string) string {
	if low == high {
		return "at " + withUnit(low, unit)
	}
	return "from " + low + " to " + withUnit(high, unit)
}
