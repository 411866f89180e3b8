package vehicle

import (
	"math"
	"slices"

	"proofmass/model"
)

// packPartQuantities declares the masses that add up to a pack, cells first.
func packPartQuantities() []quantity {
	const design = "design"
	return []quantity{
		{name: "bonded_height", unit: "mm", limits: nonNegative, absent: absent(0),
			meaning: "height over which the space between cells is filled", source: design},
		{name: "fill_share", unit: "%", limits: share, absent: absent(0),
			meaning: "share of that space that is filled", source: design},
		{name: "filler_density", unit: "kg/m3", limits: nonNegative,
			usual:   usual{100, 2900, sheets, "g/cm3 for kg/m3"},
			absent:  absent(0),
			meaning: "density of foam or potting between cells", source: "data sheet"},
		{name: "bond_thickness", unit: "mm", limits: nonNegative, traits: model.Traits{Figure: "layers"},
			usual:   usual{0.1, 2.5, practice, "um for mm"},
			absent:  absent(0),
			meaning: "thickness of each bond line, above and below the cells", source: design},
		{name: "bond_density", unit: "kg/m3", limits: nonNegative, absent: absent(0),
			meaning: "density of the adhesive", source: "data sheet"},
		{name: "face_sheet_thickness", unit: "mm", limits: nonNegative, traits: model.Traits{Figure: "layers"},
			usual:   usual{0.4, 5, practice, "both sheets together"},
			absent:  absent(0),
			meaning: "thickness of each face sheet, above and below the cells", source: design},
		{name: "lower_sheet_thickness", unit: "mm", limits: nonNegative,
			traits:  model.Traits{Aside: true},
			meaning: "thickness of the lower face sheet, that of face_sheet_thickness where it is left out", source: design,
			ways: []way{same("face_sheet_thickness")}},
		{name: "face_sheet_density", unit: "kg/m3", limits: nonNegative, absent: absent(0),
			meaning: "density of the face sheets", source: "handbook"},
		{name: "footprint", unit: "m2", limits: positive,
			usual:   usual{1, 5, practice, "mm2 or cm2 for m2"},
			meaning: "plan area of the pack", source: design},
		{name: "pack_length", unit: "m", limits: positive, usual: usual{0.8, 4, practice, "mm for m"},
			meaning: "length of the pack along the car, between the mid-lines of its rails", source: design},
		{name: "pack_width", unit: "m", limits: positive, usual: usual{0.7, 2, practice, "mm for m"},
			meaning: "width of the pack, between the mid-lines of its rails", source: design},
		{name: "module_mass_per_cell", unit: "g", limits: nonNegative, absent: absent(0),
			meaning: "module hardware for each cell", source: design},

		{name: "cells_mass", unit: "kg", limits: positive,
			traits:  model.Traits{Figure: "mass", PartOf: "pack_mass"},
			meaning: "mass of all cells", source: "count x mass of one",
			ways: []way{product("cells_placed", "cell_mass")}},
		{name: "filler_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			meaning: "mass of foam or potting between cells",
			source:  "interstice x height x share filled x density, for each cell",
			absent:  absent(0, "fill_share", "filler_density"),
			ways:    []way{product("cell_count", "cell_interstice", "!bonded_height", "!fill_share", "!filler_density")}},
		{name: "bond_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			meaning: "mass of the bond lines, above and below the cells",
			source:  "2 x plan area of the cells x thickness x density", absent: absent(0, "bond_thickness", "bond_density"),
			ways: []way{from4(bondMass, "cell_count", "cell_plan_area", "!bond_thickness", "!bond_density")}},
		{name: "face_sheet_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			meaning: "mass of both face sheets",
			source:  "footprint x both thicknesses x density", absent: absent(0, "face_sheet_thickness", "face_sheet_density"),
			ways: []way{from4(sheetMass, "footprint", "!face_sheet_thickness", "!face_sheet_density", "lower_sheet_thickness")}},
		{name: "tray_mass", unit: "kg", limits: nonNegative,
			traits: model.Traits{PartOf: "pack_mass"},
			absent: absent(0), meaning: "mass of tray and lid", source: design},
		{name: "rail_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			absent:  absent(0),
			meaning: "mass of the pack's side rails", source: design},
		{name: "cross_member_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			absent:  absent(0),
			meaning: "mass of the pack's cross members", source: design},
		{name: "module_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			meaning: "mass of module hardware", source: "count x hardware for each cell",
			absent: absent(0, "module_mass_per_cell"), ways: []way{product("cell_count", "!module_mass_per_cell")}},
		{name: "cooling_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			absent:  absent(0),
			meaning: "mass of cooling plates or ribbons, dry", source: design},
		{name: "coolant_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			absent:  absent(0),
			meaning: "mass of coolant in the pack", source: design},
		{name: "busbar_mass", unit: "kg", limits: nonNegative,
			traits: model.Traits{PartOf: "pack_mass"},
			absent: absent(0, "conductor_length"), meaning: "mass of busbars", source: "design, or section x length x density",
			ways: []way{from3(busbarMass, "busbar_section", "!conductor_length", "conductor").reads("busbar_section x conductor_length x density of the conductor")}},
		{name: "electronics_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			absent:  absent(0),
			meaning: "mass of contactors, wiring and controller", source: design},
		{name: "pack_other_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "pack_mass"},
			absent:  absent(0),
			meaning: "mass of all else in the pack", source: design},
	}
}

func bondMass(count, planArea, thickness, density float64) float64 {
	return 2 * count * planArea * thickness * density
}

func sheetMass(footprint, thickness, density, lower float64) float64 {
	return float64(2*footprint*thickness*density) + float64(footprint*(lower-thickness)*density)
}

// packByParts adds up the parts. It takes cells and something beside them: cells
// alone are no pack.
func packByParts(s *System, c *car) plan {
	p := plan{eval: addUp, ok: true}
	for _, part := range s.model.parts["pack_mass"] {
		switch s.source(c, part).kind {
		case given, made:
			p.needs = append(p.needs, part)
		case lacking:
			p.ok, p.missing = false, append(p.missing, c.Name+"."+part)
			p.inPart = p.inPart || part != "cells_mass"
		}
	}
	if p.ok && len(p.needs) < 2 {
		p.ok, p.missing = false, []string{c.Name + ".pack_other_mass"}
	}
	return p
}

// packRemainder is what a pack given at the top weighs beyond its known parts.
// Where weighed lines are among them and all are there, it is a cross-check and leaves none.
func packRemainder(s *System, c *car) plan {
	if slices.ContainsFunc(s.model.parts["pack_mass"], func(part string) bool { return s.byBill(c, part) }) && packByParts(s, c).ok {
		return plan{}
	}
	return remainder(s, c, "pack_mass")
}

// remainder subtracts the parts that are known from a whole that is not their sum.
func remainder(s *System, c *car, whole string) plan {
	from := s.source(c, whole)
	if from.kind == lacking || from.kind == made && from.way.by == "parts" {
		return plan{}
	}
	known := slices.DeleteFunc(slices.Clone(s.model.parts[whole]), func(part string) bool { return !s.has(c, part) })
	if len(known) == 0 {
		return plan{}
	}
	return plan{needs: append([]string{whole}, known...), eval: remains, ok: true}
}

// remains takes every further column from the first.
func remains(out, in [][]float64) {
	subtractAll(out[0], in)
	settle(out[0], in[0])
}

func subtractAll(y []float64, in [][]float64) {
	copy(y, in[0])
	for _, x := range in[1:] {
		for i := range y {
			y[i] -= x[i]
		}
	}
}

// nothing is the share of a whole below which a remainder is rounding alone: parts
// add up to within some 2e-16 of it each.
const nothing = 1e-12

// settle makes a remainder that is but rounding exactly nil, so that nobody is told
// of parts that weigh more than their whole.
func settle(remainder, whole []float64) {
	for i, r := range remainder {
		if math.Abs(r) <= nothing*math.Abs(whole[i]) {
			remainder[i] = 0
		}
	}
}
