package study

import (
	"errors"
	"slices"
	"strings"

	"proofmass/model/vehicle"
)

// resolveCars works out what each vehicle is given, bases first, and makes the
// system. It reports whether that could be done.
func (r *resolver) resolveCars() bool {
	before := r.errs.Count()
	open := map[*vehicleDecl]bool{}
	for _, d := range r.vehicles {
		r.resolveCar(d, open)
	}
	for _, d := range r.vehicles {
		if d.car == nil {
			return false
		}
	}
	if r.errs.Count() > before {
		return false
	}
	for _, d := range r.vehicles {
		r.s.Vehicles = append(r.s.Vehicles, d.Vehicle)
		r.s.Cars = append(r.s.Cars, *d.car)
		if d.Run && d.Name != r.s.Baseline {
			r.s.Candidates = append(r.s.Candidates, d.Name)
		}
	}
	return r.makeSystem()
}

// resolveCar resolves the bases of a vehicle, then the vehicle.
func (r *resolver) resolveCar(d *vehicleDecl, open map[*vehicleDecl]bool) bool {
	if d.car != nil {
		return true
	}
	if d.looped {
		return false
	}
	open[d] = true
	defer delete(open, d)
	var bases []*vehicleDecl
	for _, f := range d.bases {
		base := r.vehicle(strings.TrimSpace(f.Raw()))
		switch {
		case base == nil && r.missed(f.Raw(), r.vehicleNames(), "vehicles"):
			return false
		case base == nil:
			f.Err(f.What()+" is no vehicle of this study", suggestNames(f.Raw(), r.vehicleNames()))
			return false
		case open[base]:
			for looped := range open {
				looped.looped = true
			}
			f.Err(d.Name+" is based on "+loopText(d, base), "a vehicle cannot be based on itself")
			return false
		case !r.resolveCar(base, open):
			return false
		}
		bases = append(bases, base)
	}
	d.car = d.resolve(bases, r.inputs)
	return true
}

func loopText(d, base *vehicleDecl) string {
	switch {
	case d == base:
		return "itself"
	case slices.Contains(base.BasedOn, d.Name):
		return base.Name + ", which is based on " + d.Name
	}
	return base.Name + ", which is based on " + d.Name + " by way of others"
}

// makeSystem hands the cars to the model. What the model alone knows to be wrong,
// such as a vehicle's own value of what all share, is put where it was stated.
func (r *resolver) makeSystem() bool {
	base := r.vehicle(r.s.Baseline)
	for _, list := range [][]string{base.car.Displaced, base.car.Added} {
		for _, item := range list {
			base.key.Err("the baseline has the item "+item, "items are counted against the baseline: state them under another vehicle")
			return false
		}
	}
	system, err := r.catalogue.NewSystem(r.s.Cars, r.s.Baseline)
	if err == nil {
		r.s.System = system
		return true
	}
	wrong := new(vehicle.Refused)
	if !errors.As(err, &wrong) {
		r.errs.Add(Error{Place: Place{File: r.s.Path}, Found: err.Error()})
		return false
	}
	owner, quantity, _ := strings.Cut(wrong.Name, ".")
	if d := r.vehicle(owner); d != nil {
		if quantity == "size_for" {
			d.sizeField.Err(wrong.Found, wrong.Allowed)
			return false
		}
		if st := r.statement(d.car.Given[quantity]); st != nil {
			st.key.Err(quantity+" under a vehicle: "+wrong.Found, wrong.Allowed)
			return false
		}
	}
	r.errs.Add(Error{Place: Place{File: r.s.Path}, Field: wrong.Name, Found: wrong.Found, Allowed: wrong.Allowed})
	return false
}
