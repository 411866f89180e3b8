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

// differenceUnit is the unit of differences of what u measures: K for a temperature.
func differenceUnit(u unit.Unit) unit.Unit {
	if u.Absolute() {
		return unit.SI(u.Dimension())
	}
	return u
}

// announcedClaim derives the condition of an announced value. With a announced and
// h half of what it is rounded to, all values that would have been announced so
// bear it out: |x| >= |a| - h with a's sign (at_least), |x| <= |a| + h (at_most),
// a - h <= x <= a + h (about).
func (r *resolver) announcedClaim(c *claimDecl) {
	t, err := r.typeOf(c.Of)
	if err != nil {
		uncertain.ExpressionError(c.of, err)
		return
	}
	q, ok := r.quantity(c.Of)
	if !ok || t.Bool {
		c.of.Err(c.of.What()+" is no number", "of names an input or an output")
		return
	}
	sc := r.numbers.Scale(c.Of, q.Unit, t.Temperature)
	a, u, bare, ok := sc.Announced(c.announced)
	if !ok {
		return
	}
	if bare && math.Abs(a) >= 1 && strings.HasSuffix(c.Of, "_change") {
		number := c.announced.Raw()
		c.announced.Err(c.announced.What()+" is "+uncertain.InUnit(a, q.Unit), "a change is announced in per cent: "+source.Printable(number, 30)+" %")
		return
	}
	half := 0.0 // in u
	if c.hasRound {
		step, ok := sc.Difference(c.rounded)
		if !ok {
			return
		}
		if step <= 0 {
			c.rounded.Err(c.rounded.What(), "rounded_to is more than 0")
			return
		}
		half = u.DeltaFromSI(step) / 2
	}
	if !c.sensible(a, half, t) {
		return
	}
	c.Announced, c.RoundedTo, c.MarginUnit = u.ToSI(a), u.DeltaToSI(2*half), differenceUnit(q.Unit)
	r.condition(c, a, half, u, t)
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
