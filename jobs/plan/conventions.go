package plan

import (
	"slices"
	"strings"

	"proofmass/jobs/study"
)

// Conventions say by which of several usual conventions figures were made, where they
// matter for what is asked: whoever compares a figure with one from elsewhere has to know.
func (p *Plan) Conventions() []string {
	if p.Study.System == nil {
		return nil
	}
	var w []string
	w = append(w, p.massBasis()...)
	if p.asks("label_") {
		w = append(w, "The label is the US label: 55 % of city and 45 % of highway range, or of consumption, by label_factor.")
	}
	if p.asks("wltc_") && !p.states("air_pressure", "altitude", "air_density") {
		w = append(w, "WLTC is driven in the reference air of its own procedure (100 kPa), the other schedules in theirs (98.21 kPa).")
	}
	return append(append(w, p.coastDowns()...), p.machinesKept()...)
}

// asks reports whether a column's quantity begins so.
func (p *Plan) asks(prefix string) bool {
	return slices.ContainsFunc(p.Columns, func(c Column) bool {
		_, q := Split(c.Name)
		return c.Input == nil && !c.Aside && strings.HasPrefix(q, prefix)
	})
}

// states reports whether the study states one of the quantities, for any vehicle.
func (p *Plan) states(quantities ...string) bool {
	return slices.ContainsFunc(p.Study.Inputs, func(in study.Input) bool { return slices.Contains(quantities, in.Quantity) })
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
		return []string{"Kerb masses hold a driver of 75 kg (mass_basis: eu_running_order)."}
	}
	return []string{"Kerb masses are without a driver (mass_basis: us_curb); with one of 75 kg in them (eu_running_order) the same figures mean a lighter car."}
}

// coastDowns says of a stated coast-down that the air of the study does not touch it.
func (p *Plan) coastDowns() []string {
	if !p.states("outside_temperature", "altitude", "air_pressure", "air_density") {
		return nil
	}
	var names []string
	for _, c := range p.Study.Cars {
		if slices.Contains(running(p.Study), c.Name) && c.Given["coastdown_f0"] != "" {
			names = append(names, c.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{"The coast-down of " + strings.Join(names, ", ") + " stays that of the day and place it was driven: stated temperature, pressure and altitude do not touch it (only a range in the cold corrects it)."}
}

// machinesKept says what is held fixed where a candidate weighs something else.
func (p *Plan) machinesKept() []string {
	var names []string
	for _, c := range p.Study.Cars {
		if slices.Contains(p.Study.Candidates, c.Name) && c.Base != "" && c.Given["machines"] == "" && p.asksOf(c.Name, "range", "consumption") {
			names = append(names, c.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{"Machines of " + strings.Join(names, ", ") + " are kept as built for the car at the root of the chain, whatever the mass (`machines: resized` sizes them anew, and a lighter car then gains more)."}
}

// asksOf reports whether something of the vehicle whose name holds one of the words is
// asked for.
func (p *Plan) asksOf(vehicle string, words ...string) bool {
	return slices.ContainsFunc(p.Columns, func(c Column) bool {
		owner, q := Split(c.Name)
		return owner == vehicle && c.Input == nil && !c.Aside && slices.ContainsFunc(words, func(w string) bool { return strings.Contains(q, w) })
	})
}

// certifiable are the claims about figures that a certification gives, of these vehicles.
func (p *Plan) certifiable(vehicles []string) []string {
	var names []string
	for _, c := range p.Study.Claims {
		if slices.ContainsFunc(c.Expr.Names(), func(name string) bool {
			owner, q := Split(name)
			certified := strings.HasPrefix(q, "label_") || strings.HasPrefix(q, "wltc_") || strings.Contains(q, "ac_consumption")
			return certified && slices.Contains(vehicles, owner)
		}) {
			names = append(names, c.Name)
		}
	}
	return names
}
