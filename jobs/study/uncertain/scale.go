package uncertain

import (
	"maps"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
)

// Scale reads the numbers of one item: it knows the dimension they must have,
// the unit that serves bare numbers, and words that stand for numbers.
type Scale struct {
	Change string // what to name instead where somebody writes per cent, "" if there is nothing

	context     *Context
	name        string // of the quantity, for messages
	known       bool   // the dimension is settled: by the catalogue or by the first unit met
	temperature bool   // an absolute temperature
	display     unit.Unit
	bare        *unit.Unit // from `unit:`
	words       map[string]float64

	plain, percent bool // forms in which numbers without dimension were met
}

// Scale is the scale of a quantity that is known: its name for messages, its display
// unit, and whether it is an absolute temperature.
func (x *Context) Scale(name string, display unit.Unit, temperature bool) *Scale {
	return &Scale{context: x, name: name, known: true, temperature: temperature, display: display}
}

// example is a right number, for messages.
func (c *Scale) example(number string) string {
	if c.known && c.display.Dimension() == unit.One && c.display.String() == "1" {
		return number
	}
	if !c.known {
		return number + " kg"
	}
	return number + " " + c.display.String()
}

// setBare takes the unit of bare numbers from `unit:`.
func (c *Scale) setBare(f source.Field) bool {
	u, ok := c.context.Unit(f)
	if !ok || !c.fits(f, u) {
		return false
	}
	c.bare = &u
	return true
}

// fits holds a unit to the dimension of the item, which the first unit settles
// where the catalogue has none.
func (c *Scale) fits(f source.Field, u unit.Unit) bool {
	if !c.known {
		c.known, c.display, c.temperature = true, u, u.Absolute()
		return true
	}
	if u.Dimension() != c.display.Dimension() {
		needs := c.needs()
		if c.temperature && u.String() == "C" {
			needs += "; C is the coulomb: degrees Celsius are degC"
		}
		if u.Dimension() == unit.One && c.Change != "" {
			needs += "; a change in per cent is " + c.Change
		}
		f.Err(f.What()+" has the dimension "+u.Dimension().String(), needs)
		return false
	}
	if u.Absolute() && !c.temperature {
		f.Err(f.What()+" is a temperature", c.name+" is a difference of temperatures, in K")
		return false
	}
	return true
}

func (c *Scale) needs() string {
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
func (c *Scale) value(f source.Field) (float64, bool) {
	a, u, ok := c.read(f)
	return u.ToSI(a.x), ok && certain(f, a) && c.alike(f, a, u)
}

// alike refuses a bare number among others in per cent, and the other way round: 60 %,
// 80 %, 95 is a slip. 0 is 0.
func (c *Scale) alike(f source.Field, a amount, u unit.Unit) bool {
	form := &c.plain
	switch {
	case a.x == 0 || u.Dimension() != unit.One || c.bare != nil || len(c.words) > 0:
		return true
	case u.String() == "%":
		form = &c.percent
	}
	*form = true
	if c.plain && c.percent {
		f.Err(f.What()+" stands among numbers written otherwise", "all numbers of one item have %, or none has")
		return false
	}
	return true
}

// Difference reads a standard deviation or another difference as SI: those of
// temperatures are in K.
func (c *Scale) Difference(f source.Field) (float64, bool) {
	a, u, ok := c.read(f)
	if !ok || !certain(f, a) {
		return 0, false
	}
	if u.Absolute() && !a.bare {
		f.Err(f.What()+" is a temperature", "a spread or a difference of temperatures is in K")
		return 0, false
	}
	return u.DeltaToSI(a.x), true
}

// certain refuses an uncertainty in parentheses where only a number may stand.
func certain(f source.Field, a amount) bool {
	if a.hasSD {
		f.Err(f.What(), "value(uncertainty) stands alone, not within another distribution")
	}
	return !a.hasSD
}

// Announced reads a number as it stands, with the unit that it is in and whether that
// was written beside it.
func (c *Scale) Announced(f source.Field) (x float64, u unit.Unit, bare, ok bool) {
	a, u, ok := c.read(f)
	return a.x, u, a.bare, ok && certain(f, a)
}

// read reads a number and settles its unit.
func (c *Scale) read(f source.Field) (amount, unit.Unit, bool) {
	if x, ok := c.words[f.Raw()]; ok && f.IsScalar() {
		return amount{x: x, bare: true}, unit.SI(unit.One), true
	}
	if len(c.words) > 0 && f.IsScalar() && numberHead.FindString(f.Raw()) == "" {
		f.Err(f.What(), source.SuggestOr(f.Raw(), slices.Sorted(maps.Keys(c.words))))
		return amount{}, unit.SI(unit.One), false
	}
	a, ok := c.context.amount(f, c.example("68"))
	if !ok {
		return a, unit.SI(unit.One), false
	}
	switch u := a.unit; {
	case !a.bare:
		return a, u, c.fits(f, u)
	case c.bare != nil:
		return a, *c.bare, true
	case c.known && c.display.Dimension() != unit.One:
		f.Err(f.What()+" has no unit", c.name+" has "+c.display.Dimension().String()+", as in "+c.written(f)+" "+c.display.String())
		return a, unit.SI(unit.One), false
	}
	c.known = true // a bare number without `unit:` has no dimension
	return a, unit.SI(unit.One), true
}

// written is the number as it stands, for an example.
func (c *Scale) written(f source.Field) string {
	return source.Printable(strings.TrimSpace(f.Raw()), 30)
}

// Plain reads a number without dimension that is no value of the quantity.
func Plain(f source.Field, what string) (float64, bool) {
	return new(Context).Scale(what, unit.SI(unit.One), false).value(f)
}
