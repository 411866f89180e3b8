package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/sampling/portable"
)

// Conductors: IEC 60028 (copper, 1/58 ohm mm2/m, read in secondary texts) and IEC 60889
// (aluminium, from memory), at 20 degC.
const (
	copperOhm, copperRise, copperDensity          = 1e-6 / 58, 0.00393, 8890.0
	aluminiumOhm, aluminiumRise, aluminiumDensity = 28.264e-9, 0.00403, 2703.0
)

// electricsQuantities declares the pack's window of voltage, its peak power, charging by
// power, and busbars.
func electricsQuantities() []quantity {
	const (
		says = "High voltage is looked at for size alone: no insulation, no fault, no fuse." + screening
		ohm  = "Ohm's law"
		bars = "first principles; IEC 60028 copper, IEC 60889 aluminium"
	)
	traits := model.Traits{Convention: model.Convention{Says: says}}
	out := func(name, unit, meaning, source string, ways ...way) quantity {
		return quantity{name: name, unit: unit, limits: nonNegative, outputOnly: true, traits: traits, meaning: meaning, source: source, ways: ways}
	}
	return []quantity{
		{name: "cell_voltage_full", unit: "V", limits: positive, usual: usual{3.5, 4.4, sheets, "the nominal voltage for that of a full cell"}, meaning: "voltage of a full cell", source: "data sheet"},
		{name: "cell_voltage_empty", unit: "V", limits: positive, usual: usual{2.0, 3.1, sheets, "the nominal voltage for that of an empty cell"}, meaning: "voltage of an empty cell", source: "data sheet"},
		{name: "voltage_sag", unit: "%", limits: limits{0, 0.5, true}, usual: usual{3, 35, practice, "% left out"}, meaning: "share of the open-circuit voltage that is lost at peak power", source: "question"},
		{name: "lowest_voltage", unit: "V", limits: positive, meaning: "voltage of the pack below which it is not to fall at peak power", source: "data sheet of the inverter"},
		{name: "cell_peak_current", unit: "A", limits: positive, absent: absent(infinite), meaning: "largest current of one cell for some seconds; left out: none", source: "data sheet"},
		{name: "charge_power", unit: "kW", limits: nonNegative, usual: usual{3, 400, practice, "W for kW"}, meaning: "power at the pack's terminals when it is charged", source: "question"},
		out("pack_voltage_full", "V", "voltage of the full pack", "series x cell", product("series", "cell_voltage_full")),
		out("pack_voltage_empty", "V", "voltage of the empty pack", "series x cell", product("series", "cell_voltage_empty")),
		{name: "pack_peak_current", unit: "A", limits: limits{0, infinite, true}, outputOnly: true, step: true, traits: model.Traits{Aside: true}, meaning: "largest current of the pack for some seconds", source: "cells in parallel",
			ways: []way{{fit: peakCurrent, from: []string{"cell_peak_current", "parallel"}, form: "cell_peak_current x parallel"}}},
		out("peak_power_at_sag", "kW", "power at the terminals at that sag, or at the cells' peak current", ohm,
			from4(powerAtSag, "pack_voltage", "pack_resistance", "voltage_sag", "pack_peak_current").reads("pack_voltage x I - pack_resistance x I^2, I = min(voltage_sag x pack_voltage / pack_resistance, pack_peak_current)")),
		out("peak_power_to_lowest", "kW", "power at the terminals at the lowest voltage, or at the cells' peak current", ohm,
			from4(powerDownTo, "pack_voltage", "pack_resistance", "lowest_voltage", "pack_peak_current").reads("pack_voltage x I - pack_resistance x I^2, I = min((pack_voltage - lowest_voltage) / pack_resistance, pack_peak_current)")),
		out("charge_current", "A", "current of the pack at the charge power", ohm,
			from3(chargeCurrent, "charge_power", "pack_voltage", "pack_resistance").reads("2 x charge_power / (pack_voltage + sqrt(pack_voltage^2 + 4 x pack_resistance x charge_power))")),
		out("charge_terminal_voltage", "V", "voltage at the terminals at the charge power", ohm,
			from3(terminals, "pack_voltage", "pack_resistance", "charge_current").reads("pack_voltage + pack_resistance x charge_current")),
		out("charge_chemical_power", "kW", "power that reaches the cells' chemistry at the charge power", "definition", product("pack_voltage", "charge_current")),
		{name: "charge_voltage_margin", unit: "V", limits: anyNumber, outputOnly: true, traits: model.Traits{Beside: "charge_terminal_voltage", BelowNil: "the voltage of the full pack limits the charge before its power does"},
			meaning: "voltage of the full pack less that at the terminals", source: "difference", ways: []way{difference("pack_voltage_full", "charge_terminal_voltage")}},

		{name: "conductor", unit: "1", limits: share, absent: absent(0), traits: model.Traits{Words: map[string]float64{"copper": 0, "aluminium": 1}}, meaning: "what busbars are made of: copper (left out) or aluminium", source: "design"},
		{name: "conductor_length", unit: "m", limits: positive, meaning: "length of busbar that carries the whole current of the pack", source: "design"},
		{name: "conductor_current", unit: "A", limits: positive, meaning: "continuous (root mean square) current of the pack, not its peak", source: "question"},
		{name: "current_density", unit: "A/mm2", limits: positive, usual: usual{1.5, 8, practice, "the peak current for the continuous one"}, meaning: "current over section of busbars", source: "design"},
		{name: "busbar_rise", unit: "K", limits: positive, usual: usual{10, 60, practice, "the temperature for its rise"}, meaning: "rise of busbars over the air about them", source: "question"},
		{name: "busbar_aspect", unit: "1", limits: positive, meaning: "width over thickness of busbars", source: "design", fallback: "5", fallbackSource: "flat bar, common practice, no source"},
		{name: "busbar_film", unit: "W/(m2 K)", limits: positive, meaning: "heat that a busbar gives to still air, radiation in", source: "handbook", fallback: "9 W/(m2 K)", fallbackSource: "convection and radiation, common practice, no source"},
		{name: "busbar_air_temperature", unit: "degC", limits: kelvins, temperature: true, meaning: "temperature of the air about busbars", source: "question", fallback: "40 degC", fallbackSource: "common practice, no source"},
		out("busbar_section", "mm2", "section of busbars", bars,
			quotient("conductor_current", "!current_density"),
			each(busbarSection, "conductor_current", "!busbar_rise", "busbar_aspect", "busbar_film", "busbar_air_temperature", "conductor").
				reads("(conductor_current^2 x rho x sqrt(busbar_aspect) / (2 x (1 + busbar_aspect) x busbar_film x busbar_rise))^(2/3), rho of the conductor at busbar_air_temperature + busbar_rise")),
	}
}

// peakCurrent is without limit where the cells' is, whatever stands in parallel.
func peakCurrent(_ *System, c *car) plan {
	if !c.gives([]string{"cell_peak_current"}) {
		return plan{ok: true, eval: always(math.MaxFloat64).eval}
	}
	return plan{ok: true, needs: []string{"cell_peak_current", "parallel"}, eval: product("", "").eval}
}

func powerAt(voltage, resistance, current float64) float64 {
	return float64(voltage*current) - float64(resistance*(current*current))
}

func powerAtSag(voltage, resistance, sag, peak float64) float64 {
	return powerAt(voltage, resistance, math.Min(sag*voltage/resistance, peak))
}

func powerDownTo(voltage, resistance, lowest, peak float64) float64 {
	if !(lowest >= 0.5*voltage) {
		lowest = 0.5 * voltage // beyond it more current is less power
	}
	return powerAt(voltage, resistance, math.Min((voltage-lowest)/resistance, peak))
}

func chargeCurrent(power, voltage, resistance float64) float64 {
	return 2 * power / (voltage + math.Sqrt(float64(voltage*voltage)+float64(4*resistance*power)))
}

func terminals(voltage, resistance, current float64) float64 {
	return voltage + float64(resistance*current)
}

// ohmOf is the resistivity of a conductor at a temperature.
func ohmOf(conductor, temperature float64) float64 {
	warm := temperature - referenceK
	copper, aluminium := float64(copperOhm*(1+float64(copperRise*warm))), float64(aluminiumOhm*(1+float64(aluminiumRise*warm)))
	return copper + float64(conductor*(aluminium-copper))
}

func busbarSection(x []float64) float64 {
	current, rise, aspect, film, air, conductor := x[0], x[1], x[2], x[3], x[4], x[5]
	return portable.Pow(current*current*ohmOf(conductor, air+rise)*math.Sqrt(aspect)/(2*(1+aspect)*film*rise), 2.0/3)
}

func busbarMass(section, length, conductor float64) float64 {
	return section * length * (copperDensity + float64(conductor*(aluminiumDensity-copperDensity)))
}
