package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/formula"
	"proofmass/model/unit"
)

// announcedClaim derives the condition of an announced value. With a announced and
// h half of what it is rounded to, all values that would have been announced so
// bear it out: |x| >= |a| - h with a's sign (at_least), |x| <= |a| + h (at_most),
// a - h <= x <= a + h (about).
func (r *resolver) announcedClaim(c *claimDecl) {
	a, ok := r.announcement(c)
	if !ok || !c.sensible(a.value, a.half, a.of) {
		return
	}
	c.Announced, c.RoundedTo, c.MarginUnit = a.in.ToSI(a.value), a.in.DeltaToSI(2*a.half), a.unit.OfDifferences()
	r.condition(c, a.value, a.half, a.in, a.of)
	r.readings(c, a)
}

// announcement is what was announced: the value and half of what it is rounded to, in the
// unit in which it was announced, and of what.
type announcement struct {
	value, half float64
	in          unit.Unit
	of          formula.Type
	unit        unit.Unit // of the output
}

// announcement reads all parts of a claim of an announced value that it has, each whatever
// is wrong with the others.
func (r *resolver) announcement(c *claimDecl) (a announcement, ok bool) {
	var numbers []source.Field
	if c.hasAnn {
		numbers = append(numbers, c.announced)
	}
	if c.hasRound {
		numbers = append(numbers, c.rounded)
	}
	if !r.announcedOf(c, &a) {
		for _, f := range numbers { // of what dimension is not known
			r.numbers.Read(c.Name, nil, nil, f)
		}
		return a, false
	}
	sc := r.numbers.Scale(c.Of, a.unit, a.of.Temperature)
	if _, known := r.quantity(c.Of + "_change"); known {
		sc.Change = c.Of + "_change"
	}
	ok = c.hasAnn
	if c.hasAnn {
		ok = a.read(c, sc)
	}
	if c.hasRound {
		step, good := sc.Difference(c.rounded)
		if good && step <= 0 {
			c.rounded.Err(c.rounded.What(), "rounded_to is more than 0")
			good = false
		}
		if ok = ok && good; ok {
			a.half = a.in.DeltaFromSI(step) / 2
		}
	}
	return a, ok
}

// announcedOf finds out what a claim is about.
func (r *resolver) announcedOf(c *claimDecl, a *announcement) bool {
	if c.Of == "" {
		return false
	}
	var err error
	if a.of, err = r.typeOf(c.Of); err != nil {
		uncertain.ExpressionError(c.of, err)
		return false
	}
	q, ok := r.quantity(c.Of)
	if !ok || a.of.Bool {
		c.of.Err(c.of.What()+" is no number", "of names an input or an output")
		return false
	}
	a.unit = q.Unit
	return true
}

// read reads the announced value.
func (a *announcement) read(c *claimDecl, sc *uncertain.Scale) bool {
	var bare, ok bool
	if a.value, a.in, bare, ok = sc.Announced(c.announced); !ok {
		return false
	}
	if bare && math.Abs(a.value) >= 1 && strings.HasSuffix(c.Of, "_change") {
		c.announced.Err(c.announced.What()+" is "+uncertain.InUnit(a.value, a.unit), "a change is announced in per cent: "+source.Printable(c.announced.Raw(), 30)+" %")
		return false
	}
	return true
}

// sensible refuses values from which no condition follows.
func (c *claimDecl) sensible(a, half float64, t formula.Type) bool {
	if t.Temperature || c.Sense == "about" {
		return true
	}
	switch {
	case a == 0:
		c.announced.Err(c.announced.What(), "an announced 0 has no sign: write the condition with holds")
	case math.Abs(a) < half:
		c.rounded.Err(c.rounded.What()+" is more than twice what was announced", "write the condition with holds")
	default:
		return true
	}
	return false
}

// decimal is the number that was meant by a sum of written ones: 0.6 - 0.05 is 0.55.
func decimal(x float64) float64 {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	return x
}

// condition makes the expression, its margin and its text. The limit is worked out
// in the unit it was announced in, so that 9 % and 1 % give 8.5 % to the last digit.
func (r *resolver) condition(c *claimDecl, a, half float64, u unit.Unit, t formula.Type) {
	c.AnnouncedIn = u
	show := func(x float64) string {
		text := fmt.Sprintf("%.12g", x)
		if u.String() != "1" && u.String() != "" {
			text += " " + u.String()
		}
		return text
	}
	low, high := decimal(a-half), decimal(a+half)
	if c.Sense == "about" {
		c.Expr = formula.Between(c.Of, u.ToSI(low), u.ToSI(high), t.Dimension)
		c.Text = fmt.Sprintf("%s from %s to %s", c.Of, show(low), show(high))
	} else {
		op, limit := ">=", low
		c.Way = 1
		if (c.Sense == "at_most") != (a < 0 && !t.Temperature) {
			op, limit, c.Way = "<=", high, -1
		}
		c.Expr = formula.Compare(c.Of, op, u.ToSI(limit), t.Dimension)
		c.Text = fmt.Sprintf("%s %s %s", c.Of, op, show(limit))
		c.Limit, c.Below = u.ToSI(limit), op == "<="
	}
	step := ""
	if half > 0 {
		step = show(decimal(2 * half))
		if u.Absolute() {
			step = fmt.Sprintf("%.12g K", u.DeltaToSI(2*half))
		}
	}
	c.Words = r.inWords(c, show(low), show(high), show(a), step)
	if _, err := c.Expr.Check(r.typeOf); err != nil {
		uncertain.ExpressionError(c.of, err)
		return
	}
	if margin, ok := c.Expr.Margin(); ok {
		if _, err := margin.Check(r.typeOf); err == nil {
			c.Margin = margin
		}
	}
}
