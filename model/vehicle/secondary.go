package vehicle

import (
	"math"
	"slices"

	"proofmass/model"
)

// resized are the subsystems that may follow the car's gross mass.
var resized = []struct{ part, words, only string }{
	{"body_mass", "body structure", ""}, {"closures_mass", "closures", ""}, {"interior_mass", "interior", ""}, {"chassis_mass", "axles, brakes, steering and wheels", ""},
	{"drive_unit_mass", "motors, gears and inverters", "; it counts only with machines: resized"}, {"low_voltage_mass", "low-voltage electrics", ""}, {"tray_mass", "tray of the pack", ""},
}

func resizing(part string) string { return part[:len(part)-len("_mass")] + "_resizing" }

// secondaryQuantities declares what a saving makes lighter elsewhere, where the design is
// open: m_j = m_j0 (1 + g_j (M - M_0)/M_0), M the gross mass with the payload kept.
func secondaryQuantities() []quantity {
	const malen = "closed form of resizing in proportion, as in Malen, Goebbels, Wohlecker, Secondary Mass Changes in Vehicle Design (2013)"
	var all []quantity
	var names, from []string
	for _, r := range resized {
		names = append(names, resizing(r.part))
		from = append(from, r.part)
		all = append(all, quantity{name: resizing(r.part), unit: "1", limits: nonNegative, usual: usual{0, 1, sheets, "per kerb mass for per gross mass"},
			meaning: "relative change of the " + r.words + " over relative change of gross mass; left out: it stays as it is, as in a car on sale" + r.only, source: "studies of secondary mass, order of size, from memory"})
	}
	from = append(from, names...)
	const says = "Secondary mass is counted in: that is for a design still open, and nil for a car on sale."
	return append(all,
		quantity{name: "primary_saving", unit: "kg", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true},
			meaning: "kerb mass saved against its base before anything else is resized; below nil it is heavier", source: "sum of what changed",
			ways: []way{{fit: primaryChange, from: []string{partsMark + "kerb_mass", "displaced", "added", "displaced_from"}}}},
		quantity{name: "secondary_gain", unit: "%", limits: limits{math.Inf(-1), 1, false}, outputOnly: true, step: true, traits: model.Traits{Aside: true},
			usual:   usual{-1, 50, practice, "everything resized at once"},
			meaning: "secondary change for each kilogram of the whole change; at 100 % there is no end", source: malen,
			ways: []way{{fit: secondaryGain, from: append([]string{"gross_mass", "displaced_mass", "machines"}, from...)}}},
		quantity{name: "secondary_saving", unit: "kg", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true, Convention: model.Convention{Says: says}},
			meaning: "kerb mass saved beside it since other parts are resized; below nil it is more", source: malen,
			ways: []way{from2(secondary, "primary_saving", "secondary_gain").reads("primary_saving x secondary_gain / (1 - secondary_gain)")}},
	)
}

// resizes reports whether the car has something resized.
func (c *car) resizes() bool {
	return slices.ContainsFunc(resized, func(r struct{ part, words, only string }) bool { return c.Given[resizing(r.part)] != "" })
}

func secondary(primary, gain float64) float64 {
	if !(gain < 1) {
		return math.NaN()
	}
	return primary * (gain / (1 - gain))
}

// secondaryGain is S = sum g_j m_j0 / M_0; what is displaced is no longer part of the
// body that follows.
func secondaryGain(s *System, c *car) plan {
	base := s.weighedBase(c)
	if base == nil || !c.resizes() {
		return plan{}
	}
	p := plan{ok: true}
	need := func(of *car, q string) {
		name, ok := s.full(of, q)
		if !ok {
			p.ok, p.missing = false, append(p.missing, name)
		}
		p.needs = append(p.needs, "="+name)
	}
	need(base, "gross_mass")
	need(c, "displaced_mass")
	need(c, "machines")
	body, drive := -1, -1
	for _, r := range resized {
		if c.Given[resizing(r.part)] == "" {
			continue
		}
		if r.part == "body_mass" {
			body = len(p.needs)
		} else if r.part == "drive_unit_mass" {
			drive = len(p.needs)
		}
		need(base, r.part)
		need(c, resizing(r.part))
	}
	if !p.ok {
		return p
	}
	return eachOf(func(x []float64) float64 {
		sum := 0.0
		for k := 3; k < len(x); k += 2 {
			part := x[k]
			switch k {
			case body:
				part -= x[1]
			case drive:
				part *= x[2] // machines that are kept do not follow
			}
			sum += float64(x[k+1] * part)
		}
		return sum / x[0]
	}, p.needs)
}

// primaryChange is what kerbByChange takes off the base, secondary mass left out.
func primaryChange(s *System, c *car) plan {
	p := s.changeOfKerb(c)
	if !p.ok {
		return p
	}
	inner := p.eval
	p.needs = p.needs[1:]
	p.eval = func(out, in [][]float64) {
		inner(out, slices.Concat([][]float64{nil}, in))
		for i, change := range out[0] {
			out[0][i] = -change
		}
	}
	return p
}
