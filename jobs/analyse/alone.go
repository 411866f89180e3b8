package analyse

import (
	"math"

	"proofmass/jobs/plan"
	"proofmass/jobs/run"
	"proofmass/sensitivity/claim"
)

// The search for where one input alone turns a claim: from a thousandth of its believed width
// to a million of it, in either direction.
const (
	firstStep, lastStep = 1e-3, 1e6
	growing             = 1.6
	turnBits            = 40 // of the step in which it turns
)

// alone are the values in SI of each item's input, all others at their middles, at which the
// claim turns, beliefs about this one aside: the next to its middle within the limits of its
// quantity; NaN where there is none, and for what is drawn as one. All searches go side by
// side, since a model takes many rows at once for little more than one.
func alone(probe *run.Probe, r *plan.Requirement, middles []float64) []float64 {
	found := make([]float64, len(r.Items))
	var searches []*away
	for k, item := range r.Items {
		if found[k] = math.NaN(); len(item.Scores) != 1 {
			continue
		}
		input := r.Scores[item.Scores[0]]
		low, high := probe.Limits(input)
		width := probe.Width(input)
		for _, sign := range []float64{-1, 1} {
			searches = append(searches, &away{item: k, input: input, low: low, high: high,
				middle: middles[k], step: sign * firstStep * width, last: lastStep * width, at: middles[k]})
		}
	}
	for going := searches; len(going) > 0; {
		held := make([]run.Held, len(going))
		for i, a := range going {
			held[i] = run.Held{Input: a.input, Value: a.at}
		}
		var left []*away
		for i, margin := range probe.Alone(held) {
			a := going[i]
			if a.next(margin) {
				left = append(left, a)
			} else if a.turn != nil && !(math.Abs(a.at-a.middle) >= math.Abs(found[a.item]-a.middle)) {
				found[a.item] = a.at
			}
		}
		going = left
	}
	return found
}

// An away is the search in one direction: steps that grow, until one turns the claim, then
// within that step.
type away struct {
	item, input int     // of the requirement, drawn
	low, high   float64 // limits of the quantity
	middle      float64
	step, last  float64 // the next step, its sign the direction; the longest
	at          float64 // where the margin is wanted; in the end where it turns

	began, holds   bool
	inside, margin float64 // the last place that did not turn it, with its margin
	turn           *claim.Turn
	end, share     float64 // of the step in which it turns: its end, how much of it is asked for
}

// next takes the margin at the place and moves on; false once the search is over, with a turn
// if there is one.
func (a *away) next(margin float64) bool {
	known, holds := margin == margin, margin >= 0
	switch {
	case a.turn != nil:
		a.turn.Tell(a.share, a.outside(margin), !known || holds != a.holds)
		return a.within()
	case !known:
		return false // as at the middle, so on the way
	case a.began && holds != a.holds:
		a.turn, a.end = claim.NewTurn(a.outside(a.margin), a.outside(margin), turnBits), a.at
		return a.within()
	case a.began && (a.at == a.low || a.at == a.high), !(math.Abs(a.step) < a.last):
		return false
	}
	a.began, a.holds, a.inside, a.margin = true, holds, a.at, margin
	a.at = min(max(a.middle+a.step, a.low), a.high)
	a.step *= growing
	return true
}

// outside is a margin with the sign of the side that is sought.
func (a *away) outside(margin float64) float64 {
	if a.holds {
		return -margin
	}
	return margin
}

// within asks for a place in the step that turns the claim.
func (a *away) within() (more bool) {
	a.share, more = a.turn.Next()
	a.at = float64((1-a.share)*a.inside) + float64(a.share*a.end)
	return more
}
