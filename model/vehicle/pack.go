package vehicle

import "proofmass/model"

func packQuantities() []quantity {
	const check = "cross-check"
	byParts := way{by: "parts", fit: packByParts, from: []string{partsMark + "pack_mass"}}
	return []quantity{
		{name: "pack_mass", unit: "kg", limits: positive,
			traits: model.Traits{Figure: "mass", PartOf: "kerb_mass", Headline: 2}, usual: usual{100, 1000, practice, "g for kg"},
			meaning: "mass of the pack",
			source:  "given, or energy / specific energy, or cells x (1 + non-cell ratio), or the sum of its parts",
			ways: []way{
				quotient("pack_energy", "!pack_specific_energy").called("energy"),
				from2(withNonCells, "cells_mass", "!non_cell_ratio").called("cells"),
				{by: "change", fit: packByChange, from: []string{"bill"}, form: "that of its base + what changed in the lines of the bill"},
				byParts,
			}},
		{name: "pack_energy", unit: "kWh", limits: positive,
			usual:   usual{15, 220, practice, "Wh for kWh, MJ for kWh"},
			meaning: "nominal energy of the pack", source: "count x energy of one cell, or mass x specific energy",
			ways: []way{
				product("!pack_mass", "!pack_specific_energy").called("mass").undoneBy("pack_specific_energy").where("pack_mass"),
				product("cells_placed", "cell_energy").called("cells"),
			}},
		{name: "pack_specific_energy", unit: "Wh/kg", limits: positive, traits: model.Traits{Figure: "ladder"},
			usual:   usual{80, 210, sheets, "usable energy for nominal"},
			meaning: "energy over mass of the pack", source: "definition",
			ways: []way{quotient("pack_energy", "pack_mass")}},
		{name: "non_cell_ratio", unit: "1", limits: nonNegative,
			meaning: "mass of what is not cell over mass of cells", source: "definition",
			ways: []way{from2(nonCellRatio, "pack_mass", "cells_mass")}},
		{name: "pack_mass_by_energy", unit: "kg", limits: positive,
			traits:     model.Traits{RouteTo: "pack_mass", Beside: "pack_mass"},
			outputOnly: true,
			meaning:    "mass of the pack by a second route: energy / specific energy", source: check,
			ways: []way{secondRoute("pack_mass", "energy", quotient("pack_energy", "!pack_specific_energy"))}},
		{name: "pack_mass_by_cells", unit: "kg", limits: positive,
			traits:     model.Traits{RouteTo: "pack_mass", Beside: "pack_mass"},
			outputOnly: true,
			meaning:    "mass of the pack by a second route: cells x (1 + non-cell ratio)", source: check,
			ways: []way{secondRoute("pack_mass", "cells", from2(withNonCells, "cells_mass", "!non_cell_ratio"))}},
		{name: "pack_energy_by_mass", unit: "kWh", limits: positive,
			traits:     model.Traits{RouteTo: "pack_energy", Beside: "pack_energy"},
			outputOnly: true,
			meaning:    "nominal energy of the pack by a second route: mass x specific energy", source: check,
			ways: []way{secondRoute("pack_energy", "mass", product("!pack_mass", "!pack_specific_energy"))}},
		{name: "pack_energy_by_cells", unit: "kWh", limits: positive,
			traits:     model.Traits{RouteTo: "pack_energy", Beside: "pack_energy"},
			outputOnly: true,
			meaning:    "nominal energy of the pack by a second route: count x energy of one cell", source: check,
			ways: []way{secondRoute("pack_energy", "cells", product("cell_count", "cell_energy"))}},
		{name: "pack_remainder", unit: "kg", limits: anyNumber,
			traits:     model.Traits{RestOf: "pack_mass", Beside: "pack_mass", Silent: true, BelowNil: "the parts given weigh more than the pack mass given"},
			outputOnly: true,
			meaning:    "mass of the pack less its known parts", source: "difference",
			ways: []way{{fit: packRemainder, from: []string{"pack_mass", partsMark + "pack_mass"}}}},
		{name: "cell_share", unit: "%", limits: nonNegative,
			usual:      usual{50, 92, practice, "cells counted twice, a module's mass for a cell's"},
			outputOnly: true,
			meaning:    "share of the pack's mass that is cells", source: "definition",
			ways: []way{quotient("cells_mass", "pack_mass")}},
		{name: "pack_other_height", unit: "mm", limits: nonNegative, traits: model.Traits{Figure: "layers"}, absent: absent(0),
			meaning: "height of the pack beyond cells, bonds and sheets", source: "design"},
		{name: "pack_height", unit: "mm", limits: positive, traits: model.Traits{Figure: "layers"},
			usual:   usual{70, 220, practice, "cm for mm"},
			meaning: "height of the pack", source: "cell + 2 bonds + 2 sheets + plate + busbars + other",
			ways: []way{each(packHeight, "cell_height", "bond_thickness", "face_sheet_thickness", "pack_other_height", "lower_sheet_thickness",
				"cooling_thickness", "cooling_place", "busbar_layer_thickness")}},
		{name: "pack_volume", unit: "l", limits: positive, meaning: "volume of the pack", source: "footprint x height",
			ways: []way{product("footprint", "pack_height")}},
		{name: "pack_energy_density", unit: "Wh/l", limits: positive, traits: model.Traits{Figure: "volume ladder"}, outputOnly: true,
			meaning: "energy over volume of the pack", source: "definition",
			ways: []way{quotient("pack_energy", "pack_volume")}},
		{name: "cell_volume_share", unit: "%", limits: nonNegative, outputOnly: true,
			meaning: "share of the pack's volume that is cells", source: "definition",
			ways: []way{from3(volumeShare, "cell_count", "cell_volume", "pack_volume")}},
		{name: "net_pack_mass", unit: "kg", limits: anyNumber, outputOnly: true,
			meaning: "mass of the pack as the car feels it: less what it displaces, plus what it makes necessary",
			source:  "pack - displaced + added",
			ways:    []way{from3(netMass, "pack_mass", "displaced_mass", "added_mass")}},
		{name: "net_specific_energy", unit: "Wh/kg", limits: anyNumber, traits: model.Traits{Figure: "ladder"}, outputOnly: true,
			meaning: "energy over net mass of the pack", source: "definition",
			ways: []way{quotient("pack_energy", "net_pack_mass")}},
		{name: "net_pack_less_cells", unit: "kg", limits: anyNumber,
			traits:     model.Traits{Beside: "displaced_mass", Silent: true, BelowNil: "net of what it displaces the pack weighs less than its own cells"},
			outputOnly: true,
			meaning:    "net mass of the pack less the mass of its own cells; below nil it weighs less than they do",
			source:     "difference",
			ways:       []way{{needs: []string{"net_pack_mass", "cells_mass"}, eval: remains, form: "net_pack_mass - cells_mass"}}},
	}
}

func withNonCells(cells, ratio float64) float64 { return cells * (1 + ratio) }

func nonCellRatio(pack, cells float64) float64 { return (pack - cells) / cells }

func packHeight(x []float64) float64 {
	cell, bond, sheet, other, lower, cooling, place, busbars := x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]
	if place > 1.5 {
		cooling = 0 // beside the cells it takes gap, and no height
	}
	return cell + float64(2*(bond+sheet)) + other + (lower - sheet) + (cooling + busbars)
}

func volumeShare(count, cell, pack float64) float64 { return count * cell / pack }

func netMass(pack, displaced, added float64) float64 { return pack - displaced + added }
