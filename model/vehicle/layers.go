package vehicle

import "proofmass/model"

// layerQuantities declares what lies above and below the cells, and how high the pack's
// mass stands. Layers from below: sheet, [cooling plate], bond, cells, bond, [plate],
// [busbars], sheet.
func layerQuantities() []quantity {
	const design = "design"
	return []quantity{
		{name: "cooling_place", unit: "1", limits: limits{coolingBelow, coolingBeside, false}, absent: absent(coolingBelow),
			traits:  model.Traits{Words: map[string]float64{"below": coolingBelow, "above": coolingAbove, "side": coolingBeside}},
			meaning: "where the cells are cooled: below (left out), above, or at the side, which takes gap and no height", source: design},
		{name: "cooling_thickness", unit: "mm", limits: nonNegative, absent: absent(0),
			meaning: "height that the cooling plate takes, channels in", source: design},
		{name: "busbar_layer_thickness", unit: "mm", limits: nonNegative, absent: absent(0),
			meaning: "height of the layer of busbars and wiring above the cells", source: design},
		{name: "pack_centre_height", unit: "mm", limits: positive, traits: model.Traits{Aside: true},
			meaning: "height of the pack's centre of mass over its underside",
			source:  "each layer's mass at its own height; rails, tray and all else halfway up",
			ways:    []way{each(centreHeight, stackNeeds...).reads("(face_sheet_mass, by face_sheet_thickness and lower_sheet_thickness, cooling_mass and coolant_mass, by cooling_place and cooling_thickness, cells_mass by cell_height, bond_mass by bond_thickness, filler_mass by bonded_height, busbar_mass by busbar_layer_thickness, each at its height, and the rest at half of pack_height) / pack_mass")}},
	}
}

// stackNeeds are what centreHeight reads.
var stackNeeds = []string{
	"pack_mass", "pack_height", "cell_height", "bond_thickness", "bonded_height", "face_sheet_thickness", "lower_sheet_thickness",
	"cooling_thickness", "cooling_place", "busbar_layer_thickness",
	"cells_mass", "filler_mass", "bond_mass", "face_sheet_mass", "cooling_mass", "coolant_mass", "busbar_mass",
}

// centreHeight puts the layers one above the other. The filler stands on the lower bond.
func centreHeight(x []float64) float64 {
	pack, height, cell, bond, filled, upper, lower, plate, place, busbars := x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7], x[8], x[9]
	cells, filler, bonds, sheets, cooling, wires := x[10], x[11], x[12], x[13], x[14]+x[15], x[16]
	lowerMass, upperMass := float64(sheets*0.5), float64(sheets*0.5)
	if both := upper + lower; both > 0 {
		lowerMass, upperMass = sheets*(lower/both), sheets*(upper/both)
	}
	top := lower // of what lies so far
	var plateAt float64
	if place < 0.5 {
		plateAt = top + float64(0.5*plate)
		top += plate
	}
	lowBondAt := top + float64(0.5*bond)
	top += bond
	cellsAt, fillerAt := top+float64(0.5*cell), top+float64(0.5*filled)
	top += cell
	highBondAt := top + float64(0.5*bond)
	top += bond
	switch {
	case place > 1.5:
		plateAt = cellsAt
	case place > 0.5:
		plateAt = top + float64(0.5*plate)
		top += plate
	}
	busbarsAt := top + float64(0.5*busbars)
	rest := pack - cells - filler - bonds - sheets - cooling - wires
	moment := float64(cells*cellsAt) + float64(filler*fillerAt) + float64(0.5*bonds*(lowBondAt+highBondAt)) + float64(cooling*plateAt) +
		float64(wires*busbarsAt) + float64(lowerMass*(0.5*lower)) + float64(upperMass*(height-float64(0.5*upper))) + float64(rest*(0.5*height))
	return moment / pack
}
