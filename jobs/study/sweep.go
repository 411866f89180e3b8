package study

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model"
)

// maySweep finds what a swept name stands for: an input that could be stated there. q is
// nil for what the catalogue does not have. Where tell is not set what is wrong is known.
func (r *reader) maySweep(p source.Pair, tell bool) (q *model.Quantity, ok bool) {
	before := r.errs.Count()
	defer func() { ok = ok && r.errs.Count() == before }()
	if r.formulas() || r.own.named[p.Name] != nil {
		if st := r.inputs.named[p.Name]; r.formulas() && st == nil {
			return nil, !tell || named(p, "input")
		}
		return nil, true
	}
	owner, quantity, full := strings.Cut(p.Name, ".")
	if !full {
		if found, known := r.catalogue.Find(p.Name); known && found.Stated {
			return &found, true
		}
		if tell {
			r.stated(p, "")
		}
		return nil, false
	}
	d := r.vehicle(owner)
	if d == nil {
		if tell && !r.unread["vehicles"] {
			p.Key.Err("no vehicle is called "+source.Quote(owner), source.SuggestOr(owner, r.vehicleNames()))
		}
		return nil, false
	}
	if item, rest, isItem := strings.Cut(quantity, "."); isItem && (item == "displaced" || item == "added" || item == "bill") {
		list := map[string]statements{"displaced": d.displaced, "added": d.added, "bill": d.bill}[item]
		if list.named[p.Name] == nil {
			if tell {
				p.Key.Err(source.Quote(rest)+" is no item under "+item+" of "+owner, "name one that stands there")
			}
			return nil, false
		}
		mass, _ := r.catalogue.Find("pack_mass")
		mass.Name, mass.Low, mass.LowOpen = rest, 0, false
		if _, what, inLine := strings.Cut(rest, "."); inLine {
			mass = lineQuantity(what)
		}
		return &mass, true
	}
	if found, known := r.catalogue.Find(quantity); known && found.Stated {
		return &found, true
	}
	if tell {
		inner := p
		inner.Name = quantity
		r.stated(inner, owner)
	}
	return nil, false
}

// sweep puts a constant that differs by choice in the place of what states the name, or
// where it could be stated.
func (r *reader) sweep(i int, s *sweep) {
	n := s.values[0].number
	var texts []string
	for k, value := range s.values {
		if !slices.Contains(texts, value.text) && k < 1000 {
			texts = append(texts, value.text)
		}
	}
	n.Text = fmt.Sprintf("chosen: %s", texts[0])
	switch {
	case len(texts) > 1 && len(texts) <= 4:
		n.Text = "chosen: " + source.Listed(texts, "or")
	case len(texts) > 4:
		n.Text = fmt.Sprintf("chosen: %d values from %s to %s", len(texts), texts[0], texts[len(texts)-1])
	}
	n.Text = source.Printable(n.Text, 200)
	owner, quantity, full := strings.Cut(s.name, ".")
	if !full {
		owner, quantity = "", s.name
	}
	var q *model.Quantity
	if found, known := r.catalogue.Find(quantity); known && !r.formulas() {
		q = &found
	}
	in := inputOf(s.name, n, q)
	in.Vehicle, in.Quantity, in.Choice, in.Place = owner, quantity, i+1, s.key.Place()
	if st := r.statement(s.name); st != nil {
		in.Free.Meaning = st.Free.Meaning
		in.Low, in.High = st.Low, st.High
		if q == nil && !st.broken && st.Kind != Formula {
			if st.Unit.Dimension() != in.Unit.Dimension() {
				s.key.Err(s.values[0].text+" has another dimension than what is stated in "+st.Place.String(), "the choice has the dimension of what it replaces")
			}
			in.Unit = st.Unit
		}
		*st.Input, st.expr, st.broken = *in, source.Field{}, false
		return
	}
	st := &statement{Input: in, key: s.key, value: s.key, chosen: true}
	if d := r.vehicle(owner); d != nil {
		d.stated.add(st)
	} else {
		r.inputs.add(st)
	}
}

// choicesInUse refuses a name of a model of formulas that nothing declares but the choices, and
// nothing reads: it is misspelt.
func (r *resolver) choicesInUse() {
	if !r.formulas() {
		return
	}
	read := r.live()
	for _, a := range r.aims {
		read[a.figure.Of] = true
	}
	var known []string
	for _, st := range r.statements() {
		if !st.chosen && st.Kind != Formula {
			known = append(known, st.Name)
		}
	}
	for _, st := range r.statements() {
		if !st.chosen || read[st.Name] {
			continue
		}
		st.key.Err("no input is called "+source.Quote(st.Name)+", and no formula reads it", "a choice sets what an output depends on"+source.OrMeant(st.Name, known))
	}
}
