package unit

import "testing"

// TestValuesComeBackAsWritten: what a study writes in a unit is read back in it, and not
// a bit beside.
func TestValuesComeBackAsWritten(t *testing.T) {
	for _, text := range []string{"%", "g", "kWh", "Ah", "mm", "km", "degC", "degF", "mile", "Wh/kg", "kWh/100 km", "mph", "lb"} {
		u, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		for n := range 200_000 {
			x := float64(n-1000) / 100
			if got := u.FromSI(u.ToSI(x)); got != x {
				t.Fatalf("%v %s comes back as %v", x, text, got)
			}
			if got := u.DeltaFromSI(u.DeltaToSI(x)); got != x {
				t.Fatalf("a difference of %v %s comes back as %v", x, text, got)
			}
		}
	}
}
