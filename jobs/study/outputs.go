package study

import "proofmass/model/formula"

// outputDecl is an extra output as the study states it.
type outputDecl struct {
	Output
	key, expr   field
	unitField   field
	hasUnit     bool
	temperature bool
	checked     bool
	broken      bool
}

// extraOutputs reads `outputs`: expressions, alone or with a unit.
func (r *reader) extraOutputs(v field) {
	pairs, ok := v.pairs("outputs are a mapping: name: expression")
	if !ok || !v.atMost(mostEntries, "outputs") {
		return
	}
	for _, p := range pairs {
		if !p.named("output") || p.ofCatalogue("outputs") {
			continue
		}
		o := &outputDecl{key: p.key}
		o.Name, o.Place = p.name, p.key.place()
		o.broken = !r.readOutput(o, p.value)
		r.outputs = append(r.outputs, o)
		r.outputNamed[o.Name] = o
	}
}

func (r *reader) readOutput(o *outputDecl, v field) bool {
	if !v.isMapping() {
		return r.outputExpression(o, v)
	}
	var expr *field
	known := freeKeys(&o.Free).with(handlers{
		"formula": func(f field) { expr = &f },
		"unit":    func(f field) { o.unitField, o.hasUnit = f, true },
	})
	before := r.errs.count
	known.read(v, "an output", "history", "withdrawn")
	o.Meaning = o.Free.Meaning
	if r.errs.count > before {
		return false
	}
	if expr == nil {
		v.err("no formula", "an output is {formula: expression, unit: kg} or the bare expression")
		return false
	}
	if o.hasUnit {
		text, ok := o.unitField.text("a unit is expected, as in kg")
		if !ok {
			return false
		}
		if o.Unit, _, ok = o.unitField.unit(text, 0); !ok {
			return false
		}
	}
	return r.outputExpression(o, *expr)
}

func (r *reader) outputExpression(o *outputDecl, v field) bool {
	e, ok := v.expression("an output is {formula: expression, unit: kg} or the bare expression")
	o.Expr, o.expr = e, v
	return ok
}

// expression parses an expression; its names are checked when all are known.
func (f field) expression(allowed string) (*formula.Expr, bool) {
	text, ok := f.text(allowed)
	if !ok {
		return nil, false
	}
	e, err := formula.Parse(text)
	if err != nil {
		f.expressionError(err)
		return nil, false
	}
	return e, f.src.sameCurrency(f, e.Currency())
}

// output finds an extra output by name, nil if there is none.
func (r *reader) output(name string) *outputDecl { return r.outputNamed[name] }
