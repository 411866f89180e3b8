package vehicle

import "proofmass/model"

// warmUpQuantities declares a range in the cold of trips that each begin cold: cabin and
// battery are warmed up once a trip.
func warmUpQuantities() []quantity {
	const says = "Trips in the cold are all alike in length, and each begins as cold as the air."
	return []quantity{
		{name: "trip_length", unit: "km", limits: positive, usual: usual{3, 150, practice, "the distance of a day or a year"}, meaning: "distance of one trip in the cold, after which the car is as cold as the air again", source: "a measured series"},
		{name: "cabin_heat_capacity", unit: "kJ/K", limits: nonNegative, absent: absent(0), usual: usual{30, 200, practice, "air alone"}, meaning: "heat that cabin, trim and glass take for a kelvin", source: "measured"},
		{name: "battery_warm_temperature", unit: "degC", limits: kelvins, temperature: true, meaning: "temperature to which the battery is warmed up", source: "data sheet"},
		{name: "battery_heating_performance", unit: "1", limits: positive, meaning: "heat over electrical power when the battery is warmed up", source: "measured"},
		{name: "preconditioned", unit: "1", limits: share, absent: absent(0), traits: model.Traits{Words: map[string]float64{"no": 0, "yes": 1}}, meaning: "whether cabin and battery are warmed up from the plug before each trip: no (left out) or yes", source: "question"},
		{name: "cabin_warm_up_energy", unit: "Wh", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Question: "trip_length"}, meaning: "electrical energy that warms up the cabin", source: "heat balance",
			ways: []way{from4(warming, "!cabin_heat_capacity", "cabin_low", "cold_temperature", "heating_performance").reads("cabin_heat_capacity x max(0, cabin_low - cold_temperature) / heating_performance"),
				each(noHeat, "cabin_heat_capacity").reads("0 where cabin_heat_capacity is left out")}},
		{name: "battery_warm_up_energy", unit: "Wh", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Question: "trip_length"}, meaning: "electrical energy that warms up the cells", source: "heat balance",
			ways: []way{each(warmingCells, "cells_mass", "cell_specific_heat", "!battery_warm_temperature", "cold_temperature", "battery_heating_performance").
				reads("cells_mass x cell_specific_heat x max(0, battery_warm_temperature - cold_temperature) / battery_heating_performance"), {fit: notWarmed, from: []string{"battery_warm_temperature"}, form: "0 where battery_warm_temperature is left out"}}},
		{name: "warm_up_energy", unit: "Wh", limits: nonNegative, outputOnly: true, traits: model.Traits{Question: "trip_length"}, meaning: "electrical energy that warms up cabin and battery, once a trip", source: "sum",
			ways: []way{sum("cabin_warm_up_energy", "battery_warm_up_energy")}},
		{name: "cold_trip_range", unit: "km", limits: nonNegative, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: says}},
			meaning: "cold_range of trips of trip_length that each begin cold, or warmed up from the plug where preconditioned", source: "usable energy in the cold / (consumption in the cold + warm-up / trip)",
			ways: []way{each(tripRange, "cold_usable_energy", "cold_udds_total", "cold_hwfet_total", "model_error_city", "model_error_highway", "model_error_own_factor",
				"warm_up_energy", "trip_length", "preconditioned").
				reads("0.55 and 0.45 of cold_usable_energy / (cold_udds_total or cold_hwfet_total x model_error_city or model_error_highway x model_error_own_factor + warm_up_energy / trip_length x (1 - preconditioned))")}},
		{name: "cold_range_factor", unit: "%", limits: nonNegative, outputOnly: true, traits: model.Traits{Aside: true, Question: "cold_temperature"}, meaning: "range in the cold over the combined range", source: "definition",
			ways: []way{quotient("cold_range", "combined_range")}},
	}
}

func noHeat(x []float64) float64 { return float64(0 * x[0]) }

func warming(capacity, warm, cold, performance float64) float64 {
	return capacity * max(warm-cold, 0) / performance
}

func warmingCells(x []float64) float64 { return warming(x[0]*x[1], x[2], x[3], x[4]) }

// notWarmed is for cars whose battery is driven as cold as it is.
func notWarmed(_ *System, c *car) plan {
	if c.gives([]string{"battery_warm_temperature"}) {
		return plan{}
	}
	return plan{ok: true, eval: always(0).eval}
}

func tripRange(x []float64) float64 {
	energy, city, highway, own := x[0], x[1]*x[3], x[2]*x[4], x[5]
	extra := float64(x[6] / x[7] * (1 - x[8]))
	return combined(rangeOf(energy, float64(city*own)+extra), rangeOf(energy, float64(highway*own)+extra))
}
