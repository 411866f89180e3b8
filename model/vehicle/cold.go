package vehicle

import (
	"slices"

	"proofmass/model"
)

// coldQuantities declares the range in the cold: UDDS and HWFET, 55 and 45 %,
// unadjusted, at cold_temperature, which acts on air, tyres, battery, cabin and usable
// energy. It is warm from the start but for these: no warming up of cabin and pack.
func coldQuantities(drives Drives) []quantity {
	const cold = "in the cold"
	step := func(name, unit, meaning, source string, ways ...way) quantity {
		return quantity{name: name, unit: unit, limits: anyNumber, step: true, outputOnly: true,
			traits:  model.Traits{Question: "cold_temperature"},
			meaning: meaning + " " + cold, source: source, ways: ways}
	}
	causedBy := func(cause, name, unit, meaning, source string, ways ...way) quantity {
		q := step(name, unit, meaning, source, ways...)
		q.cause = cause
		return q
	}
	total := func(drive string) quantity {
		r := drives.named(drive).road().inCold()
		needs := kernelNeeds("cold_", []string{"rolling_force", "rolling_slope", "speed_coefficient", "aero_coefficient",
			"auxiliary_total", "pack_resistance"})
		return quantity{name: "cold_" + drive + "_total", unit: "Wh/km", limits: anyNumber, outputOnly: true,
			meaning: "chemical energy per distance " + cold + ", without the model's error", source: "the same steps",
			ways: []way{{from: append(slices.Clone(needs), "cold_regen_power_limit"), fit: func(_ *System, c *car) plan {
				own := slices.Clone(needs)
				if c.gives([]string{"cold_regen_power_limit"}) {
					own[slices.Index(own, "regen_power_limit")] = "cold_regen_power_limit"
				}
				return plan{ok: true, needs: own, start: r.total()}
			}, over: r.name}}}
	}
	const corrected = "coast-down corrected for temperature as UN GTR 15 Annex 4, from memory"
	return []quantity{
		{name: "cold_temperature", unit: "degC", limits: kelvins,
			usual:       usual{-40, 20, practice, "degF for degC"},
			temperature: true,
			meaning:     "temperature of the air at which a range in the cold is asked for", source: "question"},
		{name: "cold_energy_factor", unit: "1", limits: openShare,
			meaning: "factor of cold_temperature on usable energy, in place of energy_temperature_factor", source: "test"},
		step("cold_air_density", "kg/m3", "density of the air", "dry air as a perfect gas",
			from2(airDensity, "air_pressure", "cold_temperature")),
		step("cold_rolling_force", "N", "rolling resistance at low speed", corrected,
			coasting(from3(stiffer, "rolling_force", "rolling_temperature_factor", "cold_temperature")), coldRolling().except(coastDown...)),
		step("cold_rolling_slope", "N s/m", "growth of rolling resistance with speed", corrected,
			coasting(always(0)), product("cold_rolling_force", "rolling_speed_factor").except(coastDown...)),
		step("cold_speed_coefficient", "N s/m", "coast-down force that goes with speed", corrected,
			coasting(from3(stiffer, "speed_coefficient", "rolling_temperature_factor", "cold_temperature")), always(0).except(coastDown...)),
		causedBy(byDrag, "cold_aero_coefficient", "N s2/m2", "air drag over the square of speed", corrected,
			coasting(from2(denser, "coastdown_f2", "cold_temperature")), product("cold_air_density", "drag_area").halved().except(coastDown...)),
		causedBy(byAuxiliaries, "cold_auxiliary_total", "W", "electrical power of all but traction", "auxiliaries + cabin conductance x kelvins / performance",
			cabinWay("cold_temperature")),
		causedBy(byBattery, "cold_pack_resistance", "mohm", "resistance of the pack", "Arrhenius' law", append(resistanceWays("cold_temperature"),
			same("pack_resistance").except("cell_resistance"))...),
		{name: "cold_regen_power_limit", unit: "kW", limits: nonNegative,
			meaning: "most braking power at the wheels that is recovered " + cold + "; that of regen_power_limit where it is left out", source: "measured"},
		total("udds"),
		total("hwfet"),
		{name: "cold_range", unit: "km", limits: nonNegative, outputOnly: true,
			meaning: "55 % of city and 45 % of highway range at cold_temperature, unadjusted: to compare with combined_range, not with label_range",
			source:  "usable energy in the cold / consumption in the cold, with the model's error",
			ways: []way{{eval: coldRange, needs: []string{"cold_usable_energy", "cold_udds_total", "cold_hwfet_total",
				"model_error_city", "model_error_highway", "model_error_own_factor"}}}},
		{name: "cold_usable_energy", cause: byEnergy, unit: "kWh", limits: positive,
			meaning: "chemical energy that can be used " + cold, source: "nominal x usable share x cold factor x state of health, or given usable energy x cold factor",
			ways: []way{
				product("!usable_energy", "cold_energy_factor"),
				product("pack_energy", "usable_share", "cold_energy_factor", "state_of_health"),
			}},
	}
}

func coldRolling() way {
	needs := []string{"test_mass", "rolling_coefficient", "rolling_temperature_factor", "cold_temperature", "road_slope"}
	return from5(func(mass, coefficient, factor, temperature, slope float64) float64 {
		return mass * rollingPerMass(coefficient, factor, temperature, slope)
	}, needs[0], needs[1], needs[2], needs[3], needs[4])
}

// stiffer corrects a mechanical coast-down force from 20 degC to the temperature.
func stiffer(force, factor, temperature float64) float64 { return force * warmth(factor, temperature) }

// denser corrects a coast-down's F2 from 20 degC to the temperature.
func denser(f2, temperature float64) float64 { return f2 * referenceK / temperature }

func coldRange(out, in [][]float64) {
	for i := range out[0] {
		energy, own := in[0][i], in[5][i]
		out[0][i] = combined(rangeOf(energy, in[1][i]*in[3][i]*own), rangeOf(energy, in[2][i]*in[4][i]*own))
	}
}
