package model

import (
	"math"

	"proofmass/model/unit"
)

// A Quantity declares one named number of a model, once: the study checker, the
// tables' metadata, the listing and the report all read this declaration.
type Quantity struct {
	Name    string
	Unit    unit.Unit // display unit, which also fixes the dimension
	Meaning string    // one line, in plain words
	Source  string    // of the relation or the definition

	// Low and High bound the value in SI, ends included unless LowOpen refuses
	// Low itself; infinities stand for no bound.
	Low, High float64
	LowOpen   bool

	// Default is text in the study's own grammar, so that this package need not
	// know distributions; "" means that there is none worth defending.
	Default, DefaultSource string
	DefaultJudged          bool // how wide the default is was judged, not measured: a guess

	// Optional quantities may be left out and then count as Absent (SI).
	Optional bool
	Absent   float64

	Traits

	Stated      bool // a study may state it
	Computed    bool // a rule can make it
	Temperature bool // an absolute temperature, not a difference

	Better int // 1 where more of it is what a maker announces, -1 where less is, else 0

	// Factor names the input that several drawn defaults are to whoever reads an
	// answer, "" for a quantity that stands for itself; what a study states stands for
	// itself in any case. ShownAs are the computed quantities that stand for a hidden
	// one, which has no column of its own.
	Factor  string
	ShownAs []string
}

// Bounds are the quantity's limits as a column is held to them: an open low end is
// the next number above it.
func (q Quantity) Bounds() Bounds {
	if q.LowOpen {
		return Bounds{math.Nextafter(q.Low, math.Inf(1)), q.High}
	}
	return Bounds{q.Low, q.High}
}

// Allows reports whether the SI value x lies within the quantity's limits; it is
// false for NaN.
func (q Quantity) Allows(x float64) bool {
	if q.LowOpen && x == q.Low {
		return false
	}
	return x >= q.Low && x <= q.High
}
