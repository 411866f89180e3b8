package study

import "proofmass/model/vehicle"

// mostEntries bounds the inputs, own quantities, outputs, claims and items each.
const mostEntries = 1000

// sharedInputs reads `inputs`: the numbers that every vehicle shares, or all
// numbers of a model of formulas.
func (r *reader) sharedInputs(v field) {
	pairs, ok := v.pairs("inputs are a mapping: name: how well it is known")
	if !ok || !v.atMost(mostEntries, "inputs") {
		return
	}
	for _, p := range pairs {
		if r.formulas() {
			if p.named("input") {
				r.state(&r.inputs, p, "")
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
		st, good := readItem(p.name, &q, p)
		st.Quantity, st.broken = p.name, !good
		r.inputs.add(st)
	}
}

// ownQuantities reads `own`: shared helpers that the catalogue does not have.
func (r *reader) ownQuantities(v field) {
	if r.notInFormulas(v, "own") {
		return
	}
	pairs, ok := v.pairs("own is a mapping: name: how well it is known")
	if !ok || !v.atMost(mostEntries, "own quantities") {
		return
	}
	for _, p := range pairs {
		if p.name == modelError {
			p.key.err(quote(p.name)+" as a name", "it is the model's own error, which every study of vehicles has")
			continue
		}
		if p.named("own quantity") && !p.ofCatalogue("own") {
			r.state(&r.own, p, "")
		}
	}
}

// state reads a quantity that the catalogue does not have.
func (r *reader) state(to *statements, p pair, owner string) {
	if st := r.twice(to, p); st != nil {
		return
	}
	st, good := readItem(p.name, nil, p)
	st.Quantity, st.Vehicle, st.broken = p.name, owner, !good
	to.add(st)
}

// twice returns what already states the name. The study's own lines are read
// before those of used files and win; two used files may not disagree.
func (r *reader) twice(in *statements, p pair) *statement {
	st := in.named[p.name]
	if st != nil && st.value.src != r.main && st.value.src != p.value.src {
		p.key.err("also stated in "+st.at(), "the study itself says which it means")
	}
	return st
}

// at is the place of a statement as a reader finds it.
func (st *statement) at() string { return st.Place.String() }

// Default makes the input that the catalogue's default gives a quantity for which
// the study has nothing: a plain name, or the full name of a certified car's
// model_error_own. The error says that there is none.
func (s *Study) Default(quantity string) (Input, error) {
	return defaultInput(quantity, vehicle.DefaultText(quantity, s.lossesConstant()))
}
