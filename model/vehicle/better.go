package vehicle

import (
	"strings"

	"proofmass/model/unit"
)

// What makers announce: less mass and consumption, more energy, range and payload.
var (
	kilogram      = mustUnit("kg").Dimension()
	consumption   = mustUnit("Wh/km").Dimension()
	energyAmount  = mustUnit("Wh").Dimension()
	energyPerMass = mustUnit("Wh/kg").Dimension()
	ohms          = mustUnit("ohm").Dimension()
	length        = mustUnit("km").Dimension()
)

// better is 1 where more of a quantity is what a maker announces, -1 where less is, 0
// where neither can be said. It follows from what is measured, so that a new
// quantity need not say it.
func better(name string, d unit.Dimension) int {
	switch {
	case strings.HasSuffix(name, "_saving"), name == "payload", name == "displaced_by_stiffness", name == "static_stability_factor", name == "cells_that_fit":
		return 1
	case d == kilogram, d == consumption, d == ohms, name == "drag_coefficient", name == "drag_area", name == "rolling_coefficient":
		return -1
	case d == energyAmount, d == energyPerMass, d == length && strings.HasSuffix(name, "_range"):
		return 1
	}
	return 0
}
