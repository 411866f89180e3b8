package study

import (
	"math"
	"strings"
	"testing"
)

// Of 12(3) kg a share of 3.2e-5 lies below 0 kg: it is cut there and says so. Beyond a
// thousandth the study has to say what is meant; up to a millionth the rare draw is
// infeasible.
func TestCutAtLimits(t *testing.T) {
	const cars = "format: 1\nvehicles:\n  a: {kerb_mass: 1600 kg, usable_share: SHARE}\n  b: {based_on: a, displaced: {floor: MASS}}\n"
	for _, tt := range []struct {
		mass, share string
		text        string  // of the mass
		low         float64 // of the support, SI
		cut         float64
		refused     string
	}{
		{"12(3) kg", "95 %", "12(3) kg, cut at 0 kg", 0, 3.167e-5, ""},
		{"{normal: {mean: 12 kg, sd: 3 kg}}", "95 %", "normal, mean 12 kg, sd 3 kg, cut at 0 kg", 0, 3.167e-5, ""},
		{"12(2) kg", "95 %", "12(2) kg", math.Inf(-1), 0, ""}, // 1e-9
		{"{normal: {mean: 12 kg, sd: 3 kg}, min: 1 kg}", "95 %", "normal, mean 12 kg, sd 3 kg, at least 1 kg", 1, 0, ""},
		{"12(4) kg", "95 %", "", 0, 0, "a share of 0.0013 lies outside its limits; floor is at least 0 kg; truncate with min"},
		{"12 kg", "97(1) %", "12 kg", 0, 0, "a share of 0.0013 lies outside its limits; usable_share is more than 0 % and at most 100 %; truncate with max"},
		{"-12(3) kg", "95 %", "", 0, 0, "is outside its limits"},
	} {
		s, err := readText(t, Options{}, strings.NewReplacer("MASS", tt.mass, "SHARE", tt.share).Replace(cars))
		if tt.refused != "" || err != nil {
			if err == nil || tt.refused == "" || !strings.Contains(err.Error(), tt.refused) {
				t.Errorf("%s, %s: %v, want %q", tt.mass, tt.share, err, tt.refused)
			}
			continue
		}
		in, _ := s.input("b.displaced.floor")
		if low, _ := in.Marginal.Support(); low != tt.low || in.Text != tt.text || math.Abs(in.Cut-tt.cut) > 1e-8 {
			t.Errorf("%s: from %g, text %q, cut %g; want %g, %q, %g", tt.mass, low, in.Text, in.Cut, tt.low, tt.text, tt.cut)
		}
	}
	s := mustRead(t, Options{}, strings.NewReplacer("MASS", "12 kg", "SHARE", "96.5(1.1) %").Replace(cars))
	if in, _ := s.input("a.usable_share"); in.Text != "96.5(1.1) %, cut at 100 %" || math.Abs(in.Cut-7.3e-4) > 1e-5 {
		t.Errorf("usable_share: %q, cut %g", in.Text, in.Cut)
	}
}
