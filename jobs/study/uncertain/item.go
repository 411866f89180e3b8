package uncertain

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/unit"
	"proofmass/sampling/marginal"
)

// A Number is how well one number is known, as a file says it. Every value is in SI.
type Number struct {
	Kind     Kind
	Value    float64           // of a Constant
	Marginal marginal.Marginal // of an Uncertain one
	Expr     *formula.Expr     // of a Formula, not checked: its names are known later
	At       source.Field      // of a Formula: where the expression stands
	Text     string            // how it is known, as written: "between 95 g and 98 g"
	Cut      float64           // share that lay beyond the limits of its quantity and was cut off
	Free     FreeText
	Price    float64 // of learning an Uncertain one exactly, in the study's money; 0: not stated
	// Withdrawn is why the number no longer counts, "" where it does. It was read all the same.
	Withdrawn string

	Unit        unit.Unit // for display
	UnitStated  bool      // by `unit:`
	Temperature bool      // an absolute temperature, not a difference
}

// item reads one item into a Number.
type item struct {
	s     *Number
	q     *model.Quantity // nil for what the catalogue does not have
	c     *Scale
	at    source.Field
	parts map[string]source.Field // of the mapping, by key

	freedom, scale float64 // of Student's t
}

// besideKeys are keys that stand beside a distribution's own, and those that they
// belong to.
var besideKeys = []struct {
	key string
	to  []string
}{{"within", []string{"likely"}}, {"ends", []string{"triangular", "pert"}}, {"smooth", []string{"values"}}}

// Read reads how well a number is known. q is nil for a quantity that the catalogue does
// not have, words are those that stand for numbers of q. It reports whether the number is
// right; what is known of it is returned all the same.
func (x *Context) Read(name string, q *model.Quantity, words map[string]float64, f source.Field) (Number, bool) {
	r := &item{s: &Number{}, q: q, c: &Scale{context: x, name: name, display: unit.SI(unit.One)}, at: f}
	if q != nil {
		r.c = x.Scale(q.Name, q.Unit, q.Temperature)
		r.c.words = words
	}
	ok := false
	if f.IsMapping() {
		ok = r.mapping(f)
	} else if f.IsList() {
		f.Err("a list", "say what it is: between: [low, high], one_of: [values] or percentiles")
	} else {
		ok = r.number(f)
	}
	r.s.Unit, r.s.Temperature = r.c.display, r.c.temperature
	if q != nil {
		r.s.Unit = q.Unit
	} else if r.c.bare != nil {
		r.s.Unit = *r.c.bare
	}
	return *r.s, ok && r.within(q)
}

// number reads a constant, or a value with its standard uncertainty.
func (r *item) number(f source.Field) bool {
	a, u, ok := r.c.read(f)
	if !ok {
		return false
	}
	r.s.Text = source.Printable(strings.TrimSpace(f.Raw()), 60)
	if a.bare && r.c.bare != nil {
		r.s.Text = withUnit(r.s.Text, *r.c.bare)
	}
	if !a.hasSD {
		r.s.Kind, r.s.Value = Constant, u.ToSI(a.x)
		return true
	}
	m, err := marginal.Normal(u.ToSI(a.x), u.DeltaToSI(a.sd))
	if err != nil {
		f.Err(f.What(), "the uncertainty in parentheses is more than 0")
		return false
	}
	r.s.Kind, r.s.Marginal = Uncertain, m
	return true
}

// mapping reads an item with a distribution's key, a value or a formula.
func (r *item) mapping(f source.Field) bool {
	r.parts = map[string]source.Field{}
	known := FreeKeys(&r.s.Free)
	take := func(key string) func(v source.Field) { return func(v source.Field) { r.parts[key] = v } }
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
	known["withdrawn"] = func(v source.Field) { r.s.Withdrawn = Reason(v) }
	known["price"] = take("price")
	before := f.Errors().Count()
	known.Read(f, "an input")
	clean := f.Errors().Count() == before
	if u, stated := r.parts["unit"]; stated && !r.c.setBare(u) {
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
		f.Err("no key says how well the number is known", "one of "+source.Listed(ways, "or"))
		return false
	case len(found) > 1:
		r.parts[found[1].Key].Err(fmt.Sprintf("%s beside %s", found[1].Key, found[0].Key), "an input is known in one way")
		return false
	case len(found) == 0:
		return false
	}
	return r.distribution(found[0]) && clean
}

// distribution reads the one distribution of a mapping with its limits.
func (r *item) distribution(d distribution) bool {
	v := r.parts[d.Key]
	for _, beside := range besideKeys {
		if w, ok := r.parts[beside.key]; ok && !slices.Contains(beside.to, d.Key) {
			w.Err(beside.key+" beside "+d.Key, beside.key+" belongs to "+source.Listed(beside.to, "and"))
			return false
		}
	}
	if !d.read(r, v) {
		return false
	}
	return r.limits(d.Key, v) && r.price(d.Key)
}

// price reads what it costs to learn the number exactly.
func (r *item) price(key string) (ok bool) {
	f, stated := r.parts["price"]
	switch {
	case !stated:
		return true
	case r.s.Kind == Constant:
		f.Err("price beside "+key, "what is known without doubt need not be learnt")
		return false
	case r.s.Kind == Formula:
		f.Err("price beside formula", "it follows from what it reads: could_measure says what measuring it costs")
		return false
	}
	r.s.Price, ok = r.c.context.Price(f)
	return ok
}

// limits reads min and max and truncates.
func (r *item) limits(key string, v source.Field) bool {
	low, high, ok := math.Inf(-1), math.Inf(1), true
	bound := func(name, text string, to *float64) {
		f, stated := r.parts[name]
		if !stated || !ok {
			return
		}
		if r.s.Kind != Uncertain {
			instead := "in a formula write max(a, b) or min(a, b)"
			if r.s.Kind == Constant {
				instead = "a constant needs none"
			}
			f.Err(name+" beside "+key, "min and max truncate a distribution: "+instead)
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
		r.parts["min"].Err("min "+r.written(r.parts["min"])+" is not below max "+r.written(r.parts["max"]), "min is below max")
		return false
	}
	m, err := marginal.Truncate(r.s.Marginal, low, high)
	if err != nil {
		v.Err("min and max leave nothing of the distribution", "they keep at least 1e-12 of it")
		return false
	}
	r.s.Marginal = m
	return true
}

// written is a number as it stands, with the unit that serves it.
func (r *item) written(f source.Field) string {
	text := strings.TrimSpace(f.Raw())
	if number := numberHead.FindString(text); r.c.bare != nil && number == text {
		text = withUnit(text, *r.c.bare)
	}
	return source.Printable(text, 60)
}

// formula reads an expression; its names are checked later.
func (r *item) formula(v source.Field) bool {
	e, ok := r.c.context.Expression(v, "an expression is expected, as in 0.6 * bond_share")
	if !ok {
		return false
	}
	r.s.Kind, r.s.Expr, r.s.At, r.s.Text = Formula, e, v, "= "+strings.TrimSpace(v.Raw())
	r.s.UnitStated = r.c.bare != nil
	return true
}
