package shown

import (
	"math"
	"testing"
)

// TestOf: which unit a quantity is shown in, and its numbers there. Factors: NIST SP 811
// (2008), appendix B, exact: a pound is 0.45359237 kg, a mile 1609.344 m, t/degC = (t/degF - 32)/1.8.
func TestOf(t *testing.T) {
	u := New([]Wish{{"range", "mile"}, {"trip_range", "ft"}, {"school_trip_range", "m"}, {"mass", "lb"}, {"filler_mass", "g"}, {"temperature", "degF"}, {"caught", "t"}, {"broken", "no unit"}})
	for _, x := range []struct {
		name, stored, in string
		x, want          float64
	}{
		{"bonded.label_range", "km", "mile", 100, 100 / 1.609344},
		{"cold_trip_range", "km", "ft", 1, 1000 / 0.3048},
		{"school_trip_range", "km", "m", 1, 1000},
		{"a.label_range_difference", "km", "mile", -10, -10 / 1.609344},
		{"a.label_range_change", "%", "", 0, 0},
		{"arrange", "km", "", 0, 0},
		{"a.kerb_mass", "kg", "lb", 100, 100 / 0.45359237},
		{"a.filler_mass", "kg", "g", 1, 1000},
		{"a.displaced.floor_panel", "kg", "lb", 1, 1 / 0.45359237},
		{"a.kerb_mass_change", "%", "", 0, 0},
		{"cell", "degC", "degF", 25, 77},
		{"a.temperature_difference", "K", "", 0, 0},
		{"caught", "kg", "t", 1, 0.001},
		{"broken", "km", "", 0, 0},
		{"a.mass_without_unit", "", "", 0, 0},
	} {
		c, ok := u.Of(x.name, x.stored)
		switch {
		case !ok && x.in != "":
			t.Errorf("%s in %s: is not converted", x.name, x.stored)
		case ok && c.Unit() != x.in:
			t.Errorf("%s in %s: shown in %s, want %q", x.name, x.stored, c.Unit(), x.in)
		case ok && math.Abs(c.Value(x.x)-x.want) > 1e-12*math.Abs(x.want):
			t.Errorf("%s: %g, want %g", x.name, c.Value(x.x), x.want)
		}
	}
	c, _ := u.Of("cell", "degC")
	if got := c.Difference(10); math.Abs(got-18) > 1e-12 {
		t.Errorf("a difference of 10 K is %g in degF, want 18", got)
	}
	if !(Units{}).None() || u.None() {
		t.Error("whether nothing is asked for")
	}
}
