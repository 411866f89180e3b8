package unit

import "math"

// A Known is one symbol that Parse understands. Products, quotients and powers
// of them are units too.
type Known struct {
	Symbol, Meaning string
	Dimension       Dimension
}

// entry is a Known with its factor num/den (and zero point) to SI.
type entry struct {
	Known
	num, den, offset float64
}

var (
	area   = Dimension{m: 2}
	force  = Dimension{kg: 1, m: 1, s: -2}
	stress = force.Over(area)
	energy = Dimension{kg: 1, m: 2, s: -2}
	power  = Dimension{kg: 1, m: 2, s: -3}
	amount = Dimension{a: 1, s: 1}
	volt   = power.Over(Dimension{a: 1})
)

// table holds every symbol. SI units and prefixes: SI brochure, 9th edition
// (2019), tables 4, 7 and 8. lb, in, ft, mile, lbf, hp, PS, degF: NIST SP 811
// (2008), appendix B, exact by the 1959 definitions of yard and pound and by the
// standard acceleration 9.80665 m/s2 (lbf = 0.45359237 * 9.80665 N; hp = 550 ft lbf/s;
// PS = 75 kg * 9.80665 m/s2 * 1 m/s). The year is the Julian one, as the IAU advises.
// All from memory. A factor is a quotient of whole numbers wherever it can be.
var table = []entry{
	{Known{"mg", "milligram", Dimension{kg: 1}}, 1, 1e6, 0},
	{Known{"g", "gram", Dimension{kg: 1}}, 1, 1e3, 0},
	{Known{"kg", "kilogram", Dimension{kg: 1}}, 1, 1, 0},
	{Known{"t", "tonne, 1000 kg", Dimension{kg: 1}}, 1e3, 1, 0},
	{Known{"lb", "pound, 0.45359237 kg", Dimension{kg: 1}}, 45359237, 1e8, 0},
	{Known{"um", "micrometre", Dimension{m: 1}}, 1, 1e6, 0},
	{Known{"mm", "millimetre", Dimension{m: 1}}, 1, 1e3, 0},
	{Known{"cm", "centimetre", Dimension{m: 1}}, 1, 1e2, 0},
	{Known{"m", "metre", Dimension{m: 1}}, 1, 1, 0},
	{Known{"km", "kilometre", Dimension{m: 1}}, 1e3, 1, 0},
	{Known{"in", "inch, 25.4 mm", Dimension{m: 1}}, 254, 1e4, 0},
	{Known{"ft", "foot, 0.3048 m", Dimension{m: 1}}, 3048, 1e4, 0},
	{Known{"mile", "mile, 1609.344 m", Dimension{m: 1}}, 1609344, 1e3, 0},
	{Known{"ml", "millilitre, 1 cm3", Dimension{m: 3}}, 1, 1e6, 0},
	{Known{"l", "litre", Dimension{m: 3}}, 1, 1e3, 0},
	{Known{"s", "second", Dimension{s: 1}}, 1, 1, 0},
	{Known{"min", "minute", Dimension{s: 1}}, 60, 1, 0},
	{Known{"h", "hour", Dimension{s: 1}}, 3600, 1, 0},
	{Known{"day", "day, 24 h", Dimension{s: 1}}, 86400, 1, 0},
	{Known{"year", "year of 365.25 days (the Julian one)", Dimension{s: 1}}, 31557600, 1, 0},
	{Known{"rpm", "turn a minute, as an angular speed: 2 pi/60 rad/s, not 1/60 Hz", Dimension{s: -1}}, math.Pi, 30, 0},
	{Known{"Hz", "hertz, 1/s", Dimension{s: -1}}, 1, 1, 0},
	{Known{"mph", "mile an hour", Dimension{m: 1, s: -1}}, 1609344, 3600e3, 0},
	{Known{"N", "newton", force}, 1, 1, 0},
	{Known{"kN", "kilonewton", force}, 1e3, 1, 0},
	{Known{"lbf", "pound-force, 4.4482216152605 N", force}, 44482216152605, 1e13, 0},
	{Known{"Pa", "pascal", stress}, 1, 1, 0},
	{Known{"kPa", "kilopascal", stress}, 1e3, 1, 0},
	{Known{"MPa", "megapascal", stress}, 1e6, 1, 0},
	{Known{"GPa", "gigapascal", stress}, 1e9, 1, 0},
	{Known{"bar", "bar, 100 kPa", stress}, 1e5, 1, 0},
	{Known{"J", "joule", energy}, 1, 1, 0},
	{Known{"kJ", "kilojoule", energy}, 1e3, 1, 0},
	{Known{"MJ", "megajoule", energy}, 1e6, 1, 0},
	{Known{"Wh", "watt hour, 3.6 kJ", energy}, 3600, 1, 0},
	{Known{"kWh", "kilowatt hour", energy}, 3600e3, 1, 0},
	{Known{"MWh", "megawatt hour", energy}, 3600e6, 1, 0},
	{Known{"MPGe", "mile a gallon of gasoline equivalent, a mile per 33,705 Wh (40 CFR 600)", Dimension{}.Over(force)}, 1609344, 33705 * 3600e3, 0},
	{Known{"W", "watt", power}, 1, 1, 0},
	{Known{"kW", "kilowatt", power}, 1e3, 1, 0},
	{Known{"MW", "megawatt", power}, 1e6, 1, 0},
	{Known{"hp", "mechanical horsepower, 550 ft lbf/s or 745.7 W; the metric one is PS", power}, 745.69987158227022, 1, 0},
	{Known{"PS", "metric horsepower, 735.49875 W", power}, 73549875, 1e5, 0},
	{Known{"V", "volt", volt}, 1, 1, 0},
	{Known{"mV", "millivolt", volt}, 1, 1e3, 0},
	{Known{"A", "ampere", Dimension{a: 1}}, 1, 1, 0},
	{Known{"mA", "milliampere", Dimension{a: 1}}, 1, 1e3, 0},
	{Known{"Ah", "ampere hour, 3600 C", amount}, 3600, 1, 0},
	{Known{"mAh", "milliampere hour", amount}, 3600, 1e3, 0},
	{Known{"C", "coulomb", amount}, 1, 1, 0},
	{Known{"ohm", "ohm", volt.Over(Dimension{a: 1})}, 1, 1, 0},
	{Known{"mohm", "milliohm", volt.Over(Dimension{a: 1})}, 1, 1e3, 0},
	{Known{"K", "kelvin, a temperature or a difference", Kelvin}, 1, 1, 0},
	{Known{"degC", "degree Celsius, a temperature, only alone", Kelvin}, 1, 1, 273.15},
	{Known{"degF", "degree Fahrenheit, a temperature, only alone", Kelvin}, 5, 9, 459.67},
	{Known{"rad", "radian", One}, 1, 1, 0},
	{Known{"degree", "degree of angle, pi/180", One}, math.Pi, 180, 0},
	{Known{"%", "per cent, 0.01", One}, 1, 100, 0},
	{Known{"ppm", "millionth, 0.000001", One}, 1, 1e6, 0},
	{Known{"1", "plain number", One}, 1, 1, 0},
}

var bySymbol, symbols = index()

func index() (map[string]Unit, []string) {
	units := make(map[string]Unit, len(table))
	names := make([]string, 0, len(table))
	for _, e := range table {
		num, den := lowest(e.num, e.den)
		units[e.Symbol] = Unit{text: e.Symbol, dimension: e.Dimension,
			num: num, den: den, offset: e.offset, absolute: e.offset != 0}
		names = append(names, e.Symbol)
	}
	return units, names
}

// List returns every symbol in a fixed order, by kind of quantity. Three-letter
// currency codes are units too and not in it.
func List() []Known {
	list := make([]Known, 0, len(table))
	for _, e := range table {
		list = append(list, e.Known)
	}
	return list
}
