package study

import (
	"maps"
	"slices"
	"strings"

	"proofmass/model"
	"proofmass/model/unit"
)

// scale reads the numbers of one item: it knows the dimension they must have,
// the unit that serves bare numbers, and words that stand for numbers.
type scale struct {
	name        string // of the quantity, for messages
	known       bool   // the dimension is settled: by the catalogue or by the first unit met
	temperature bool   // an absolute temperature
	display     unit.Unit
	bare        *unit.Unit // from `unit:`
	words       map[string]float64
}

// scaleOf is the scale of a catalogue quantity.
func scaleOf(q model.Quantity) *scale {
	return &scale{name: q.Name, known: true, temperature: q.Temperature, display: q.Unit, words: wordsOf(q.Name)}
}

// freeScale is the scale of a quantity whose own line settles its unit.
func freeScale(name string) *scale { return &scale{name: name, display: unit.SI(unit.One)} }

// example is a right number, for messages.
func (c *scale) example(number string) string {
	if c.known && c.display.Dimension() == unit.One && c.display.String() == "1" {
		return number
	}
	if !c.known {
		return number + " kg"
	}
	return number + " " + c.display.String()
}

// setBare takes the unit of bare numbers from `unit:`.
func (c *scale) setBare(f field) bool {
	text, ok := f.text("a unit is expected, as in kg/m3")
	if !ok {
		return false
	}
	u, _, ok := f.unit(text, 0)
	if !ok || !c.fits(f, u) {
		return false
	}
	c.bare = &u
	return true
}

// fits holds a unit to the dimension of the item, which the first unit settles
// where the catalogue has none.
func (c *scale) fits(f field, u unit.Unit) bool {
	if !c.known {
		c.known, c.display, c.temperature = true, u, u.Absolute()
		return true
	}
	if u.Dimension() != c.display.Dimension() {
		needs := c.needs()
		if c.temperature && u.String() == "C" {
			needs += "; C is the coulomb: degrees Celsius are degC"
		}
		f.err(f.what()+" has the dimension "+u.Dimension().String(), needs)
		return false
	}
	if u.Absolute() && !c.temperature {
		f.err(f.what()+" is a temperature", c.name+" is a difference of temperatures, in K")
		return false
	}
	return true
}

func (c *scale) needs() string {
	d := c.display.Dimension()
	if d == unit.One {
		return c.name + " has none (1): a plain number or %"
	}
	if d.String() == c.display.String() {
		return c.name + " has " + d.String()
	}
	return c.name + " has " + d.String() + ", as in " + c.display.String()
}

// value reads a number as SI.
func (c *scale) value(f field) (float64, bool) {
	a, u, ok := c.read(f)
	return u.ToSI(a.x), ok && f.certain(a)
}

// difference reads a standard deviation or another difference as SI: those of
// temperatures are in K.
func (c *scale) difference(f field) (float64, bool) {
	a, u, ok := c.read(f)
	if !ok || !f.certain(a) {
		return 0, false
	}
	if u.Absolute() && !a.bare {
		f.err(f.what()+" is a temperature", "a spread or a difference of temperatures is in K")
		return 0, false
	}
	return u.DeltaToSI(a.x), true
}

// certain refuses an uncertainty in parentheses where only a number may stand.
func (f field) certain(a amount) bool {
	if a.hasSD {
		f.err(f.what(), "value(uncertainty) stands alone, not within another distribution")
	}
	return !a.hasSD
}

// read reads a number and settles its unit.
func (c *scale) read(f field) (amount, unit.Unit, bool) {
	if x, ok := c.words[f.node.Value]; ok && f.isScalar() {
		return amount{x: x, bare: true}, unit.SI(unit.One), true
	}
	if len(c.words) > 0 && f.isScalar() && numberHead.FindString(f.node.Value) == "" {
		f.err(f.what(), suggestOr(f.node.Value, slices.Sorted(maps.Keys(c.words))))
		return amount{}, unit.SI(unit.One), false
	}
	a, ok := f.amount(c.example("68"))
	if !ok {
		return a, unit.SI(unit.One), false
	}
	switch u := a.unit; {
	case !a.bare:
		return a, u, c.fits(f, u)
	case c.bare != nil:
		return a, *c.bare, true
	case c.known && c.display.Dimension() != unit.One:
		f.err(f.what()+" has no unit", c.name+" has "+c.display.Dimension().String()+", as in "+c.written(f)+" "+c.display.String())
		return a, unit.SI(unit.One), false
	}
	c.known = true // a bare number without `unit:` has no dimension
	return a, unit.SI(unit.One), true
}

// written is the number as it stands, for an example.
func (c *scale) written(f field) string { return printable(strings.TrimSpace(f.node.Value), 30) }

// plain reads a number without dimension that is no value of the quantity.
func plain(f field, what string) (float64, bool) {
	c := &scale{name: what, known: true, display: unit.SI(unit.One)}
	return c.value(f)
}
