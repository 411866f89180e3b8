package vehicle

import (
	"slices"

	"proofmass/model"
)

// DriverMass is the driver whom an EU mass in running order includes [kg].
const DriverMass = 75

func carMassQuantities() []quantity {
	const weighed = "weighed or estimated"
	kerbParts := append([]string{partsMark + "kerb_mass", "displaced", "added", "displaced_from"}, resizings()...)
	bySum := way{by: "parts", fit: kerbBySum, from: kerbParts}
	return []quantity{
		{name: "body_mass", unit: "kg", limits: positive,
			traits:  model.Traits{PartOf: "kerb_mass", WholeCar: true},
			meaning: "mass of the body structure", source: weighed},
		{name: "closures_mass", unit: "kg", limits: positive,
			traits:  model.Traits{PartOf: "kerb_mass"},
			meaning: "mass of doors and lids without glass", source: weighed},
		{name: "interior_mass", unit: "kg", limits: positive,
			traits:  model.Traits{PartOf: "kerb_mass"},
			meaning: "mass of seats, trim and restraints", source: weighed},
		{name: "chassis_mass", unit: "kg", limits: positive,
			traits:  model.Traits{PartOf: "kerb_mass"},
			meaning: "mass of axles, brakes, steering and wheels", source: weighed},
		{name: "drive_unit_mass", unit: "kg", limits: positive,
			traits:  model.Traits{PartOf: "kerb_mass"},
			meaning: "mass of motors, gears and inverters", source: weighed},
		{name: "low_voltage_mass", unit: "kg", limits: positive,
			traits:  model.Traits{PartOf: "kerb_mass"},
			meaning: "mass of low-voltage electrics, lighting and climate", source: weighed},
		{name: "fluids_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "kerb_mass"},
			meaning: "mass of fluids outside the pack", source: weighed},
		{name: "displaced_mass", unit: "kg", limits: anyNumber,
			traits: model.Traits{Figure: "mass", Credit: model.Credit{Of: "displaced structure", // shares: common practice, no source
				Within: []model.Share{{Of: "kerb_mass", Most: 0.05, Called: "kerb mass"}, {Of: "body_mass", Most: 1, Called: "body"}}}},
			usual:      usual{0, 80, practice, "parts of the pack counted as structure of the body"},
			outputOnly: true, absent: absent(0, "displaced_from"),
			meaning: "mass of what the pack makes unnecessary elsewhere", source: "sum of the items, or what equal torsional stiffness frees",
			ways: []way{{fit: displacedMass, from: []string{"displaced", "displaced_from", "displaced_by_stiffness"}}}},
		{name: "added_mass", unit: "kg", limits: anyNumber, traits: model.Traits{Figure: "mass"},
			usual:      usual{0, 40, practice, "parts of the pack counted as structure of the body"},
			outputOnly: true, absent: absent(0),
			meaning: "mass of what the pack makes necessary elsewhere", source: "sum of the items",
			ways: []way{{fit: func(_ *System, c *car) plan { return itemSum(c.Added) }, from: []string{"added"}}}},
		{name: "kerb_mass", cause: byMass, unit: "kg", limits: positive,
			traits: model.Traits{Figure: "mass", Headline: 1, WholeCar: true, HoldsDriver: true}, usual: usual{900, 4200, practice, "lb for kg, gross mass for kerb mass"},
			meaning: "kerb mass, on the car's mass basis",
			source:  "given, or its base's plus what changed, or the sum of subsystems - displaced + added",
			ways:    []way{{by: "change", fit: kerbByChange, from: kerbParts}, bySum}},
		{name: "kerb_mass_by_parts", unit: "kg", limits: positive,
			traits:     model.Traits{RouteTo: "kerb_mass", Beside: "kerb_mass"},
			outputOnly: true,
			meaning:    "kerb mass by a second route: the sum of subsystems", source: "cross-check",
			ways: []way{{from: kerbParts, fit: kerbCrossCheck}}},
		{name: "kerb_remainder", unit: "kg", limits: anyNumber,
			traits:     model.Traits{RestOf: "kerb_mass", Beside: "kerb_mass", Silent: true, BelowNil: "the parts given weigh more than the kerb mass given"},
			outputOnly: true,
			meaning:    "kerb mass less the subsystems that are known and a driver, before displaced and added structure", source: "difference",
			ways: []way{{from: []string{"kerb_mass", partsMark + "kerb_mass"}, fit: kerbRemainder}}},
		{name: "gross_mass", unit: "kg", limits: positive, meaning: "technically permissible laden mass", source: "filed"},
	}
}

// displacedMass is the sum of the items or, where the vehicle asks so, what equal
// stiffness frees.
func displacedMass(_ *System, c *car) plan {
	if !c.gives([]string{"displaced_from"}) {
		return itemSum(c.Displaced)
	}
	return plan{ok: true, needs: []string{"displaced_from", "displaced_by_stiffness"}, eval: from2(freedIf, "", "").eval}
}

// freedIf is what is freed, or nil where items are asked for and there are none.
func freedIf(from, freed float64) float64 {
	if from == 0 {
		return 0
	}
	return from * freed
}

// resizings are the names of what says that a part is resized.
func resizings() []string {
	var names []string
	for _, r := range resized {
		names = append(names, resizing(r.part))
	}
	return names
}

// itemSum adds up item nodes.
func itemSum(items []string) plan {
	p := plan{eval: addUp, ok: len(items) > 0}
	for _, item := range items {
		p.needs = append(p.needs, "="+item)
	}
	return p
}

// kerbBySum is the sum of the subsystems, less displaced, plus added, plus the
// driver where the mass basis has one.
func kerbBySum(s *System, c *car) plan {
	p := knownSum(s, c, "kerb_mass")
	if !p.ok {
		return p
	}
	driver := c.driver()
	p.needs = append(p.needs, "displaced_mass", "added_mass")
	p.eval = func(out, in [][]float64) {
		last := len(in) - 2
		addUp(out, in[:last])
		displaced, added := in[last], in[last+1]
		for i := range out[0] {
			out[0][i] = out[0][i] - displaced[i] + added[i] + driver
		}
	}
	return p
}

// kerbCrossCheck is the sum beside a kerb mass that is given.
func kerbCrossCheck(s *System, c *car) plan {
	if s.source(c, "kerb_mass").kind != given {
		return plan{}
	}
	return kerbBySum(s, c)
}

// kerbRemainder is what the known subsystems leave of the kerb mass: what is
// displaced was part of it before, what is added and the driver never were.
func kerbRemainder(s *System, c *car) plan {
	p := remainder(s, c, "kerb_mass")
	if !p.ok {
		return p
	}
	driver := c.driver()
	p.needs = append(p.needs, "displaced_mass", "added_mass")
	p.eval = func(out, in [][]float64) {
		last := len(in) - 2
		subtractAll(out[0], in[:last])
		displaced, added := in[last], in[last+1]
		for i := range out[0] {
			out[0][i] = out[0][i] + displaced[i] - added[i] - driver
		}
		settle(out[0], in[0])
	}
	return p
}

// weighedBase is the nearest car in the chain of bases whose kerb mass can be had: what
// stands between was no car of its own. It is nil if there is none.
func (s *System) weighedBase(c *car) *car {
	base := c.base
	for base != nil && !s.has(base, "kerb_mass") {
		base = base.base
	}
	return base
}

// kerbByChange is the kerb mass of the car's base plus what has changed since, so that
// no change gives exactly no change.
func kerbByChange(s *System, c *car) plan {
	p := s.changeOfKerb(c)
	if !p.ok {
		return p
	}
	change := p.eval
	p.eval = func(out, in [][]float64) {
		change(out, in)
		for i, reference := range in[0] {
			out[0][i] = reference + out[0][i]
		}
	}
	if !c.resizes() {
		return p
	}
	all := p.eval
	p.needs = append(p.needs, "secondary_saving")
	p.eval = func(out, in [][]float64) {
		last := len(in) - 1
		all(out, in[:last])
		for i, more := range in[last] {
			out[0][i] -= more
		}
	}
	return p
}

// changeOfKerb is what has changed since the base; its first need is the base's kerb mass,
// which it does not read.
func (s *System) changeOfKerb(c *car) plan {
	if c.base == nil {
		return plan{}
	}
	base := s.weighedBase(c)
	if base == nil {
		base = c.root
	}
	p := plan{ok: true}
	whole, ok := s.full(base, "kerb_mass")
	if !ok {
		p.ok, p.missing = false, []string{whole}
	}
	p.needs = []string{"=" + whole}
	for _, q := range []string{"displaced_mass", "added_mass"} {
		if name, known := s.full(base, q); !known {
			p.ok, p.missing = false, append(p.missing, name)
		}
	}
	var alone []BillChange
	for _, part := range s.model.parts["kerb_mass"] {
		own, based := s.has(c, part), s.has(base, part)
		switch {
		case own && based:
			a, _ := s.full(c, part)
			b, _ := s.full(base, part)
			if a != b {
				p.needs = append(p.needs, part, "="+b)
			}
		case !own && !based && s.explained(c, base, part):
			alone = append(alone, s.lineChanges(c, base, part)...)
		case own:
			p.ok, p.missing = false, append(p.missing, base.Name+"."+part)
		case based, s.changes(c, part, base):
			p.ok, p.missing = false, append(p.missing, c.Name+"."+part)
		}
	}
	pairs, signs := len(p.needs), []float64(nil)
	for _, change := range alone {
		change.each(func(name string, sign float64) { p.needs, signs = append(p.needs, "="+name), append(signs, sign) })
	}
	p.needs = append(p.needs, "displaced_mass", "="+base.Name+".displaced_mass", "added_mass", "="+base.Name+".added_mass")
	driver := c.driver() - base.driver()
	p.eval = func(out, in [][]float64) {
		y, last := out[0], len(in)-4
		displaced, wasDisplaced, added, wasAdded := in[last], in[last+1], in[last+2], in[last+3]
		for i := range y {
			change := driver - (displaced[i] - wasDisplaced[i]) + (added[i] - wasAdded[i])
			for k := 1; k < pairs; k += 2 {
				change += in[k][i] - in[k+1][i]
			}
			for k := pairs; k < last; k++ {
				change += float64(signs[k-pairs] * in[k][i])
			}
			y[i] = change
		}
	}
	return p
}

// changes reports whether the car states something that the part is made from, and
// not as the base does.
func (s *System) changes(c *car, part string, base *car) bool {
	return slices.ContainsFunc(s.model.MadeFrom(part), func(q string) bool {
		return c.Given[q] != "" && c.Given[q] != base.Given[q]
	})
}

// driver is the mass of the driver that the car's mass basis counts in.
func (c *car) driver() float64 {
	if c.running {
		return DriverMass
	}
	return 0
}
