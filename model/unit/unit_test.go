package unit

import (
	"math"
	"testing"
)

// Published equalities. SP 811: NIST Special Publication 811 (2008), appendix
// B.8, "SI": SI brochure, 9th edition (2019), tables 4 and 8; all from memory.
// The others follow from those by arithmetic shown.
var conversions = []struct {
	unit  string
	value float64
	si    float64
	base  string
	why   string
}{
	{"g", 68, 0.068, "kg", "SI"},
	{"mg", 250, 0.00025, "kg", "SI"},
	{"t", 1.8, 1800, "kg", "SI table 8: 1 t = 1000 kg"},
	{"lb", 1, 0.45359237, "kg", "SP 811: exact"},
	{"lb", 300, 136.077711, "kg", "SP 811: 300 x 0.45359237"},
	{"um", 250, 0.00025, "m", "SI"},
	{"mm", 0.6, 0.0006, "m", "SI"},
	{"cm", 7, 0.07, "m", "SI"},
	{"in", 1, 0.0254, "m", "SP 811: exact"},
	{"ft", 1, 0.3048, "m", "SP 811: exact"},
	{"mile", 1, 1609.344, "m", "SP 811: exact"},
	{"l", 1, 0.001, "m3", "SI table 8: 1 l = 1 dm3"},
	{"ml", 5, 5e-6, "m3", "SI table 8: 1 ml = 1 cm3"},
	{"mm2", 1, 1e-6, "m2", "SI"},
	{"min", 1.5, 90, "s", "SI table 8"},
	{"h", 2, 7200, "s", "SI table 8"},
	{"day", 1, 86400, "s", "SI table 8: 1 d = 86 400 s"},
	{"year", 1, 31557600, "s", "SP 811 has several; the Julian one of 365.25 d, as the IAU recommends"},
	{"rpm", 3000, 100 * math.Pi, "1/s", "SP 811: 1 rpm = 2 pi/60 rad/s = 1.047 198 E-01"},
	{"Hz", 50, 50, "1/s", "SI table 4"},
	{"mph", 1, 0.44704, "m/s", "SP 811: exact"},
	{"mile/h", 55, 24.5872, "m/s", "SP 811: 55 x 0.44704"},
	{"km/h", 36, 10, "m/s", "36/3.6"},
	{"N", 1, 1, "kg m/s2", "SI table 4"},
	{"lbf", 1, 4.4482216152605, "kg m/s2", "SP 811: exact"},
	{"bar", 1, 1e5, "kg/(m s2)", "SP 811: exact"},
	{"N/mm2", 1, 1e6, "kg/(m s2)", "1 MPa"},
	{"GPa", 70, 70e9, "kg/(m s2)", "SI"},
	{"lbf/in2", 1, 6894.757293168361, "kg/(m s2)", "SP 811: psi = 6.894 757 E+03; lbf/0.0254^2"},
	{"kWh", 1, 3.6e6, "kg m2/s2", "SP 811: exact"},
	{"MWh", 1, 3.6e9, "kg m2/s2", "SP 811"},
	{"Wh/km", 150, 540, "kg m/s2", "150 x 3600 / 1000"},
	{"kWh/100 km", 15, 540, "kg m/s2", "15 x 3.6e6 / 1e5"},
	{"kWh/(100 km)", 15, 540, "kg m/s2", "the same"},
	{"Wh/kg", 250, 900000, "m2/s2", "250 x 3600"},
	{"Wh/l", 700, 2.52e9, "kg/(m s2)", "700 x 3600 / 0.001"},
	{"Ah", 5, 18000, "s A", "SP 811: 3600 C"},
	{"mAh", 5000, 18000, "s A", "the same"},
	{"C", 1, 1, "s A", "SI table 4"},
	{"mohm", 20, 0.02, "kg m2/(s3 A2)", "SI"},
	{"hp", 1, 745.69987158227022, "kg m2/s3", "SP 811: 550 ft lbf/s = 7.456 999 E+02 W; 550 x 0.3048 x 4.4482216152605"},
	{"PS", 1, 735.49875, "kg m2/s3", "SP 811: horsepower (metric) = 7.354 988 E+02 W; 75 x 9.80665"},
	{"ppm", 2, 2e-6, "1", "SI 5.4.7"},
	{"mV", 3600, 3.6, "kg m2/(s3 A)", "SI"},
	{"degC", 23, 296.15, "K", "SI 2.3.1: t/degC = T/K - 273.15"},
	{"degC", -40, 233.15, "K", "the same"},
	{"degF", 32, 273.15, "K", "SP 811: (32 + 459.67)/1.8"},
	{"degF", -40, 233.15, "K", "-40 is the same on both scales"},
	{"K", 300, 300, "K", "SI"},
	{"rad", 1, 1, "1", "SI table 4"},
	{"degree", 180, math.Pi, "1", "SI table 8"},
	{"%", -6, -0.06, "1", "SI 5.4.7"},
	{"1", 0.3, 0.3, "1", ""},
	{"1/K", 0.01, 0.01, "1/K", ""},
	{"W/(m K)", 0.2, 0.2, "kg m/(s3 K)", ""},
	{"(N m)2", 3, 3, "kg2 m4/s4", ""},
	{"W/(N m)2", 3, 3, "s/(kg m2)", ""},
	{"N s2/m2", 0.4, 0.4, "kg/m", ""},
	{"W s3/rad3", 1e-5, 1e-5, "kg m2", ""},
	{"s-1", 4, 4, "1/s", ""},
	{"m^-2", 4, 4, "1/m2", ""},
	{"m^2", 4, 4, "m2", ""},
	{"kg/m3", 2700, 2700, "kg/m3", ""},
	{"EUR/kWh", 72, 2e-5, "s2 money/(kg m2)", "72/3.6e6"},
	{"(km/h)2", 12.96, 1, "m2/s2", "3.6^2"},
	{"  km  ", 1, 1000, "m", "blanks around"},
}

func TestConversions(t *testing.T) {
	for _, c := range conversions {
		u, err := Parse(c.unit)
		if err != nil {
			t.Errorf("%q: %v", c.unit, err)
			continue
		}
		if got := u.ToSI(c.value); math.Abs(got-c.si) > 2e-16*math.Abs(c.si) {
			t.Errorf("%v %s = %.17g %s, want %.17g (%s)", c.value, c.unit, got, c.base, c.si, c.why)
		}
		if got := u.FromSI(c.si); math.Abs(got-c.value) > 1e-15*math.Max(math.Abs(c.value), 300) {
			t.Errorf("%v SI = %.17g %s, want %v", c.si, got, c.unit, c.value)
		}
		if got := u.Dimension().String(); got != c.base {
			t.Errorf("%s: dimension %s, want %s", c.unit, got, c.base)
		}
	}
}

func TestDifferences(t *testing.T) {
	for _, c := range []struct {
		unit     string
		absolute bool
		value    float64
		kelvin   float64
	}{{"degC", true, 5, 5}, {"degF", true, 9, 5}, {"K", false, 5, 5}} {
		u, err := Parse(c.unit)
		if err != nil {
			t.Fatal(err)
		}
		if u.Absolute() != c.absolute || u.DeltaToSI(c.value) != c.kelvin || u.DeltaFromSI(c.kelvin) != c.value {
			t.Errorf("%s: absolute %v, %v is %v K", c.unit, u.Absolute(), c.value, u.DeltaToSI(c.value))
		}
	}
}

// Every symbol of the list reads as itself, and the coherent unit of its
// dimension reads back as that dimension with factor 1.
func TestList(t *testing.T) {
	for _, k := range List() {
		u, err := Parse(k.Symbol)
		if err != nil || u.Dimension() != k.Dimension || u.String() != k.Symbol {
			t.Errorf("%s: %v %v %v", k.Symbol, u, u.Dimension(), err)
		}
		for _, text := range []string{k.Dimension.String(), SI(k.Dimension).String()} {
			back, err := Parse(text)
			if err != nil || back.Dimension() != k.Dimension || back.ToSI(7) != 7 {
				t.Errorf("%s: coherent unit %q: %v", k.Symbol, text, err)
			}
		}
	}
}

func TestCurrency(t *testing.T) {
	for text, want := range map[string]string{"EUR": "EUR", "USD/kWh": "USD", "kg": "", "GBP2/GBP": "GBP"} {
		u, err := Parse(text)
		if err != nil || u.Currency() != want {
			t.Errorf("%q: currency %q, %v", text, u.Currency(), err)
		}
	}
}

func TestDimensionArithmetic(t *testing.T) {
	m := Dimension{m: 1}
	if root, ok := m.Power(2).Root(); !ok || root != m {
		t.Errorf("root of m2 is %v, %v", root, ok)
	}
	if _, ok := m.Root(); ok {
		t.Error("m has a root")
	}
	if got := m.Over(m); got != One {
		t.Errorf("m/m is %v", got)
	}
	if m.Power(25).Sensible() || !m.Power(-24).Sensible() {
		t.Error("Sensible is not at 24")
	}
}
