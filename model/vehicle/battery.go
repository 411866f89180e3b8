package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/sampling/portable"
)

var infinite = math.Inf(1)

func batteryQuantities() []quantity {
	fromCells := []string{"cell_resistance", "connection_resistance"}
	return []quantity{
		{name: "connection_resistance", unit: "mohm", limits: nonNegative,
			usual:   usual{0.5, 15, practice, "ohm for mohm"},
			absent:  absent(0),
			meaning: "resistance of the pack outside its cells", source: "data sheet or measured"},
		{name: "resistance_mass", unit: "ohm kg", limits: nonNegative,
			meaning: "pack resistance x built mass, where the cells' is not given", source: "0.07 ohm for a car of 2200 kg",
			fallback: "154 ohm kg", fallbackSource: "0.07 ohm for a car of 2200 kg; the certification data do not tell"},
		{name: "pack_voltage", cause: byBattery, unit: "V", limits: positive,
			usual:   usual{250, 900, practice, "a module's voltage for the pack's"},
			meaning: "open-circuit voltage of the pack", source: "series x cell voltage",
			fallback: "370 V", fallbackSource: "usual voltage; the certification data do not tell",
			ways: []way{product("series", "cell_voltage")}},
		{name: "pack_resistance", cause: byBattery, unit: "mohm", limits: nonNegative,
			usual:   usual{15, 250, derived, "one cell's resistance for the pack's"},
			step:    true,
			meaning: "resistance of the pack", source: "cells in series and parallel, Arrhenius' law, connections",
			ways: append(resistanceWays("outside_temperature"), quotient("resistance_mass", "built_mass").except(fromCells...))},
		{name: "usable_share", unit: "%", limits: openShare,
			usual:   usual{85, 100, practice, "% left out"},
			meaning: "usable share of the nominal energy", source: "data sheet or test"},
		{name: "energy_temperature_factor", unit: "1", limits: nonNegative,
			meaning: "factor of temperature on usable energy", source: "test",
			fallback: "1", fallbackSource: "the tests are run warm"},
		{name: "state_of_health", unit: "1", limits: openShare,
			usual:   usual{0.6, 1.02, practice, "% left out"},
			meaning: "energy left over energy when new", source: "test",
			fallback: "1", fallbackSource: "a new pack"},
		{name: "usable_energy", cause: byEnergy, unit: "kWh", limits: positive,
			traits: model.Traits{Headline: 3}, usual: usual{12, 210, practice, "Wh for kWh, MJ for kWh"},
			meaning: "chemical energy that can be used", source: "nominal x usable share x temperature factor x state of health",
			ways: []way{product("pack_energy", "usable_share", "energy_temperature_factor", "state_of_health")}},
		{name: "recharge_efficiency", cause: byRecharging, factor: LossFactor, unit: "1", limits: openShare,
			usual:   usual{0.75, 0.96, sheets, "the loss for the efficiency, % left out"},
			meaning: "chemical energy over energy from the plug", source: "test",
			fallback: "{normal: {mean: 0.862, sd: 0.0155}}", fallbackSource: fittedCars},
	}
}

// resistanceWays makes a pack's resistance from its cells at a temperature.
func resistanceWays(temperature string) []way {
	cells := []string{"!cell_resistance", "cell_resistance_temperature", temperature, "series", "parallel", "connection_resistance"}
	return []way{{needs: cells, eval: func(out, in [][]float64) {
		for i := range out[0] {
			out[0][i] = packResistance(in[0][i], in[1][i], in[2][i], in[3][i], in[4][i], in[5][i])
		}
	}}}
}

func packResistance(cell, activation, temperature, series, parallel, connections float64) float64 {
	factor := portable.Exp(activation * (1/temperature - 1/298.15))
	return float64(cell*factor*series/parallel) + connections
}
