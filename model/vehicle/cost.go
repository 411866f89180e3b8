package vehicle

import (
	"proofmass/model"
	"proofmass/model/unit"
)

// costQuantities declares what a pack costs to make, in the study's one currency, whatever
// that is.
func costQuantities() []quantity {
	const (
		money = unit.NoCurrency
		asked = "ask for its year and for what it holds"
		says  = "Costs are no prices: without margin, development and warranty, and in the money of the year of what was stated."
	)
	out := func(name, of, meaning string, w way) quantity {
		return quantity{name: name, unit: of, limits: anyNumber, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: says}},
			meaning: meaning, source: "sum of what is bought, with scrap, and assembly", ways: []way{w}}
	}
	return []quantity{
		{name: "cell_price", unit: money + "/kWh", limits: nonNegative, meaning: "what cells cost per nominal energy", source: asked},
		{name: "hardware_price", unit: money + "/kg", limits: nonNegative, meaning: "what all else in the pack costs per mass", source: asked},
		{name: "assembly_cost", unit: money, limits: nonNegative, absent: absent(0), meaning: "labour and plant for a pack", source: asked},
		{name: "scrap_share", unit: "%", limits: nonNegative, absent: absent(0), usual: usual{0, 15, practice, "the yield for the scrap"},
			meaning: "bought parts thrown away over parts built in", source: asked},
		{name: "displaced_credit", unit: money + "/kg", limits: nonNegative, absent: absent(0), meaning: "what a kilogram of displaced structure would have cost", source: asked},
		{name: "added_price", unit: money + "/kg", limits: nonNegative, absent: absent(0), meaning: "what a kilogram of added structure costs", source: asked},
		out("pack_cost", money, "cost of the pack", each(packCost, "pack_energy", "cell_price", "pack_mass", "cells_mass", "hardware_price", "scrap_share", "assembly_cost").
			reads("(pack_energy x cell_price + (pack_mass - cells_mass) x hardware_price) x (1 + scrap_share) + assembly_cost")),
		out("pack_cost_per_energy", money+"/kWh", "cost of the pack per nominal energy", quotient("pack_cost", "pack_energy")),
		out("pack_cost_per_usable_energy", money+"/kWh", "cost of the pack per usable energy", quotient("pack_cost", "usable_energy")),
		out("pack_cost_to_car", money, "cost of the pack less what displaced structure would have cost, plus what is added costs",
			each(costToCar, "pack_cost", "displaced_mass", "displaced_credit", "added_mass", "added_price").
				reads("pack_cost - displaced_mass x displaced_credit + added_mass x added_price")),
	}
}

func packCost(x []float64) float64 {
	bought := float64(x[0]*x[1]) + float64((x[2]-x[3])*x[4])
	return float64(bought*(1+x[5])) + x[6]
}

func costToCar(x []float64) float64 {
	return x[0] - float64(x[1]*x[2]) + float64(x[3]*x[4])
}

// bondedQuantities declares how much of a pack cannot simply be taken apart, and what a
// pack weighs for the car.
func bondedQuantities() []quantity {
	traits := model.Traits{Aside: true}
	const says = "What is bonded is a screening figure, and no verdict on repair or recycling."
	apart := model.Traits{Aside: true, Convention: model.Convention{Says: says}}
	return []quantity{
		{name: "bonded_mass_per_energy", unit: "kg/kWh", limits: nonNegative, outputOnly: true, traits: apart,
			meaning: "adhesive, potting and filler per nominal energy", source: "definition",
			ways: []way{from3(fillersPer, "filler_mass", "bond_mass", "pack_energy").reads("(filler_mass + bond_mass) / pack_energy")}},
		{name: "bonded_mass_share", unit: "%", limits: nonNegative, outputOnly: true, traits: apart,
			meaning: "share of the pack's mass that is bonded: fillers, bonds, and of cells and sheets what bonded_share says", source: "definition",
			ways: []way{each(bondedPart, "cells_mass", "face_sheet_mass", "filler_mass", "bond_mass", "bonded_share", "pack_mass").
				reads("((cells_mass + face_sheet_mass) x bonded_share + filler_mass + bond_mass) / pack_mass, nil without filler_mass and bond_mass")}},
		{name: "pack_mass_per_cell", unit: "g", limits: anyNumber, outputOnly: true, traits: traits, meaning: "mass of the pack over its cells, as on a scale", source: "definition",
			ways: []way{quotient("pack_mass", "cell_count")}},
		{name: "net_mass_per_cell", unit: "g", limits: anyNumber, outputOnly: true, traits: traits, meaning: "mass that the car feels for each cell", source: "definition",
			ways: []way{quotient("net_pack_mass", "cell_count")}},
		{name: "pack_mass_per_energy", unit: "kg/kWh", limits: anyNumber, outputOnly: true, traits: traits, meaning: "mass of the pack over its energy, as on a scale", source: "definition",
			ways: []way{quotient("pack_mass", "pack_energy")}},
		{name: "net_mass_per_energy", unit: "kg/kWh", limits: anyNumber, outputOnly: true, traits: traits, meaning: "mass that the car feels for each unit of energy", source: "definition",
			ways: []way{quotient("net_pack_mass", "pack_energy")}},
	}
}

func fillersPer(filler, bond, energy float64) float64 { return (filler + bond) / energy }

func bondedPart(x []float64) float64 {
	cells, sheets, filler, bond, bonded, pack := x[0], x[1], x[2], x[3], x[4], x[5]
	if filler == 0 && bond == 0 {
		return 0
	}
	return (float64((cells+sheets)*bonded) + filler + bond) / pack
}
