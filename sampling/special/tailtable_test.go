package special

import (
	"math"
	"testing"
)

// TestNodesBetween: the table of a tail agrees with the equation that it solves,
// between its nodes, within 8 units in the last place times the condition number.
func TestNodesBetween(t *testing.T) {
	_, gammaSmall := NewGammaTail(0.01).Tables()
	_, gammaLarge := NewGammaTail(1e5).Tables()
	betaSmall, _ := NewBetaTail(0.01, 3).Tables()
	betaLarge, _ := NewBetaTail(2e4, 3e4).Tables()
	for name, s := range map[string]*TailTable{
		"beta 0.01": betaSmall, "beta 2e4": betaLarge, "gamma 0.01": gammaSmall, "gamma 1e5": gammaLarge,
		"student 2.1": NewStudentTail(2.1).Table(), "student 2e5": NewStudentTail(2e5).Table(),
	} {
		worst := 0.0
		for p := 0.4999; p > 1e-18; p *= 0.987 {
			x := s.At(p)
			if x < leastNode {
				break
			}
			c := s.t.Chance(x)
			xf, _ := s.t.Density(x)
			worst = max(worst, math.Abs(c-p)/(p+xf)/0x1p-52)
		}
		t.Logf("%s: worst %.1f ulp x condition number", name, worst)
		if !(worst < 8) {
			t.Errorf("%s: worst %.1f ulp x condition number", name, worst)
		}
	}
}
