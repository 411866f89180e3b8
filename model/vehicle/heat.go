package vehicle

import (
	"math"
	"sync"

	"proofmass/model"
	"proofmass/model/schedule"
	"proofmass/sampling/portable"
)

const thermalSays = "Heat is steady, of cells alike: no propagation from cell to cell, no runaway." + screening

// heatQuantities declares how a cell gets rid of its heat: at an end, at both, or at its
// side, over an interface into a plate.
func heatQuantities() []quantity {
	const (
		carslaw = "Carslaw and Jaeger, Conduction of Heat in Solids, uniform source"
		disc    = carslaw + "; side over an arc: disc with one arc at one temperature, as Philip, ZAMP 23 (1972), from memory"
	)
	traits := model.Traits{Convention: model.Convention{Says: thermalSays}}
	out := func(name, unit, meaning, source string, w way) quantity {
		return quantity{name: name, unit: unit, limits: nonNegative, outputOnly: true, traits: traits, meaning: meaning, source: source, ways: []way{w}}
	}
	touch := []string{"interface_thickness", "interface_conductivity", "plate_conductance"}
	round := append([]string{"!cell_diameter", "cell_height", "cooling_place", "cooled_ends", "axial_conductivity", "radial_conductivity", "contact_share"}, touch...)
	flat := append([]string{"!cell_width", "!cell_thickness", "cell_height", "radial_conductivity"}, touch...)
	told := "inside the cell by cooling_place, cooled_ends, contact_share, axial_conductivity, radial_conductivity, cell_diameter or cell_width and cell_thickness (cell_format), cell_height; + interface_thickness / (interface_conductivity x area) + 1 / (plate_conductance x area)"
	return []quantity{
		{name: "axial_conductivity", unit: "W/(m K)", limits: positive, usual: usual{8, 35, sheets, "axial and radial exchanged"}, meaning: "conductivity of a round cell along its axis", source: "measured"},
		{name: "radial_conductivity", unit: "W/(m K)", limits: positive, usual: usual{0.15, 3, sheets, "axial and radial exchanged"}, meaning: "conductivity of a round cell across its axis, of a flat-sided one through its thickness", source: "measured"},
		{name: "contact_share", unit: "%", limits: openShare, usual: usual{8, 100, practice, "an angle for a share"}, meaning: "share of a round cell's perimeter that is cooled at the side, as one arc", source: "design",
			fallback: "1", fallbackSource: "the whole perimeter: the least rise"},
		{name: "cooled_ends", unit: "1", limits: limits{1, 2, false}, absent: absent(1), traits: model.Traits{Whole: true}, meaning: "ends of a round cell that are cooled, where it is not cooled at the side", source: "design"},
		{name: "interface_thickness", unit: "mm", limits: nonNegative, absent: absent(0), usual: usual{0.1, 3, sheets, "um for mm"}, meaning: "thickness of what lies between cell and plate", source: "design"},
		{name: "interface_conductivity", unit: "W/(m K)", limits: positive, absent: absent(1, "interface_thickness"), usual: usual{0.3, 6, sheets, "conductance for conductivity"}, meaning: "its conductivity", source: "data sheet"},
		{name: "plate_conductance", unit: "W/(m2 K)", limits: positive, usual: usual{300, 8000, sheets, "a whole plate's for that of its area"}, meaning: "heat that the plate takes over per area, to its coolant", source: "Incropera et al., forced liquids, from memory"},
		{name: "coolant_temperature", unit: "degC", limits: kelvins, temperature: true, meaning: "temperature of the coolant as it comes in", source: "question"},
		{name: "cell_temperature_limit", unit: "degC", limits: kelvins, temperature: true, usual: usual{40, 65, practice, "the safety limit for that of ageing"}, meaning: "temperature of the hottest point that a cell is to keep to", source: "ageing, not safety"},
		{name: "cell_specific_heat", unit: "J/(kg K)", limits: positive, usual: usual{780, 1200, sheets, "per gram for per kilogram"}, meaning: "heat that a kilogram of cell takes for a kelvin", source: "measured"},
		{name: "coolant_flow", unit: "l/min", limits: positive, usual: usual{3, 40, practice, "l/h for l/min"}, meaning: "coolant through the pack; left out: it does not warm up on its way", source: "design"},
		{name: "coolant_density", unit: "kg/m3", limits: positive, meaning: "density of the coolant", source: "handbook", fallback: "1065 kg/m3", fallbackSource: "half water, half glycol, handbook, from memory"},
		{name: "coolant_specific_heat", unit: "J/(kg K)", limits: positive, meaning: "heat that a kilogram of coolant takes for a kelvin", source: "handbook", fallback: "3350 J/(kg K)", fallbackSource: "half water, half glycol, handbook, from memory"},
		out("cell_thermal_resistance", "K/W", "rise of a cell's hottest point over the coolant, per heat of that cell", disc, shaped(each(roundPeak, round...), each(flatPeak, flat...)).reads(told)),
		{name: "cell_mean_resistance", unit: "K/W", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Aside: true}, meaning: "the same of a cell's mean temperature", source: disc,
			ways: []way{shaped(each(roundMean, round...), each(flatMean, flat...)).reads(told)}},
		{name: "coolant_resistance", unit: "K/W", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Aside: true}, meaning: "rise of the coolant by the last cell, per heat of a cell", source: "heat balance of the flow",
			ways: []way{{fit: coolantWay, from: []string{"coolant_flow", "cell_count", "coolant_density", "coolant_specific_heat"}, form: "cell_count / (coolant_flow x coolant_density x coolant_specific_heat), nil without coolant_flow"}}},
		out("cell_heat_limit", "W", "heat of a cell at which its hottest point is at its limit, steadily", "definition",
			each(heatAtLimit, "cell_temperature_limit", "coolant_temperature", "cell_thermal_resistance", "coolant_resistance").reads("(cell_temperature_limit - coolant_temperature) / (cell_thermal_resistance + coolant_resistance)")),
		out("cell_current_limit", "A", "current of a cell at that heat", "heat = current^2 x resistance at 25 degC",
			from2(currentOfHeat, "cell_heat_limit", "cell_resistance").reads("sqrt(cell_heat_limit / cell_resistance)")),
		out("steady_power_limit", "kW", "chemical power of the pack at that current", "definition", product("cell_current_limit", "parallel", "series", "cell_voltage")),
		out("cell_time_constant", "s", "time in which a cell's mean temperature goes two thirds of its way: shorter sessions stay below the steady rise", "mass x specific heat x mean resistance",
			product("cell_mass", "cell_specific_heat", "cell_mean_resistance")),
		out("charge_cell_heat", "W", "heat of a cell at the charge power", "current^2 x resistance",
			from3(cellHeat, "charge_current", "parallel", "cell_resistance").reads("(charge_current / parallel)^2 x cell_resistance")),
		out("charge_rise", "K", "steady rise of the hottest point over the coolant at the charge power", "definition",
			from3(riseOf, "charge_cell_heat", "cell_thermal_resistance", "coolant_resistance").reads("charge_cell_heat x (cell_thermal_resistance + coolant_resistance)")),
		{name: "us06_cell_heat", unit: "W", limits: nonNegative, outputOnly: true, traits: model.Traits{Aside: true}, meaning: "mean heat of a cell over US06", source: "battery's loss x mean speed / count",
			ways: []way{from2(driveHeat, "us06_battery", "cell_count").reads("us06_battery x mean speed / cell_count")}},
		out("us06_rise", "K", "steady rise of the hottest point over the coolant when US06 is driven on and on", "definition",
			from3(riseOf, "us06_cell_heat", "cell_thermal_resistance", "coolant_resistance").reads("us06_cell_heat x (cell_thermal_resistance + coolant_resistance)")),
	}
}

// us06Speed is the mean speed of US06 [m/s].
var us06Speed = sync.OnceValue(func() float64 { // not at start-up: it reads the schedules
	s, _ := schedule.ByName("us06")
	return s.Distance() / s.Duration()
})

// inside are the parts of a round cell's own resistance: to its hottest point and of its
// mean, and the area that touches.
func insideRound(x []float64) (peak, mean, area float64) {
	diameter, height, place, ends, axial, radial, arc := x[0], x[1], x[2], x[3], x[4], x[5], x[6]
	if place > 1.5 {
		whole := 1 / (4 * math.Pi * radial * height)
		high, middle := arcFactors(arc)
		return whole * high, whole * middle, arc * math.Pi * diameter * height
	}
	section := disc(diameter)
	one := height / (axial * section)
	return one / (2 * ends * ends), one / (3 * ends * ends), ends * section
}

// arcFactors are the peak and the mean rise of a disc that is cooled over a share of its
// rim, over q r^2/(4 k).
func arcFactors(arc float64) (peak, mean float64) {
	if arc >= 1 {
		return 1, 0.5
	}
	s, quarter := portable.Sin(0.5*math.Pi*arc), 0.25*math.Pi*arc
	centre := 1 - float64(4*portable.Log(s))
	rim := 4 * portable.Log(portable.Cos(quarter)/portable.Sin(quarter))
	return math.Max(centre, rim), centre - 0.5
}

// touching adds interface and plate over the area.
func touching(x []float64, area float64) float64 {
	return x[0]/(x[1]*area) + 1/(x[2]*area)
}

func roundPeak(x []float64) float64 {
	peak, _, area := insideRound(x)
	return peak + touching(x[7:], area)
}

func roundMean(x []float64) float64 {
	_, mean, area := insideRound(x)
	return mean + touching(x[7:], area)
}

// flatInside is the resistance of a flat-sided cell cooled at both faces.
func flatInside(x []float64) (peak, area float64) {
	face := float64(x[0] * x[2]) // 2 x face may be compiled as a sum
	return x[1] / (8 * x[3] * face), 2 * face
}

func flatPeak(x []float64) float64 {
	peak, area := flatInside(x)
	return peak + touching(x[4:], area)
}

func flatMean(x []float64) float64 {
	peak, area := flatInside(x)
	return float64(peak*(2.0/3)) + touching(x[4:], area)
}

func coolantWay(_ *System, c *car) plan {
	if !c.gives([]string{"coolant_flow"}) {
		return plan{ok: true, eval: always(0).eval}
	}
	return plan{ok: true, needs: []string{"cell_count", "coolant_flow", "coolant_density", "coolant_specific_heat"}, eval: from4(coolantResistance, "", "", "", "").eval}
}

func coolantResistance(cells, flow, density, heat float64) float64 {
	return cells / (flow * density * heat)
}

func heatAtLimit(x []float64) float64 { return (x[0] - x[1]) / (x[2] + x[3]) }

func currentOfHeat(heat, resistance float64) float64 { return math.Sqrt(heat / resistance) }

func cellHeat(current, parallel, resistance float64) float64 {
	own := current / parallel
	return own * own * resistance
}

func riseOf(heat, cell, coolant float64) float64 { return heat * (cell + coolant) }

func driveHeat(loss, cells float64) float64 { return loss * us06Speed() / cells }
