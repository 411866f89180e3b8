package study

import (
	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/unit"
)

// A Fact is what is known from outside of an output or an input: what an instrument, a label
// or a leak says of it, and how well. Facts err independently of one another.
type Fact struct {
	Of string // full name of the output or input
	uncertain.Measurement
	Unit        unit.Unit // for display
	Temperature bool      // an absolute temperature
	Free        FreeText
	Place       Place
}

// factDecl is a fact as the study states it.
type factDecl struct {
	Fact
	value     source.Field
	of        source.Field
	parts     map[string]source.Field
	withdrawn string // why it no longer counts
}

// mostFacts bounds the facts of a study.
const mostFacts = 100

const factForm = "a fact is {of: OUTPUT, normal: {mean: 480 km, sd: 6 km}, source: TEXT}, or value, likely, student or between in place of normal"

// measured reads the facts that the inputs must agree with.
func (r *reader) measured(v source.Field) {
	list, ok := v.List("measured is a list of facts: [{of: boxed.label_range, normal: {mean: 480 km, sd: 6 km}, source: window label}]")
	if !ok || !v.AtMost(mostFacts, "facts") {
		return
	}
	for _, f := range list {
		r.fact(f)
	}
}

func (r *reader) fact(v source.Field) {
	d := &factDecl{value: v, parts: map[string]source.Field{}}
	d.Place = v.Place()
	known := uncertain.FreeKeys(&d.Free).With(source.Handlers{
		"of":        func(f source.Field) { d.of = f; d.Of, _ = f.Text("the name of an output or an input is expected") },
		"withdrawn": func(f source.Field) { d.withdrawn = uncertain.Reason(f) },
	})
	for _, key := range uncertain.MeasuredKeys() {
		known[key] = func(f source.Field) { d.parts[key] = f }
	}
	before := r.errs.Count()
	known.Read(v, "a fact of measured")
	switch {
	case r.errs.Count() > before:
	case d.Of == "":
		v.Err("no of", factForm)
	case d.withdrawn != "":
		r.pastFacts = append(r.pastFacts, d)
	default:
		r.facts = append(r.facts, d)
	}
}

// checkFacts looks up what was measured, and reads how well in its unit.
func (r *resolver) checkFacts() {
	if r.carless() || r.unclear {
		return
	}
	for _, d := range r.facts {
		if r.reading(d) && r.computable(d.of, 0, d.Of) {
			r.mayTell(d)
		}
	}
	for _, d := range r.pastFacts {
		if !r.s.isWithdrawn(d.Of) { // of what is no more only the reason stays
			r.reading(d)
		}
	}
}

// reading reads what the instrument shows. It reports whether all is right.
func (r *resolver) reading(d *factDecl) bool {
	var ok bool
	if d.Unit, d.Temperature, ok = r.measurable(d.of, d.Of); !ok {
		return false
	}
	d.Measurement, ok = r.numbers.Measured(d.Of, d.Unit, d.Temperature, d.value, d.parts)
	return ok
}

// measurable finds the unit of what an instrument shows, and whether it is an absolute
// temperature. It reports whether there is such a number.
func (r *resolver) measurable(of source.Field, name string) (u unit.Unit, temperature, ok bool) {
	t, err := r.typeOf(name)
	if err != nil {
		uncertain.ExpressionError(of, err)
		return u, false, false
	}
	q, ok := r.quantity(name)
	if !ok || t.Bool {
		of.Err(of.What()+" is no number", "of names an input or an output")
		return u, false, false
	}
	return q.Unit, t.Temperature, true
}

// mayTell refuses a fact that no draw could answer to more than another, and one that each
// choice would answer to otherwise.
func (r *resolver) mayTell(d *factDecl) {
	if r.s.Choices != nil {
		d.value.Err("a fact beside choices", "not built yet: leave out measured, or choices")
		return
	}
	if r.hangsOnDraws(d.Of) {
		return
	}
	d.of.Err(d.Of+" is the same in every draw", "a fact tells which draws are likelier: measure what hangs on an uncertain input")
}

// fillFacts puts them into the study.
func (r *resolver) fillFacts() {
	for _, d := range r.facts {
		r.s.Facts = append(r.s.Facts, d.Fact)
		r.s.past(d.Of+" measured", d.Free)
	}
	for _, d := range r.pastFacts {
		stated := "measured"
		if d.Text != "" {
			stated += ": " + d.Text
		}
		r.s.Withdrawn = append(r.s.Withdrawn, Withdrawn{d.Of, stated, d.Free.HowKnown, d.Free.Source, d.withdrawn})
		r.s.past(d.Of+" measured", d.Free)
	}
}
