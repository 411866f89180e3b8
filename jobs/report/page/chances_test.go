package page

import (
	"strings"
	"testing"
)

// TestNearlyAll: a chance of nearly all draws is not told as all of them.
func TestNearlyAll(t *testing.T) {
	for chance, want := range map[float64]string{1: "100\u00a0%", 0.9991: "over 99\u00a0%", 0.995: "over 99\u00a0%", 0.994: "99\u00a0%", 0.004: "under 1\u00a0%"} {
		s := chancesScene("", []chanceRow{{name: "lighter", chance: &chance}}, 270, onWide)
		if svg := s.SVG("x"); !strings.Contains(svg, ">"+want+"<") {
			t.Errorf("%g is not told as %s: %s", chance, want, svg)
		}
	}
}
