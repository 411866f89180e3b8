package compare_test

import (
	"strings"
	"testing"
)

// What makes a claimed difference, what a unit of a lever does, which claims come together and
// what could be meant are told where they are not what they were, and only there.
func TestToldOtherwise(t *testing.T) {
	const cars = `format: 1
model: vehicle
sample: {rows: 512}
indices: none
inputs: {drag_coefficient: {between: [0.25, 0.27]}, frontal_area: 2.31 m2, rolling_coefficient: 0.0087, usable_share: 94 %}
vehicles:
  before: {kerb_mass: 1733 kg, pack_mass: 391 kg, pack_energy: 61 kWh}
  after: {based_on: before, pack_mass: {between: [331 kg, 352 kg]}}
claims: {further: {of: after.label_range_change, announced: 2 %, sense: at_least}}
`
	old := ran(t, cars)
	c := compared(t, old, ran(t, strings.NewReplacer("{based_on: before,", "{based_on: before, drag_coefficient: {between: [0.22, 0.23]},", "61 kWh", "50 kWh").Replace(cars)))
	text := told(t, c)
	for _, want := range []string{"made of", "air drag", "; before ", "levers", " points"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
	if same := compared(t, old, old); len(same.Claims[0].Told) != 0 || len(same.Told) != 0 {
		t.Errorf("of the same result something is told otherwise: %+v", same.Claims[0].Told)
	}

	const formulas = `format: 1
model: formulas
sample: {rows: 2048}
indices: none
inputs: {load: {between: [4 kg, 5 kg]}, more: {between: [0 kg, 1 kg]}}
outputs: {y: 2 * load, z: load + more}
claims: {light: {of: y, announced: 9 kg, sense: at_most, could_mean: [z]}, heavy: {holds: z > 5 kg}}
`
	c = compared(t, ran(t, formulas), ran(t, strings.Replace(formulas, "more: {between: [0 kg, 1 kg]}", "more: {between: [0.7 kg, 1 kg]}", 1)))
	for _, want := range []string{"The claims together", "together   light where heavy holds: about", "readings"} {
		if text := told(t, c); !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
}
