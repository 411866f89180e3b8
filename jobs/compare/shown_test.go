package compare_test

import (
	"strings"
	"testing"
)

// Where a claim turns is told in the units that are asked for; programs get those of the tables.
func TestTurnsInUnitsShown(t *testing.T) {
	const study = `format: 1
model: formulas
sample: {rows: 4096}
show_in: {x: lb}
inputs: {x: {normal: {mean: 10 kg, sd: 1 kg}}, u: {between: [0 kg, 1 kg]}}
outputs: {y: {formula: x + u}}
claims: {heavy: {holds: y >= 12 kg}}
`
	c := compared(t, ran(t, study), ran(t, strings.Replace(study, "sd: 1 kg", "sd: 1.3 kg", 1)))
	_, turns, _ := strings.Cut(told(t, c), "turns")
	if !strings.Contains(turns, " lb ") || !strings.Contains(c.Claims[0].NeedsAfter, " kg ") {
		t.Errorf("programs: %q, told:%s", c.Claims[0].NeedsAfter, turns)
	}
}
