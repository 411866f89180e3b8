package study

import (
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/shown"
)

// TestShowIn: units for quantities, last words of names and kinds; no number depends on them.
func TestShowIn(t *testing.T) {
	const with = `format: 1
study: tank
model: formulas
show_in: {caught: gal_3, mass: lb}
inputs: {roof: 86(2) m2, rain_depth: 31(2) mm, density: 1 kg/l}
outputs: {caught: {formula: roof * rain_depth, unit: l}, mass_of_it: {formula: roof * rain_depth * density, unit: kg}}
`
	s := mustRead(t, Options{}, strings.Replace(with, "gal_3", "ft3", 1))
	if want := []shown.Wish{{Of: "caught", In: "ft3"}, {Of: "mass", In: "lb"}}; !slices.Equal(s.ShowIn, want) {
		t.Errorf("%v, want %v", s.ShowIn, want)
	}
	if other := mustRead(t, Options{}, strings.Replace(with, "show_in: {caught: gal_3, mass: lb}\n", "", 1)); other.NumbersDigest != s.NumbersDigest || other.ShowIn != nil {
		t.Error("what is shown is taken for a number")
	}
}
