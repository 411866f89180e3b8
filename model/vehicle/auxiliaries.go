package vehicle

func auxiliaryQuantities() []quantity {
	return []quantity{
		{name: "auxiliary_power", factor: LossFactor, unit: "W", limits: nonNegative,
			usual:   usual{100, 700, practice, "kW for W, the cabin's heat counted in"},
			meaning: "electrical power of all but traction and cabin", source: "measured",
			fallback: "{normal: {mean: 199 W, sd: 71 W}, min: 50 W}", fallbackSource: fittedCars},
		{name: "cabin_conductance", unit: "W/K", limits: nonNegative,
			usual:   usual{30, 250, practice, "kW/K for W/K"},
			meaning: "heat that the cabin loses for each kelvin, fresh air included", source: "measured",
			fallback: "0 W/K", fallbackSource: "the tests are run with the climate control off"},
		{name: "cabin_low", unit: "degC", limits: kelvins, temperature: true,
			meaning: "outside temperature below which the cabin is heated", source: "measured"},
		{name: "cabin_high", unit: "degC", limits: kelvins, temperature: true,
			meaning: "outside temperature above which the cabin is cooled", source: "measured"},
		{name: "heating_performance", unit: "1", limits: positive,
			usual:   usual{0.9, 4, practice, "% left out"},
			meaning: "heat over electrical power when heating: 1 a resistor, more a heat pump", source: "measured"},
		{name: "cooling_performance", unit: "1", limits: positive,
			meaning: "heat over electrical power when cooling", source: "measured"},
		{name: "auxiliary_total", cause: byAuxiliaries, unit: "W", limits: nonNegative, step: true,
			meaning: "electrical power of all but traction", source: "auxiliaries + cabin conductance x kelvins / performance",
			ways: []way{
				cabinWay("outside_temperature"),
				from2(auxiliariesOnly, "auxiliary_power", "cabin_conductance").except("cabin_conductance"),
			}},
	}
}

// cabinWay adds the cabin's heating or cooling at a temperature to the auxiliaries.
func cabinWay(temperature string) way {
	needs := []string{"auxiliary_power", "!cabin_conductance", temperature, "cabin_low", "cabin_high",
		"heating_performance", "cooling_performance"}
	return way{needs: needs, eval: func(out, in [][]float64) {
		for i := range out[0] {
			out[0][i] = in[0][i] + cabinPower(in[1][i], in[2][i], in[3][i], in[4][i], in[5][i], in[6][i])
		}
	}}
}

func cabinPower(conductance, outside, low, high, heating, cooling float64) float64 {
	heat := conductance * max(low-outside, 0) / heating
	cold := conductance * max(outside-high, 0) / cooling
	return float64(heat) + float64(cold)
}

// auxiliariesOnly names the assumption of no climate control among its needs.
func auxiliariesOnly(auxiliaries, _ float64) float64 { return auxiliaries }
