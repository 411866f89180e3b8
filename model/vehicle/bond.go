package vehicle

import (
	"math"

	"proofmass/model"
)

// bondQuantities declares what a torque asks of the bond between cells and sheets, at
// its peak along the pack's long edges.
func bondQuantities() []quantity {
	kept := func(name, words string, low, high float64) quantity {
		return quantity{name: name, unit: "1", limits: openShare, usual: usual{low, high, practice, "what is lost for what is kept"},
			meaning: "share of the bond's strength that is kept " + words, source: "test"}
	}
	out := func(name, unit, meaning, source string, w way) quantity {
		return quantity{name: name, unit: unit, limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: structural}}, meaning: meaning, source: source, ways: []way{w}}
	}
	edge := append([]string{"pack_torsion_moment", "pack_torsional_rigidity"}, torsionNeeds...)
	told := func(what string) string {
		return "pack_torsion_moment / pack_torsional_rigidity x " + what + " x pack_width x o / (1 + w o), o and w as in the rigidity, by sheet_distance, sheet_shear_stiffness, core_rigidity, rail_tie, face_sheet_modulus, lower_sheet_modulus, face_sheet_poisson, face_sheet_thickness and lower_sheet_thickness"
	}
	return []quantity{
		{name: "bond_strength", unit: "MPa", limits: positive, usual: usual{1.5, 40, sheets, "kPa for MPa"},
			meaning: "shear strength of the bond, fresh, dry and at room temperature: by itself no allowable stress", source: "EN 1465 test"},
		kept("strength_kept_hot", "hot", 0.3, 0.95), kept("strength_kept_damp", "after damp ageing", 0.4, 1), kept("strength_kept_fatigue", "in fatigue", 0.1, 0.4),
		out("core_shear_stress", "MPa", "shear stress in the core at the pack's long edges, its peak", sandwich, each(coreStress, edge...).reads(told("core_rigidity"))),
		out("core_shear_stress_mean", "MPa", "mean size of that stress over the pack's width", sandwich, each(coreStressMean, edge...).reads(told("core_rigidity x tanh(l / 2) / l"))),
		out("bond_shear_stress", "MPa", "shear stress in the bonded ends of the cells, its peak", "core stress over the share of the plan that is bonded",
			each(bondStress, "core_shear_stress", "cell_section", "cell_plan_area", "bonded_share").reads("core_shear_stress / (cell_section / cell_plan_area x bonded_share)")),
		out("rail_bond_shear_stress", "MPa", "shear stress in the bond of sheet and rail", sandwich,
			each(railStress, append([]string{"!rail_flange_width"}, edge...)...).reads(told("rail_tie / rail_flange_width"))),
		out("bond_allowable", "MPa", "strength of the bond that is left hot, damp and in fatigue", "product",
			product("bond_strength", "strength_kept_hot", "strength_kept_damp", "strength_kept_fatigue")),
		out("bond_reserve_factor", "1", "what is left of the bond's strength over its peak stress; 1 is just enough", "definition", quotient("bond_allowable", "bond_shear_stress")),
		out("rail_bond_reserve_factor", "1", "the same of the bond of sheet and rail", "definition", quotient("bond_allowable", "rail_bond_shear_stress")),
	}
}

// edgeStrain is the slip of the sheets at the long edges for the torque of x: a moment, a
// rigidity, then a torsion.
func edgeStrain(x []float64) (strain, lambda float64, p torsion) {
	p = torsionOf(x[2:])
	lambda, leaves, _, ties := p.slip()
	return x[0] / x[1] * p.width * leaves / (1 + float64(ties*leaves)), lambda, p
}

func coreStress(x []float64) float64 {
	strain, _, p := edgeStrain(x)
	return strain * p.core
}

// coreStressMean is tanh(l/2)/l of the peak, which is half of it in a soft core.
func coreStressMean(x []float64) float64 {
	strain, lambda, p := edgeStrain(x)
	half, _ := tanhOver(0.5 * lambda)
	return strain * p.core * (0.5 * half)
}

func bondStress(x []float64) float64 { return x[0] / (x[1] / x[2] * x[3]) }

func railStress(x []float64) float64 {
	strain, _, p := edgeStrain(x[1:])
	if x[0] == 0 {
		return math.NaN()
	}
	return strain * p.rail / x[0]
}
