package study

import (
	"proofmass/jobs/shown"
	"proofmass/jobs/study/source"
	"proofmass/model"
	"proofmass/model/unit"
)

// mostShown bounds what is compared with every name of the catalogue.
const mostShown = 100

// A shownDecl is a line of show_in.
type shownDecl struct {
	source.Pair
	unit unit.Unit
}

// showIn reads in which units quantities are shown; their names are looked up when all is
// read.
func (r *reader) showIn(v source.Field) {
	pairs, ok := v.Pairs("show_in is a mapping: label_range: mile")
	if !ok || !v.AtMost(mostShown, "quantities") {
		return
	}
	for _, p := range pairs {
		if u, ok := r.numbers.Unit(p.Value); ok {
			r.shownIn = append(r.shownIn, shownDecl{p, u})
		}
	}
}

// checkShowIn looks up what show_in names: each line has to be of a quantity that can be
// shown so.
func (r *resolver) checkShowIn() {
	for _, d := range r.shownIn {
		fits, meant := false, ""
		var known []string
		for _, q := range r.showable() {
			known = append(known, q.Name)
			if shown.Meant(d.Name, q.Name, q.Unit) == 0 {
				continue
			}
			if meant == "" || q.Name == d.Name {
				meant = q.Name + " is in " + q.Unit.String()
			}
			fits = fits || shown.Fits(q.Unit, d.unit)
		}
		switch {
		case fits:
			r.s.ShowIn = append(r.s.ShowIn, shown.Wish{Of: d.Name, In: d.unit.String()})
		case meant != "":
			d.Value.Err(source.Quote(d.unit.String()), meant+": a unit of the same kind is expected")
		case r.errs.Full():
			d.Key.Err(source.Quote(d.Name)+" is not known", "")
		default:
			allowed := "show_in names a quantity without its vehicle, as label_range, the last words of names, as range, or mass, power, speed, temperature"
			if near := source.Nearest(d.Name, known); near != "" {
				allowed = `did you mean "` + near + `"?`
			}
			d.Key.Err(source.Quote(d.Name)+" is not known", allowed)
		}
	}
}

// showable are the quantities that this study has or may have.
func (r *resolver) showable() []model.Quantity {
	var all []model.Quantity
	if !r.formulas() {
		for _, q := range r.catalogue.Quantities() {
			all = append(all, r.s.inMoney(q))
		}
	}
	for _, st := range r.statements() {
		q := r.s.inputQuantity(st.Input)
		q.Name = st.Quantity
		all = append(all, q)
	}
	for _, o := range r.outputs {
		all = append(all, o.quantity())
	}
	return all
}
