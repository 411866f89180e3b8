package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/model/vehicle"
)

// Conventions say by which of several usual conventions figures were made, where they
// matter for what is asked: whoever compares a figure with one from elsewhere has to know.
func (p *Plan) Conventions() []string {
	if p.Study.System == nil {
		return nil
	}
	var w []string
	w = append(w, p.massBasis()...)
	w = append(w, p.Study.TraceNotes...)
	for _, q := range p.Study.Catalogue.Quantities() {
		if q.Convention.Says != "" {
			for _, says := range p.convention(q) {
				if !slices.Contains(w, says) { // several quantities of a subject say the same
					w = append(w, says)
				}
			}
		}
	}
	return w
}

// convention is what a quantity declares, told of the vehicles that it concerns, if any.
func (p *Plan) convention(q model.Quantity) []string {
	var names []string
	for _, v := range p.Study.Cars {
		if slices.Contains(running(p.Study), v.Name) && p.concerns(q, v) {
			names = append(names, v.Name)
		}
	}
	switch {
	case len(names) == 0:
		return nil
	case strings.Contains(q.Convention.Says, "%s"):
		return []string{fmt.Sprintf(q.Convention.Says, strings.Join(names, ", "))}
	}
	return []string{q.Convention.Says}
}

// concerns reports whether something that is asked for of a vehicle rests on the
// quantity, and what is stated of it calls for telling the convention.
func (p *Plan) concerns(q model.Quantity, v vehicle.Car) bool {
	states := func(name string) bool {
		return v.Given[name] != "" || slices.ContainsFunc(p.Study.Inputs, func(in study.Input) bool { return in.Name == name })
	}
	c := q.Convention
	switch {
	case c.OfVariants && (v.Base == "" || !slices.Contains(p.Study.Candidates, v.Name)),
		len(c.Where) > 0 && !slices.ContainsFunc(c.Where, states), slices.ContainsFunc(c.Unless, states):
		return false
	}
	var asked []string
	for _, column := range p.Columns {
		if owner, _ := Split(column.Name); owner == v.Name && column.Input == nil && !column.Aside {
			asked = append(asked, column.Name)
		}
	}
	reach := p.Study.Graph.Reach(asked...)
	return reach[q.Name] || reach[cmp.Or(v.Given[q.Name], v.Name+"."+q.Name)]
}

// massBasis names the basis of kerb masses, where all have one; massBases warns of two.
func (p *Plan) massBasis() []string {
	basis := map[string]bool{}
	for _, v := range p.Study.Vehicles {
		if v.Run {
			basis[v.MassBasis] = true
		}
	}
	switch {
	case len(basis) != 1:
		return nil
	case basis["eu_running_order"]:
		return []string{fmt.Sprintf("Kerb masses hold a driver of %d kg (mass_basis: eu_running_order).", vehicle.DriverMass)}
	}
	return []string{fmt.Sprintf("Kerb masses are without a driver (mass_basis: us_curb); with one of %d kg in them (eu_running_order) the same figures mean a lighter car.", vehicle.DriverMass)}
}

// certifiable are the claims about figures that a certification gives, of these vehicles.
func (p *Plan) certifiable(vehicles []string) []string {
	var names []string
	for _, c := range p.Study.Claims {
		if slices.ContainsFunc(c.Expr.Names(), func(name string) bool {
			owner, _ := Split(name)
			q, ok := p.Study.Quantity(name)
			return ok && q.Certified && slices.Contains(vehicles, owner)
		}) {
			names = append(names, c.Name)
		}
	}
	return names
}
