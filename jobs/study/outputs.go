package study

import (
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
)

// extraOutputs reads `outputs`: expressions, alone or with a unit.
func (r *reader) extraOutputs(v source.Field) {
	pairs, ok := v.Pairs("outputs are a mapping: name: expression")
	if !ok || !v.AtMost(source.MostEntries, "outputs") {
		r.refuse("outputs")
		return
	}
	for _, p := range pairs {
		if !named(p, "output") || r.ofCatalogue(p, "outputs") {
			r.refuse("outputs")
			continue
		}
		o := &outputDecl{key: p.Key}
		o.Name, o.Place = p.Name, p.Key.Place()
		o.broken = !r.readOutput(o, p.Value)
		if o.withdrawn != "" && !o.broken {
			r.withdraw(o.Name, source.Printable(strings.TrimSpace(o.expr.Raw()), 500), o.Free, o.withdrawn)
			continue
		}
		r.outputs = append(r.outputs, o)
		r.outputNamed[o.Name] = o
	}
}

func (r *reader) readOutput(o *outputDecl, v source.Field) bool {
	if !v.IsMapping() {
		return r.outputExpression(o, v)
	}
	var expr *source.Field
	known := uncertain.FreeKeys(&o.Free).With(source.Handlers{
		"formula":   func(f source.Field) { expr = &f },
		"unit":      func(f source.Field) { o.unitField, o.hasUnit = f, true },
		"withdrawn": func(f source.Field) { o.withdrawn = uncertain.Reason(f) },
	})
	before := r.errs.Count()
	known.Read(v, "an output")
	o.Meaning = o.Free.Meaning
	if r.errs.Count() > before {
		return false
	}
	if expr == nil {
		v.Err("no formula", "an output is {formula: expression, unit: kg} or the bare expression")
		return false
	}
	if o.hasUnit {
		var ok bool
		if o.Unit, ok = r.numbers.Unit(o.unitField); !ok {
			return false
		}
	}
	return r.outputExpression(o, *expr)
}

func (r *reader) outputExpression(o *outputDecl, v source.Field) bool {
	e, ok := r.numbers.Expression(v, "an output is {formula: expression, unit: kg} or the bare expression")
	o.Expr, o.expr = e, v
	return ok
}
