package report

import (
	"cmp"
	"fmt"
	"slices"
)

// tellWhere adds to each claim the inputs that surely differ where it holds and where
// it fails.
func (t *tables) tellWhere(a *Answer) {
	for i := range a.Claims {
		c := &a.Claims[i]
		for k := range t.regions {
			if r := &t.regions[k]; r.Claim == c.Name && r.DistanceLow > 0 && r.Distance == r.Distance {
				c.Where = append(c.Where, Where{Input: r.Input, Unit: r.InputUnit,
					HoldsLow: Known(r.HoldsP10), HoldsMid: Known(r.HoldsP50), HoldsTop: Known(r.HoldsP90),
					FailsLow: Known(r.FailsP10), FailsMid: Known(r.FailsP50), FailsTop: Known(r.FailsP90),
					Distance: Known(r.Distance), Low: Known(r.DistanceLow), High: Known(r.DistanceHigh)})
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
	return "The clearest difference: " + c.Where[0].Differs() + "."
}

// Differs says in which range the input lies where the claim holds and where it fails.
func (w *Where) Differs() string {
	all := Numbers(w.HoldsLow, w.HoldsTop, w.FailsLow, w.FailsTop)
	return fmt.Sprintf("eight in ten draws have %s %s where it holds, and %s where it fails",
		w.Input, between(all[0], all[1], w.Unit), between(all[2], all[3], w.Unit))
}

func between(low, high, unit string) string {
	if low == high {
		return "at " + WithUnit(low, unit)
	}
	return "from " + low + " to " + WithUnit(high, unit)
}
