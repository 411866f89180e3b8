package vehicle

import (
	"math"

	"proofmass/model"
)

func cellQuantities() []quantity {
	return []quantity{
		{name: "cell_mass", unit: "g", limits: positive,
			usual:   usual{35, 6000, sheets, "kg for g"},
			meaning: "mass of one cell", source: "data sheet or weighed",
			ways: []way{quotient("cell_energy", "!cell_specific_energy").undoneBy("cell_specific_energy")}},
		{name: "cell_charge", unit: "Ah", limits: positive,
			usual:   usual{1.5, 350, sheets, "mAh for Ah"},
			meaning: "charge that one cell holds", source: "data sheet"},
		{name: "cell_voltage", unit: "V", limits: positive,
			usual:   usual{3.1, 3.8, sheets, "the voltage of a full cell for the nominal one"},
			meaning: "nominal voltage of one cell", source: "data sheet"},
		{name: "cell_diameter", unit: "mm", limits: positive, traits: model.Traits{Figure: "field"},
			usual:   usual{14, 60, practice, "the radius for the diameter, cm for mm"},
			meaning: "diameter of one round cell", source: "data sheet"},
		{name: "cell_height", unit: "mm", limits: positive, traits: model.Traits{Figure: "layers"},
			usual:   usual{40, 250, practice, "cm for mm"},
			meaning: "height of one cell", source: "data sheet"},
		{name: "cell_resistance", unit: "mohm", limits: nonNegative,
			meaning: "direct-current resistance of one cell at 25 degC", source: "data sheet or measured"},
		{name: "cell_resistance_temperature", unit: "K", limits: nonNegative, absent: absent(0),
			meaning: "activation temperature B of the cell's resistance, exp(B (1/T - 1/298.15 K))", source: "Arrhenius' law"},
		{name: "cell_energy", unit: "Wh", limits: positive, meaning: "nominal energy of one cell", source: "charge x nominal voltage",
			ways: []way{
				product("cell_charge", "cell_voltage").called("charge"),
				product("!cell_specific_energy", "!cell_mass").called("mass").undoneBy("cell_specific_energy"),
			}},
		{name: "cell_energy_by_mass", unit: "Wh", limits: positive,
			traits:     model.Traits{RouteTo: "cell_energy", Beside: "cell_energy"},
			outputOnly: true,
			meaning:    "nominal energy of one cell by a second route: its mass x its specific energy", source: "cross-check",
			ways: []way{secondRoute("cell_energy", "mass", product("!cell_specific_energy", "!cell_mass"))}},
		{name: "cell_specific_energy", unit: "Wh/kg", limits: positive, traits: model.Traits{Figure: "ladder"},
			usual:   usual{120, 330, sheets, "the pack's figure for a cell's, mAh for Ah"},
			meaning: "energy over mass of one cell", source: "definition",
			ways: []way{quotient("cell_energy", "cell_mass")}},
		{name: "cell_volume", unit: "l", limits: positive, meaning: "volume of one cell", source: "cylinder, or width x thickness x height",
			ways: []way{shaped(from2(cylinder, "cell_diameter", "cell_height"), each(box, "!cell_width", "!cell_thickness", "cell_height"))}},
		{name: "cell_energy_density", unit: "Wh/l", limits: positive, traits: model.Traits{Figure: "volume ladder"},
			usual:   usual{300, 850, sheets, "the pack's figure for a cell's, mAh for Ah"},
			meaning: "energy over volume of one cell", source: "definition",
			ways: []way{quotient("cell_energy", "cell_volume")}},
	}
}

func cylinder(diameter, height float64) float64 { return disc(diameter) * height }

func disc(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

// secondRoute computes by another way what the car already has: a cross-check, for
// which there is no need where that way is the one taken.
func secondRoute(primary, by string, w way) way {
	return way{from: w.needs, fit: func(s *System, c *car) plan {
		if from := s.source(c, primary); from.kind == lacking || from.kind == made && from.way.by == by {
			return plan{}
		}
		return plan{needs: w.needs, eval: w.eval, ok: true}
	}}
}
