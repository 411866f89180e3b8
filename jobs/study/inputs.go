package study

import (
	"proofmass/jobs/study/source"
	"proofmass/model"
)

// sharedInputs reads `inputs`: the numbers that every vehicle shares, or all
// numbers of a model of formulas.
func (r *reader) sharedInputs(v source.Field) {
	pairs, ok := v.Pairs("inputs are a mapping: name: how well it is known")
	if !ok || !v.AtMost(source.MostEntries, "inputs") {
		r.refuse("inputs")
		return
	}
	for _, p := range pairs {
		if r.formulas() {
			if named(p, "input") {
				r.state(&r.inputs, p, "")
			} else {
				r.refuse("inputs")
			}
			continue
		}
		q, ok := r.stated(p, "")
		if !ok {
			continue
		}
		if st := r.twice(&r.inputs, p); st != nil {
			continue
		}
		st := r.item(p.Name, &q, p)
		st.Quantity = p.Name
		r.take(&r.inputs, st)
	}
}

// ownQuantities reads `own`: shared helpers that the catalogue does not have.
func (r *reader) ownQuantities(v source.Field) {
	if r.notInFormulas(v, "own") {
		return
	}
	pairs, ok := v.Pairs("own is a mapping: name: how well it is known")
	if !ok || !v.AtMost(source.MostEntries, "own quantities") {
		r.refuse("own")
		return
	}
	for _, p := range pairs {
		if f, ok := r.catalogue.FactorNamed(p.Name); ok && !f.Own {
			p.Key.Err(source.Quote(p.Name)+" as a name", "it is "+f.Called+", which every study of vehicles has")
			continue
		}
		switch {
		case !named(p, "own quantity"):
			r.refuse("own")
		case !r.ofCatalogue(p, "own"):
			r.state(&r.own, p, "")
		}
	}
}

// state reads a quantity that the catalogue does not have.
func (r *reader) state(to *statements, p source.Pair, owner string) {
	if st := r.twice(to, p); st != nil {
		return
	}
	st := r.item(p.Name, nil, p)
	st.Quantity, st.Vehicle = p.Name, owner
	r.take(to, st)
}

// twice returns what already states the name. The study's own lines are read
// before those of used files and win; two used files may not disagree.
func (r *reader) twice(in *statements, p source.Pair) *statement {
	st := in.named[p.Name]
	if st != nil && !st.value.InFileOf(r.root) && !st.value.InFileOf(p.Value) {
		p.Key.Err("also stated in "+st.Place.String(), "the study itself says which it means")
	}
	return st
}

// item reads how well a number is known into a statement. q is nil for a quantity that
// the catalogue does not have.
func (r *reader) item(name string, q *model.Quantity, p source.Pair) *statement {
	var words map[string]float64
	if q != nil {
		words = q.Words
	}
	n, ok := r.numbers.Read(name, q, words, p.Value)
	st := &statement{Input: inputOf(name, n, q), key: p.Key, value: p.Value, expr: n.At, unitStated: n.UnitStated, broken: !ok, withdrawn: n.Withdrawn}
	st.Place = p.Key.Place()
	return st
}

// take adds a statement to those of its kind, or keeps in sight that it was withdrawn.
func (r *reader) take(to *statements, st *statement) {
	if st.withdrawn == "" {
		to.add(st)
		return
	}
	r.withdraw(st.Name, st.Text, st.Free, st.withdrawn)
}
