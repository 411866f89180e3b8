package formula

import (
	"testing"

	"proofmass/model/unit"
)

func TestMargin(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"a <= b", "b - a"}, {"a < 3", "3 - a"}, {"a >= b", "a - b"}, {"a > b + c", "a - (b + c)"}, {"not a > b", "-(a - b)"}, {"a > b and b > c", "min(a - b, b - c)"}, {"a > b or not b > c", "max(a - b, -(b - c))"},
		{"gap > 1 mm and gap < 2 mm", "min(gap - 1 mm, 2 mm - gap)"}, {"outside_temperature > 5 degC", "outside_temperature - 5 degC"}, {"rise > 5 K", "rise - 5 K"}, {"a < (8 %)^2", "(8 %)^2 - a"},
		{"gap > 1 mm and boxed.kerb_mass > 1 kg", ""}, {"a + b", ""}, {"if(a > 1, b > 1, c > 1)", ""},
	} {
		e, err := Parse(c.text)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := e.Margin(); ok {
			t.Errorf("%s: a margin before Check", c.text)
		}
		if _, err := e.Check(typesOf(t)); err != nil {
			t.Fatal(err)
		}
		m, ok := e.Margin()
		if !ok && c.want == "" {
			continue
		}
		if !ok || m.String() != c.want {
			t.Errorf("%s: margin %v, want %s", c.text, m, c.want)
			continue
		}
		if _, err := m.Check(typesOf(t)); err != nil {
			t.Errorf("%s: margin %s: %v", c.text, m, err)
		}
	}
}

func TestBuiltConditions(t *testing.T) {
	parse := func(text string) unit.Unit {
		u, err := unit.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		return u
	}
	for _, c := range []struct {
		e            *Expr
		text, textIn string
		holds, fails float64
	}{
		{Compare("bonded.kerb_mass_change", "<=", -0.055, unit.One), "bonded.kerb_mass_change <= -0.055", "bonded.kerb_mass_change <= -5.5 %", -0.055, -0.054},
		{Compare("label_range", ">=", 482500, parse("km").Dimension()), "label_range >= 482500 m", "label_range >= 482.5 km", 482500, 482499},
		{Compare("label_range", ">=", 482500, parse("km").Dimension()), "label_range >= 482500 m", "label_range >= 482500 m", 482500, 482499},
		{Compare("outside_temperature", "<=", 268.15, unit.Kelvin), "outside_temperature <= 268.15 K", "outside_temperature <= -5 degC", 268.15, 269},
		{Between("x", 0.085, 0.095, unit.One), "x >= 0.085 and x <= 0.095", "x >= 8.5 % and x <= 9.5 %", 0.095, 0.0951},
		{Between("x", -0.065, -0.055, unit.One), "x >= -0.065 and x <= -0.055", "x >= -6.5 % and x <= -5.5 %", -0.065, -0.066},
		{Between("outside_temperature", 294.15, 298.15, unit.Kelvin), "outside_temperature >= 294.15 K and outside_temperature <= 298.15 K", "outside_temperature >= 21 degC and outside_temperature <= 25 degC", 298.15, 299},
		{Compare("consumption", "<=", 540, parse("kWh/100 km").Dimension()), "consumption <= 540 N", "consumption <= 15 (kWh/100 km)", 540, 541},
	} {
		if c.e.String() != c.text {
			t.Errorf("got %q, want %q", c.e, c.text)
		}
		again, err := Parse(c.textIn)
		if err != nil {
			t.Error(err)
			continue
		}
		for _, e := range []*Expr{c.e, again} {
			out := []float64{0, 0}
			e.Program().Eval(out, [][]float64{{c.holds, c.fails}})
			if out[0] != 1 || out[1] != 0 {
				t.Errorf("%s: %v", e, out)
			}
		}
	}
}
