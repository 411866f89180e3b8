package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/unit"
	"proofmass/sampling"
)

// statement is an input as a file states it; formulas are checked when all names
// are known.
type statement struct {
	Input
	key, value  field
	expr        field // of a formula
	temperature bool
	unitGiven   bool // of a formula, by `unit:`
	broken      bool // its error is already reported
	checked     bool // its expression
}

// itemReader reads one item into a statement.
type itemReader struct {
	s     *statement
	c     *scale
	parts map[string]field // of the mapping, by key
}

// laterItemKeys are keys of an item that the format has and this version has not.
var laterItemKeys = []string{"price", "history", "withdrawn"}

// besideKeys are keys that stand beside a distribution's own, and those that they
// belong to.
var besideKeys = []struct {
	key string
	to  []string
}{{"within", []string{"likely"}}, {"ends", []string{"triangular", "pert"}}, {"smooth", []string{"values"}}}

// readItem reads how well a number is known. q is nil for a quantity that the
// catalogue does not have.
func readItem(name string, q *model.Quantity, p pair) (*statement, bool) {
	s := &statement{key: p.key, value: p.value}
	s.Name, s.Place, s.Low, s.High = name, p.key.place(), math.Inf(-1), math.Inf(1)
	r := &itemReader{s: s, c: freeScale(name)}
	if q != nil {
		r.c, s.Low, s.High = scaleOf(*q), q.Low, q.High
	}
	ok := false
	if p.value.isMapping() {
		ok = r.mapping(p.value)
	} else if p.value.isList() {
		p.value.err("a list", "say what it is: between: [low, high], one_of: [values] or percentiles")
	} else {
		ok = r.number(p.value)
	}
	s.Unit, s.temperature = r.c.display, r.c.temperature
	if q != nil {
		s.Unit = q.Unit
	} else if r.c.bare != nil {
		s.Unit = *r.c.bare
	}
	return s, ok && r.within(q)
}

// number reads a constant, or a value with its standard uncertainty.
func (r *itemReader) number(f field) bool {
	a, u, ok := r.c.read(f)
	if !ok {
		return false
	}
	r.s.Text = printable(strings.TrimSpace(f.node.Value), 60)
	if a.bare && r.c.bare != nil {
		r.s.Text += " " + r.c.bare.String()
	}
	if !a.hasSD {
		r.s.Kind, r.s.Value = Constant, u.ToSI(a.x)
		return true
	}
	m, err := sampling.Normal(u.ToSI(a.x), u.DeltaToSI(a.sd))
	if err != nil {
		f.err(f.what(), "the uncertainty in parentheses is more than 0")
		return false
	}
	r.s.Kind, r.s.Marginal = Uncertain, m
	return true
}

// mapping reads an item with a distribution's key, a value or a formula.
func (r *itemReader) mapping(f field) bool {
	r.parts = map[string]field{}
	known := freeKeys(&r.s.Free)
	take := func(key string) func(v field) { return func(v field) { r.parts[key] = v } }
	var ways []string
	for _, d := range distributions {
		known[d.Key] = take(d.Key)
		ways = append(ways, d.Key)
	}
	for _, key := range []string{"unit", "min", "max"} {
		known[key] = take(key)
	}
	for _, beside := range besideKeys {
		known[beside.key] = take(beside.key)
	}
	before := f.src.errs.count
	known.read(f, "an input", laterItemKeys...)
	clean := f.src.errs.count == before
	if u, given := r.parts["unit"]; given && !r.c.setBare(u) {
		return false
	}
	var found []distribution
	for _, d := range distributions {
		if _, ok := r.parts[d.Key]; ok {
			found = append(found, d)
		}
	}
	switch {
	case len(found) == 0 && clean:
		f.err("no key says how well the number is known", "one of "+listed(ways, "or"))
		return false
	case len(found) > 1:
		r.parts[found[1].Key].err(fmt.Sprintf("%s beside %s", found[1].Key, found[0].Key), "an input is known in one way")
		return false
	case len(found) == 0:
		return false
	}
	return r.distribution(found[0]) && clean
}

// distribution reads the one distribution of a mapping with its limits.
func (r *itemReader) distribution(d distribution) bool {
	v := r.parts[d.Key]
	for _, beside := range besideKeys {
		if w, ok := r.parts[beside.key]; ok && !slices.Contains(beside.to, d.Key) {
			w.err(beside.key+" beside "+d.Key, beside.key+" belongs to "+listed(beside.to, "and"))
			return false
		}
	}
	if !d.read(r, v) {
		return false
	}
	return r.limits(d.Key, v)
}

// limits reads min and max and truncates.
func (r *itemReader) limits(key string, v field) bool {
	low, high, ok := math.Inf(-1), math.Inf(1), true
	bound := func(name, text string, to *float64) {
		f, given := r.parts[name]
		if !given || !ok {
			return
		}
		if r.s.Kind != Uncertain {
			instead := "in a formula write max(a, b) or min(a, b)"
			if r.s.Kind == Constant {
				instead = "a constant needs none"
			}
			f.err(name+" beside "+key, "min and max truncate a distribution: "+instead)
			ok = false
			return
		}
		if *to, ok = r.c.value(f); ok {
			r.s.Text += ", " + text + " " + r.written(f)
		}
	}
	bound("min", "at least", &low)
	bound("max", "at most", &high)
	if !ok || math.IsInf(low, -1) && math.IsInf(high, 1) {
		return ok
	}
	if low >= high {
		r.parts["min"].err("min "+r.written(r.parts["min"])+" is not below max "+r.written(r.parts["max"]), "min is below max")
		return false
	}
	m, err := sampling.Truncate(r.s.Marginal, low, high)
	if err != nil {
		v.err("min and max leave nothing of the distribution", "they keep at least 1e-12 of it")
		return false
	}
	r.s.Marginal = m
	return true
}

// written is a number as it stands, with the unit that serves it.
func (r *itemReader) written(f field) string {
	text := strings.TrimSpace(f.node.Value)
	if number := numberHead.FindString(text); r.c.bare != nil && number == text {
		text += " " + r.c.bare.String()
	}
	return printable(text, 60)
}

// beyond is the share of a distribution that may lie outside the limits of its
// quantity: so little that a draw there is counted as infeasible, and rare.
const beyond = 1e-6

// within holds the item to the limits of its quantity.
func (r *itemReader) within(q *model.Quantity) bool {
	if q == nil || r.s.Kind == Formula {
		return true
	}
	if r.s.Kind == Constant {
		if !q.Allows(r.s.Value) {
			r.s.value.err(quote(r.s.Text)+" is outside its limits", q.Name+" is "+limitsText(*q)+perCent(*q, r.s.Value))
			return false
		}
		return true
	}
	below, above := 0.0, 0.0
	if !math.IsInf(q.Low, -1) {
		edge := q.Low
		if !q.LowOpen {
			edge = math.Nextafter(q.Low, math.Inf(-1))
		}
		below = r.s.Marginal.CDF(edge)
	}
	if !math.IsInf(q.High, 1) {
		above = r.s.Marginal.Survival(q.High)
	}
	if below+above <= beyond {
		return true
	}
	if below+above > 0.999 {
		r.s.value.err(quote(r.s.Text)+" is outside its limits", q.Name+" is "+limitsText(*q)+perCent(*q, r.s.Marginal.Quantile(0.5)))
		return false
	}
	var advice []string
	if below > beyond/10 {
		advice = append(advice, "min")
	}
	if above > beyond/10 {
		advice = append(advice, "max")
	}
	r.s.value.err(fmt.Sprintf("a share of %.2g lies outside its limits", below+above),
		q.Name+" is "+limitsText(*q)+"; truncate with "+listed(advice, "and")+", or choose another distribution")
	return false
}

// perCent tells one who left the sign out: a share is at most 1.
func perCent(q model.Quantity, x float64) string {
	if q.Unit.String() != "%" || x <= q.High || x > 100 {
		return ""
	}
	return fmt.Sprintf(": per cent are written with their sign, as in %.4g %%", x)
}

// limitsText says what a quantity may be, in its display unit.
func limitsText(q model.Quantity) string {
	show := func(x float64) string { return inUnit(x, q.Unit) }
	var parts []string
	if !math.IsInf(q.Low, -1) {
		word := "at least "
		if q.LowOpen {
			word = "more than "
		}
		parts = append(parts, word+show(q.Low))
	}
	if !math.IsInf(q.High, 1) {
		parts = append(parts, "at most "+show(q.High))
	}
	return strings.Join(parts, " and ")
}

// inUnit prints an SI value in a unit.
func inUnit(x float64, u unit.Unit) string {
	text := fmt.Sprintf("%.10g", u.FromSI(x))
	if u.String() != "1" {
		text += " " + u.String()
	}
	return text
}

// formula reads an expression; its names are checked later.
func (r *itemReader) formula(v field) bool {
	text, ok := v.text("an expression is expected, as in 0.6 * bond_share")
	if !ok {
		return false
	}
	e, err := formula.Parse(text)
	if err != nil {
		v.expressionError(err)
		return false
	}
	r.s.Kind, r.s.Expr, r.s.expr, r.s.Text = Formula, e, v, "= "+text
	r.s.unitGiven = r.c.bare != nil
	return v.src.sameCurrency(v, e.Currency())
}
