package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/sampling/portable"
)

const (
	screening  = " These are screening estimates: licensed practice and the local codes decide."
	structural = "Structure is looked at under one load, without crash, joints, openings, warping or durability." + screening
	sandwich   = "minimum of strain energy; without core Bredt's closed box, without rails two sheets tied by the core, with neither the open section"
	allen      = "Allen, Analysis and Design of Structural Sandwich Panels (1969), ch. 2"
)

// sandwichQuantities declares the pack as two sheets with a core of cells between rails:
// its stiffness in torsion and in bending.
func sandwichQuantities() []quantity {
	const (
		handbook = "handbook"
		sheet    = "data sheet"
	)
	step := func(name, unit, meaning, source string, ways ...way) quantity {
		return quantity{name: name, unit: unit, limits: nonNegative, step: true, outputOnly: true, traits: model.Traits{Aside: true}, meaning: meaning, source: source, ways: ways}
	}
	return []quantity{
		{name: "face_sheet_modulus", unit: "GPa", limits: positive, usual: usual{10, 215, sheets, "MPa for GPa"},
			meaning: "elastic modulus of the face sheets, in their plane", source: handbook},
		{name: "lower_sheet_modulus", unit: "GPa", limits: positive, traits: model.Traits{Aside: true},
			meaning: "elastic modulus of the lower face sheet, that of face_sheet_modulus where it is left out", source: handbook, ways: []way{same("face_sheet_modulus")}},
		{name: "face_sheet_poisson", unit: "1", limits: limits{0, 0.5, false}, meaning: "ratio of the face sheets' contraction to their stretch (Poisson's)", source: handbook,
			fallback: "0.3", fallbackSource: "handbook: steel 0.28 to 0.30, aluminium 0.33, from memory"},
		{name: "rail_shear_modulus", unit: "GPa", limits: nonNegative, absent: absent(0, "rail_wall_thickness"), usual: usual{3, 85, sheets, "the elastic modulus for the shear modulus"},
			meaning: "shear modulus of the side rails", source: handbook},
		{name: "rail_flange_width", unit: "mm", limits: nonNegative, absent: absent(0, "rail_bond_thickness"), meaning: "width over which a sheet is bonded to a rail", source: "design"},
		{name: "rail_bond_thickness", unit: "mm", limits: nonNegative, absent: absent(0), meaning: "thickness of that bond; nil: the sheets are tied to the rails rigidly", source: "design"},
		{name: "bond_shear_modulus", unit: "MPa", limits: positive, absent: absent(0, "rail_bond_thickness"), usual: usual{5, 1200, sheets, "the elastic modulus for the shear modulus"},
			meaning: "shear modulus of the adhesive", source: sheet},
		{name: "filler_shear_modulus", unit: "MPa", limits: nonNegative, absent: absent(0), usual: usual{0.3, 700, sheets, "the elastic modulus for the shear modulus, GPa for MPa"},
			meaning: "shear modulus of foam or potting between cells", source: sheet},
		{name: "bonded_share", unit: "%", limits: share, meaning: "share of the cells' ends that are bonded to the sheets; 0: the cells are loose", source: "design",
			fallback: "1", fallbackSource: "all ends"},
		{name: "core_shear_modulus", unit: "MPa", limits: nonNegative,
			meaning: "shear modulus of the layer of cells with its bonds, an upper figure unless it was measured; flat-sided cells: give it",
			source:  "layers in series: bonds, cells in filler by Hashin and Rosen (1964, from memory), cells as posts above it",
			ways:    []way{each(coreModulus, coreNeeds...).reads("(cell_height + 2 x bond_thickness) / (2 x bond_thickness / (share of cell_diameter in cell_plan_area x bonded_share x bond_shear_modulus) + bonded_height / G in filler + (cell_height - bonded_height) / G of posts), by filler_shear_modulus x fill_share, can_wall_thickness, can_modulus and can_poisson")}},
		step("core_height", "mm", "height of the core between the sheets", "sum", from2(coreHeight, "cell_height", "bond_thickness").reads("cell_height + 2 x bond_thickness")),
		step("sheet_distance", "mm", "distance of the sheets' mid-planes", "sum",
			from3(sheetDistance, "core_height", "face_sheet_thickness", "lower_sheet_thickness").reads("core_height + (face_sheet_thickness + lower_sheet_thickness) / 2")),
		step("sheet_shear_stiffness", "N/m", "shear modulus x thickness of both sheets, the harmonic mean", sandwich,
			each(sheetShear, sheetNeeds...).reads("2 / (1 / (G x face_sheet_thickness) + 1 / (G x lower_sheet_thickness)), G = face_sheet_modulus or lower_sheet_modulus / (2 x (1 + face_sheet_poisson))")),
		step("core_rigidity", "MPa", "shear modulus of the core referred to the sheets' distance", sandwich,
			from3(coreRigidity, "core_shear_modulus", "sheet_distance", "core_height").reads("core_shear_modulus x sheet_distance / core_height")),
		step("rail_tie", "N/m", "shear stiffness of a side rail with its two bonds", "springs in series",
			each(railTie, "rail_wall_thickness", "rail_shear_modulus", "rail_bond_thickness", "rail_flange_width", "bond_shear_modulus", "sheet_distance").
				reads("1 / (1 / (rail_shear_modulus x rail_wall_thickness) + 2 x rail_bond_thickness / (bond_shear_modulus x rail_flange_width x sheet_distance))")),
		{name: "pack_torsional_rigidity", unit: "N m2", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Aside: true},
			meaning: "torque on the pack over its twist per length", source: sandwich,
			ways: []way{each(packRigidity, torsionNeeds...).reads("2 x sheet_shear_stiffness x sheet_distance^2 x pack_width x (1 - o / (1 + w o)) + G t^3 x pack_width / 3 of both sheets; o = tanh(l) / l, l = pack_width x sqrt(core_rigidity / (2 x sheet_shear_stiffness x sheet_distance)), w = rail_tie x pack_width / (sheet_shear_stiffness x sheet_distance); G by face_sheet_modulus, lower_sheet_modulus, face_sheet_poisson; t face_sheet_thickness, lower_sheet_thickness")}},
		{name: "pack_torsional_stiffness", unit: "kN m/degree", limits: nonNegative, traits: model.Traits{Convention: model.Convention{Says: structural}},
			usual:   usual{0.5, 60, derived, "N m/rad for kN m/degree"},
			meaning: "torque on the pack alone over its twist", source: "rigidity over length",
			ways: []way{quotient("pack_torsional_rigidity", "pack_length")}},
		{name: "bending_stiffness", unit: "N m2", limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: structural}},
			meaning: "bending moment on the pack over its curvature along the car, sheets alone", source: allen,
			ways: []way{each(bendingRigidity, append([]string{"pack_width", "sheet_distance"}, sheetNeeds...)...).
				reads("pack_width x a1 x a2 / (a1 + a2) x sheet_distance^2; a = modulus x thickness / (1 - face_sheet_poisson^2) of face_sheet_modulus x face_sheet_thickness and lower_sheet_modulus x lower_sheet_thickness")}},
		{name: "mid_span_stiffness", unit: "N/m", limits: nonNegative, outputOnly: true,
			meaning: "load in the middle of the pack on two supports over its sag, core's shear included", source: allen,
			ways: []way{each(midSpan, "bending_stiffness", "core_shear_modulus", "sheet_distance", "core_height", "pack_width", "pack_length").
				reads("1 / (pack_length^3 / (48 x bending_stiffness) + pack_length / (4 x core_shear_modulus x sheet_distance^2 / core_height x pack_width))")}},
		{name: "sheet_free_length", unit: "m", limits: positive, meaning: "longer side of the sheet between its supports, where cells are loose", source: "design"},
		{name: "sheet_free_width", unit: "m", limits: positive, meaning: "the other side", source: "design"},
		{name: "sheet_buckling_moment", unit: "kN m", limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: structural}},
			meaning: "torque on the pack at which a sheet that no cell holds buckles in shear",
			source:  "Timoshenko and Gere, Theory of Elastic Stability, plates in shear: 5.35 + 4 (short/long)^2, from memory",
			ways: []way{each(bucklingMoment, append([]string{"sheet_free_length", "sheet_free_width", "pack_width", "sheet_distance"}, sheetNeeds...)...).
				reads("2 x pack_width x sheet_distance x the lesser shear flow at which a sheet of sheet_free_length x sheet_free_width buckles, by face_sheet_modulus and face_sheet_thickness, lower_sheet_modulus and lower_sheet_thickness, face_sheet_poisson")}},
		{name: "sheet_buckling_margin", unit: "kN m", limits: anyNumber, outputOnly: true,
			traits:  model.Traits{Beside: "sheet_buckling_moment", BelowNil: "free sheets buckle below the torque through the pack: with loose cells its stiffness is overstated"},
			meaning: "that torque less the one through the pack", source: "difference",
			ways: []way{difference("sheet_buckling_moment", "pack_torsion_moment")}},
	}
}

// sheetNeeds are what sheets reads, in its order.
var sheetNeeds = []string{"face_sheet_modulus", "lower_sheet_modulus", "face_sheet_poisson", "face_sheet_thickness", "lower_sheet_thickness"}

// sheets are the two face sheets.
type sheetPair struct{ e1, e2, nu, t1, t2 float64 }

func sheetsOf(x []float64) sheetPair { return sheetPair{x[0], x[1], x[2], x[3], x[4]} }

// shear is the shear stiffness per width of each sheet, modulus x thickness.
func (s sheetPair) shear() (upper, lower float64) {
	return s.e1 * s.t1 / (2 * (1 + s.nu)), s.e2 * s.t2 / (2 * (1 + s.nu))
}

// stretch is the same of a wide sheet that is drawn.
func (s sheetPair) stretch() (upper, lower float64) {
	wide := 1 - float64(s.nu*s.nu)
	return s.e1 * s.t1 / wide, s.e2 * s.t2 / wide
}

func coreHeight(cell, bond float64) float64 { return cell + float64(2*bond) }

func sheetDistance(core, upper, lower float64) float64 { return core + float64(0.5*(upper+lower)) }

// springs puts two stiffnesses in series; nil with anything is nil.
func springs(a, b float64) float64 {
	if a == 0 || b == 0 {
		return 0
	}
	return 1 / (1/a + 1/b)
}

func sheetShear(x []float64) float64 {
	upper, lower := sheetsOf(x).shear()
	return 2 * springs(upper, lower)
}

func coreRigidity(modulus, distance, height float64) float64 { return modulus * distance / height }

func railTie(x []float64) float64 {
	wall, modulus, bond, flange, bondModulus, distance := x[0], x[1], x[2], x[3], x[4], x[5]
	rail := wall * modulus
	if bond == 0 {
		return rail
	}
	return springs(rail, bondModulus*flange*distance/(2*bond))
}

// coreNeeds are what coreModulus reads, in its order.
var coreNeeds = []string{"!bond_shear_modulus", "bond_thickness", "bonded_share", "cell_height", "bonded_height", "filler_shear_modulus", "fill_share",
	"!cell_diameter", "cell_plan_area", "can_wall_thickness", "can_modulus", "can_poisson"}

// coreModulus is the shear modulus of a layer of round cells between two bonds.
func coreModulus(x []float64) float64 {
	bondModulus, bond, bonded, height, filled, filler := x[0], x[1], x[2], x[3], x[4], x[5]*x[6]
	diameter, area, wall, modulus, nu := x[7], x[8], x[9], x[10], x[11]
	if bonded == 0 {
		return 0 // nothing ties the sheets
	}
	phi, canShear := disc(diameter)/area, modulus/(2*(1+nu))
	if filler == 0 {
		filled = 0
	}
	r := float64(0.5 * (diameter - wall))
	posts := 1 / (area * (height*height/(12*modulus*math.Pi*r*r*r*wall) + 1/(canShear*math.Pi*r*wall)))
	give := 2*bond/(phi*bonded*bondModulus) + (height-filled)/posts
	if filled > 0 {
		give += filled / cansInFiller(filler, canShear, diameter, wall, phi)
	}
	return coreHeight(height, bond) / give
}

// cansInFiller is the shear modulus along the axes of tubes in a matrix: composite
// cylinders, a lower bound.
func cansInFiller(filler, can, diameter, wall, phi float64) float64 {
	inner := (diameter - float64(2*wall)) / diameter
	hollow := float64(inner * inner)
	tube := can * (1 - hollow) / (1 + hollow)
	return filler * (float64(tube*(1+phi)) + float64(filler*(1-phi))) / (float64(tube*(1-phi)) + float64(filler*(1+phi)))
}

// torsionNeeds are what torsionOf reads, in its order.
var torsionNeeds = append([]string{"pack_width", "sheet_distance", "sheet_shear_stiffness", "core_rigidity", "rail_tie"}, sheetNeeds...)

// A torsion is a pack that twists: two sheets at a distance, tied by a core and by
// rails.
type torsion struct {
	width, distance, sheets, core, rail float64 // m, m, N/m, Pa, N/m
	pair                                sheetPair
}

func torsionOf(x []float64) torsion { return torsion{x[0], x[1], x[2], x[3], x[4], sheetsOf(x[5:])} }

// slip are lambda, the share o of the edge strain that a core leaves, what it takes, 1 -
// o, and the ties of the rails.
func (p torsion) slip() (lambda, leaves, takes, ties float64) {
	lambda = 0.5 * p.width * math.Sqrt(2*p.core/(p.sheets*p.distance))
	leaves, takes = tanhOver(lambda)
	return lambda, leaves, takes, p.rail * p.width / (p.sheets * p.distance)
}

// rigidity is torque over twist per length.
func (p torsion) rigidity() float64 {
	_, leaves, takes, ties := p.slip()
	upper, lower := p.pair.shear()
	open := p.width * (float64(upper*float64(p.pair.t1*p.pair.t1)) + float64(lower*float64(p.pair.t2*p.pair.t2))) / 3
	if p.sheets == 0 {
		return open
	}
	closed := 2 * p.sheets * p.distance * p.distance * p.width
	return float64(closed*((takes+float64(ties*leaves))/(1+float64(ties*leaves)))) + open
}

func packRigidity(x []float64) float64 { return torsionOf(x).rigidity() }

// soft is the lambda below which 1 - tanh(lambda)/lambda is taken from its series, whose
// next term is then below 2e-14 of it.
const soft = 0.03

// tanhOver is tanh(x)/x and one less that.
func tanhOver(x float64) (over, rest float64) {
	if x < soft {
		s := float64(x * x)
		rest = float64(s * (1.0/3 - float64(s*(2.0/15-float64(s*(17.0/315-float64(s*(62.0/2835))))))))
		return 1 - rest, rest
	}
	over = tanh(x) / x
	return over, 1 - over
}

func tanh(x float64) float64 {
	if x > 20 {
		return 1
	}
	e := portable.Expm1(2 * x)
	return e / (e + 2)
}

func bendingRigidity(x []float64) float64 {
	upper, lower := sheetsOf(x[2:]).stretch()
	return springs(upper, lower) * x[1] * x[1] * x[0]
}

func midSpan(x []float64) float64 {
	bending, core, distance, height, width, length := x[0], x[1], x[2], x[3], x[4], x[5]
	return springs(48*bending/(length*length*length), 4*core*distance*distance/height*width/length)
}

func bucklingMoment(x []float64) float64 {
	long, short, width, distance, s := math.Max(x[0], x[1]), math.Min(x[0], x[1]), x[2], x[3], sheetsOf(x[4:])
	return 2 * width * distance * math.Min(shearFlow(s.e1, s.nu, s.t1, long, short), shearFlow(s.e2, s.nu, s.t2, long, short))
}

// shearFlow is stress x thickness at which a simply supported sheet buckles in shear.
func shearFlow(modulus, nu, t, long, short float64) float64 {
	return shearBuckling(modulus, nu, t, long, short) * t
}

func shearBuckling(modulus, nu, t, long, short float64) float64 {
	ratio, slender := short/long, t/short
	return (5.35 + float64(4*(ratio*ratio))) * (math.Pi * math.Pi) * modulus / (12 * (1 - float64(nu*nu))) * (slender * slender)
}
