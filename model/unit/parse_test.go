package unit

import (
	"errors"
	"strings"
	"testing"
)

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text   string
		offset int
		says   string
	}{
		{"", 0, "no unit"},
		{"   ", 0, "no unit"},
		{"kwh", 0, "did you mean kWh?"},
		{"KWH", 0, "did you mean kWh?"},
		{"Kg", 0, "did you mean kg?"},
		{"MPH", 0, "did you mean mph?"},
		{"Wh/Km", 3, "did you mean km?"},
		{"kgs", 0, "did you mean kg?"},
		{"kph", 0, "did you mean km/h?"},
		{"Nm", 0, "did you mean N m?"},
		{"W/(mK)", 3, "did you mean m K?"},
		{"furlong", 0, `"furlong" is no unit; allowed are`},
		{"W/m/K", 3, "second /"},
		{"W/(m/K/s)", 6, "second /"},
		{"W/", 2, "missing"},
		{"/s", 0, "missing"},
		{"()", 1, "missing"},
		{"(N m", 0, "never closed"},
		{"N m)", 3, "never opened"},
		{"950 kg", 0, "1_950"},
		{"1 kg", 0, "only 1 may stand"},
		{"kg 2", 3, "only 1 may stand"},
		{"kWh/0 km", 4, "1 to 999999"},
		{"kWh/km 100", 7, "only 1 may stand"},
		{"kWh/1000000 km", 4, "1 to 999999"},
		{"m0", 1, "power"},
		{"m13", 1, "power"},
		{"m99999999999999999999", 1, "power"},
		{"m^", 1, "power"},
		{"m-", 1, "power"},
		{"((((rad)12)12)12)12", 3, "too large"},
		{"(kg12)12", 1, "too large"},
		{"kg12 kg12 kg12", 10, "too large"},
		{"%12 %12 %12 %12 %12 %12 %12 %12 %12 %12", 32, "too large"},
		{"((((((((((m))))))))))", 8, "brackets"},
		{"1/degC", 2, "write K"},
		{"W/(m degC)", 5, "write K"},
		{"degF2", 0, "write K"},
		{"degC/h", 0, "write K"},
		{"EUR/USD", 4, "one currency"},
		{"N·m", 1, "write N m"},
		{"°C", 0, "write degC"},
		{"°F", 0, "write degF"},
		{"°", 0, "write degree"},
		{"µm", 0, "write um"},
		{"m²", 1, "write m2"},
		{"kg/m³", 4, "write kg/m3"},
		{"N·s²/m²", 1, "write N s2/m2"},
		{"N*m", 1, "write N m"},
		{"mΩ", 1, "write mohm"},
		{"s⁻¹", 1, "write s-1"},
		{"kVA", 0, "no unit; apparent power has the unit W here; write kW"},
		{"KVA", 0, "write kW"},
		{"VA", 0, "write W"},
		{"MVAh", 0, "no unit"},
		{"Wh/Kg", 3, "did you mean kg?"},
		{"mpg", 0, "write l/100 km"},
		{"PSI", 0, "did you mean lbf/in2?"},
		{"BTU", 0, "write kJ: 1 Btu is 1.055 kJ"},
		{"mW", 0, "write W: 1 mW is 0.001 W"},
		{"deg C", 0, "did you mean degC?"},
		{"deg", 0, "did you mean degree?"},
		{"Celsius", 0, "did you mean degC?"},
		{"F", 0, "did you mean degF?"},
		{"yr", 0, "did you mean year?"},
		{"a", 0, "did you mean A or year?"},
		{"days", 0, "did you mean day?"},
		{"U/min", 0, "did you mean rpm?"},
		{"rev/min", 0, "did you mean rpm?"},
		{"bhp", 0, "did you mean hp?"},
		{"HP", 0, "did you mean hp?"},
		{"ps", 0, "did you mean PS?"},
		{"%%", 1, "a blank stands between"},
		{"kg%", 2, "a blank stands between"},
		{"Watt", 0, "did you mean W?"},
		{"milliohm", 0, "did you mean mohm?"},
		{"c", 0, "did you mean degC or C?"},
		{"kilogrammes", 0, "did you mean kg?"},
		{"Liters", 0, "did you mean l?"},
		{"volts", 0, "did you mean V?"},
		{"hours", 0, "did you mean h?"},
		{"mps", 0, "did you mean m/s?"},
		{"lbs", 0, "did you mean lb?"},
		{"gal", 0, "write l: 1 US gallon is 3.785 l"},
		{"pcs", 0, "a count has no unit"},
		{"cells", 0, "a count has no unit"},
		{"kg\x00", 2, "letters, digits"},
		{"\xff", 0, "letters, digits"},
		{strings.Repeat("m", 65), 0, "at most 64"},
		{strings.Repeat("(", 20000), 0, "at most 64"},
	} {
		_, err := Parse(c.text)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q: got %v, want an *Error", c.text, err)
			continue
		}
		if e.Offset != c.offset || !strings.Contains(e.Error(), c.says) {
			t.Errorf("%q: got %d: %s\nwant %d: ...%s...", c.text, e.Offset, e.Error(), c.offset, c.says)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"kerb_mass", "pack_mass", "label_range", "cell_gap"}
	for word, want := range map[string]string{
		"kreb_mass": "kerb_mass", "curb_mass": "kerb_mass", "lable_range": "label_range", "labelrange": "label_range",
		"CELL_GAP": "cell_gap", "gap": "", "colour": "", "": "", strings.Repeat("x", 100000): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("%.20q: got %q, want %q", word, got, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, c := range conversions {
		f.Add(c.unit)
	}
	f.Add("((N m)2/(kWh/100 km)3)-2")
	f.Fuzz(func(t *testing.T, text string) {
		u, err := Parse(text)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Offset < 0 || e.Offset > len(text) || e.Found == "" {
				t.Fatalf("%q: bad error %#v", text, err)
			}
			return
		}
		again, err := Parse(u.String())
		if err != nil || again != u {
			t.Fatalf("%q prints as %q, which reads as %v, %v", text, u, again, err)
		}
		if u.ToSI(1) != u.ToSI(1) {
			t.Fatalf("%q converts 1 to NaN", text)
		}
	})
}
