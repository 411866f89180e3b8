// Package shown says in which unit a number is shown where a study asks for another one
// than its table has: on the page, in figures and at the terminal, never in tables. The
// study checks what is asked for, the report does it.
package shown

import (
	"strings"

	"proofmass/model/unit"
)

// A Wish is a line of a study's show_in: of which quantities, in which unit.
type Wish struct {
	Of string `json:"of"` // a quantity, the last words of names of quantities, or a kind
	In string `json:"in"`
}

// Units are the wishes of a study. The zero value shows everything as it is stored.
type Units struct{ wishes []wish }

type wish struct {
	of string
	to unit.Unit
}

// String lists what is asked for: "range in mile, mass in lb".
func (u Units) String() string {
	var words []string
	for _, w := range u.wishes {
		words = append(words, strings.ReplaceAll(w.of, "_", " ")+" in "+w.to.String())
	}
	return strings.Join(words, ", ")
}

// kinds are words for all quantities of a dimension.
var kinds = map[string]string{"mass": "kg", "power": "W", "speed": "m/s", "temperature": "K"}

// New makes units of wishes; one whose unit is none is left out.
func New(wishes []Wish) Units {
	var u Units
	for _, w := range wishes {
		if to, err := unit.Parse(w.In); err == nil {
			u.wishes = append(u.wishes, wish{w.Of, to})
		}
	}
	return u
}

// None reports whether nothing is asked for.
func (u Units) None() bool { return len(u.wishes) == 0 }

// A Conversion takes numbers from the unit of a table to the one that is shown.
type Conversion struct{ from, to unit.Unit }

// Of finds the unit for a quantity or its change, by its full name, that is stored in the
// unit from: what is asked for its own name comes before what is asked for its last words,
// more words before fewer, and those before its kind. It is false where nothing is asked
// for or what is asked for is of another dimension, as it is for a change in per cent.
func (u Units) Of(name, from string) (Conversion, bool) {
	stored, err := unit.Parse(from)
	if err != nil {
		return Conversion{}, false
	}
	best, most := Conversion{}, 0
	for _, w := range u.wishes {
		if n := Meant(w.of, name, stored); n > most && Fits(stored, w.to) {
			best, most = Conversion{stored, w.to}, n
		}
	}
	return best, most > 0
}

// Meant says how closely a word of show_in names a quantity that is stored in a unit: 0
// not at all.
func Meant(word, name string, stored unit.Unit) int {
	quantity := name[strings.LastIndexByte(name, '.')+1:]
	closest := 0
	for _, suffix := range []string{"", "_change", "_difference", "_remainder"} {
		if of, ok := strings.CutSuffix(quantity, suffix); ok && (of == word || strings.HasSuffix(of, "_"+word)) {
			closest = max(closest, 1+len(word))
		}
	}
	if kind, err := unit.Parse(kinds[word]); closest == 0 && err == nil && kind.Dimension() == stored.Dimension() {
		closest = 1
	}
	return closest
}

// Fits reports whether numbers of one unit can be shown in another: of the same dimension
// and the same money, and no difference of temperatures on a scale with a zero of its own.
func Fits(stored, to unit.Unit) bool {
	return stored.Dimension() == to.Dimension() && stored.Currency() == to.Currency() && (stored.Absolute() || !to.Absolute())
}

// Unit is the unit that is shown.
func (c Conversion) Unit() string { return c.to.String() }

// Value converts a value.
func (c Conversion) Value(x float64) float64 { return c.to.FromSI(c.from.ToSI(x)) }

// Difference converts a difference or a standard deviation.
func (c Conversion) Difference(x float64) float64 { return c.to.DeltaFromSI(c.from.DeltaToSI(x)) }
