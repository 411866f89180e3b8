package claim

import "math"

// A Turn searches the way from one place, share 0, to another, share 1, for where a claim
// turns: the ITP method of Oliveira and Takahashi (2020, ACM Trans. Math. Softw. 47), which
// needs at most one value more than halving does, and few where the margin is smooth. It asks
// rather than calls, so that many searches can have their values of one evaluation.
type Turn struct {
	before, after     float64 // shares: it has not turned, it has
	atBefore, atAfter float64
	bits, steps       int
}

// towards is the method's kappa 1, how far a step goes beyond where the line through both ends
// is nil, as a share of the width's square.
const towards = 0.2

// NewTurn starts with what stands at both ends, below nil where it has not turned and above
// where it has; the way is searched to 2^-bits of itself.
func NewTurn(atBefore, atAfter float64, bits int) *Turn {
	return &Turn{after: 1, atBefore: atBefore, atAfter: atAfter, bits: bits}
}

// Next is the share whose value Tell wants; false once the search is over, with the smallest
// share that is known to have turned.
func (t *Turn) Next() (share float64, more bool) {
	width := t.after - t.before
	if width <= math.Ldexp(1, -t.bits) {
		return t.after, false
	}
	middle := t.before + width/2
	line := (float64(t.before*t.atAfter) - float64(t.after*t.atBefore)) / (t.atAfter - t.atBefore)
	if !(line > t.before && line < t.after) {
		return middle, true // an end is infinite, or the line says nothing
	}
	side, share := math.Copysign(1, middle-line), middle
	if beyond := float64(towards * width * width); math.Abs(middle-line) > beyond {
		share = line + float64(side*beyond)
	}
	if room := math.Ldexp(1, -t.steps) - width/2; math.Abs(share-middle) > room {
		share = middle - float64(side*room)
	}
	return share, true
}

// Tell takes the value at Next's share.
func (t *Turn) Tell(share, value float64, turned bool) {
	if t.steps++; turned {
		t.after, t.atAfter = share, value
	} else {
		t.before, t.atBefore = share, value
	}
}
