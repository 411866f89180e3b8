package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/sampling/portable"
)

// bodyStiffnessQuantities declares the body with the pack in parallel through its joint,
// and what mass equal stiffness frees.
func bodyStiffnessQuantities() []quantity {
	const (
		parallel = "springs in parallel, pack and joint in series"
		equal    = "equal torsional stiffness: an upper bound, since crash, bending, noise and durability often set the gauge"
		judged   = "judgement"
	)
	freed := []string{baselineMark + "car_torsional_stiffness", "pack_joined_stiffness", "body_torsional_stiffness", "torsion_mass", "stiffness_exponent"}
	return []quantity{
		{name: "body_torsional_stiffness", unit: "kN m/degree", limits: positive, usual: usual{10, 40, sheets, "per rad for per degree, the figure with the pack in"},
			meaning: "torque on the body without pack over its twist", source: "test"},
		{name: "joint_stiffness", unit: "kN m/degree", limits: positive, usual: usual{2, 40, derived, "per rad for per degree"},
			meaning: "the same of bolts and brackets between pack and body: it caps what any pack is worth", source: "test or estimate"},
		{name: "torsion_moment", unit: "kN m", limits: positive, usual: usual{3, 15, practice, "N m for kN m"},
			meaning: "torque on the whole car that is looked at", source: "question: axle load x half the track with one wheel off the ground, common practice, no source"},
		{name: "torsion_mass", unit: "kg", limits: positive, usual: usual{60, 300, practice, "the whole body"},
			meaning: "kilograms of the body that work in torsion", source: judged},
		{name: "stiffness_exponent", unit: "1", limits: positive, meaning: "power of that mass with which the body's stiffness goes", source: judged,
			fallback: "1", fallbackSource: "gauge: stiffness of a thin wall goes with its thickness"},
		{name: "sill_stiffness_share", unit: "%", limits: share, meaning: "share of the body's torsional stiffness that its sills give", source: judged},
		{name: "sill_mass_removed", unit: "%", limits: share, meaning: "share of the sills' mass that is taken out", source: "question"},
		{name: "pack_joined_stiffness", unit: "kN m/degree", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Aside: true},
			meaning: "torsional stiffness of the pack behind its joint", source: "springs in series",
			ways: []way{from2(springs, "pack_torsional_stiffness", "joint_stiffness").reads("1 / (1 / pack_torsional_stiffness + 1 / joint_stiffness)")}},
		{name: "car_torsional_stiffness", unit: "kN m/degree", limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: structural}},
			meaning: "torque on the car over its twist: body and pack in parallel; figures of two sources (glass, closures, where it was held) are never to be mixed",
			source:  parallel, ways: []way{sum("body_torsional_stiffness", "pack_joined_stiffness")}},
		{name: "pack_torsion_moment", unit: "kN m", limits: nonNegative, traits: model.Traits{Aside: true},
			meaning: "torque through the pack: its share of the car's stiffness", source: parallel,
			ways: []way{from3(packMoment, "torsion_moment", "pack_joined_stiffness", "car_torsional_stiffness").reads("torsion_moment x pack_joined_stiffness / car_torsional_stiffness")}},
		{name: "displaced_by_stiffness", unit: "kg", limits: anyNumber, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: structural}},
			meaning: "body mass that becomes unnecessary if the car is to twist no more than the baseline; below nil it becomes necessary",
			source:  equal,
			ways: []way{each(freedMass, freed...).
				reads("torsion_mass x (1 - (max(0, stiffness of the baseline's car - pack_joined_stiffness) / body_torsional_stiffness)^(1 / stiffness_exponent))")}},
		{name: "displaced_from", unit: "1", limits: share, absent: absent(0), traits: model.Traits{Words: map[string]float64{"items": 0, "stiffness": 1}},
			meaning: "what displaced_mass is: the items under displaced (left out), or what equal torsional stiffness frees", source: "question"},
		{name: "structure_saving", unit: "kg", limits: positive, meaning: "body mass that is said to become unnecessary, to find the core that it takes", source: "announced"},
		{name: "core_shear_modulus_needed", unit: "MPa", limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: structural}},
			meaning: "shear modulus of the core at which equal torsional stiffness frees structure_saving; 0: none is needed; infeasible: not even a rigid core frees it",
			source:  "the same relations, solved by bisection in the modulus' logarithm",
			ways: []way{each(coreNeeded, coreNeededNeeds...).
				reads("the modulus of a core of core_height at which equal torsional stiffness frees structure_saving, by the stiffness of the baseline's car, body_torsional_stiffness, torsion_mass, stiffness_exponent, joint_stiffness, pack_length, pack_width, sheet_distance, sheet_shear_stiffness, rail_tie, face_sheet_modulus, lower_sheet_modulus, face_sheet_poisson, face_sheet_thickness and lower_sheet_thickness")}},
		{name: "body_stiffness_kept", unit: "%", limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: structural}},
			meaning: "torsional stiffness that the body without pack keeps where its sills are slimmed", source: "sills in parallel",
			ways: []way{from3(sillsSlimmed, "sill_stiffness_share", "sill_mass_removed", "stiffness_exponent").reads("1 - sill_stiffness_share x (1 - (1 - sill_mass_removed)^stiffness_exponent)")}},
		{name: "car_stiffness_kept", unit: "%", limits: nonNegative, outputOnly: true,
			meaning: "the same of the car with its pack", source: parallel,
			ways: []way{from4(keptWithPack, "body_stiffness_kept", "body_torsional_stiffness", "pack_joined_stiffness", "car_torsional_stiffness").
				reads("(body_stiffness_kept x body_torsional_stiffness + pack_joined_stiffness) / car_torsional_stiffness")}},
	}
}

func packMoment(moment, pack, car float64) float64 { return moment * (pack / car) }

// freedMass reads the baseline's car, the pack with its joint, the body, the mass that
// works in torsion and the exponent.
func freedMass(x []float64) float64 {
	return x[3] * (1 - portable.Pow(math.Max(0, x[0]-x[1])/x[2], 1/x[4]))
}

func sillsSlimmed(share, removed, exponent float64) float64 {
	return 1 - float64(share*(1-portable.Pow(1-removed, exponent)))
}

func keptWithPack(kept, body, pack, car float64) float64 {
	return (float64(kept*body) + pack) / car
}

// Bounds of the search for a core, as logarithms of Pa: a breath and diamond.
const (
	softest, stiffest = 0.0, 35.0
	halvings          = 64
)

// coreNeededNeeds are what coreNeeded reads, in its order; core_height stands in the place
// of the core's rigidity, which is what is sought.
var coreNeededNeeds = append([]string{"structure_saving", "joint_stiffness", "pack_length", baselineMark + "car_torsional_stiffness", "body_torsional_stiffness",
	"torsion_mass", "stiffness_exponent", "pack_width", "sheet_distance", "sheet_shear_stiffness", "core_height", "rail_tie"}, sheetNeeds...)

// coreNeeded finds the core's modulus.
func coreNeeded(x []float64) float64 {
	saving, joint, length, baseline, body, mass, exponent := x[0], x[1], x[2], x[3], x[4], x[5], x[6]
	p := torsionOf(x[7:])
	height := p.core // see coreNeededNeeds
	if !(saving < mass) {
		return math.NaN()
	}
	pack := baseline - float64(body*portable.Pow(1-saving/mass, exponent)) // behind its joint
	if pack <= 0 {
		return 0
	}
	if !(pack < joint) {
		return math.NaN()
	}
	needed := length / (1/pack - 1/joint) // rigidity
	stiff := func(core float64) bool {
		p.core = core * p.distance / height
		return p.rigidity() >= needed
	}
	if stiff(0) {
		return 0
	}
	if !stiff(portable.Exp(stiffest)) {
		return math.NaN()
	}
	low, high := softest, stiffest
	for range halvings {
		if middle := 0.5 * (low + high); stiff(portable.Exp(middle)) {
			high = middle
		} else {
			low = middle
		}
	}
	return portable.Exp(high)
}
