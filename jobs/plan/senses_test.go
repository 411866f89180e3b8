package plan

import (
	"strings"
	"testing"
)

// TestSenses calls a claim odd whose condition reads the other way, and no other.
func TestSenses(t *testing.T) {
	const cars = `format: 1
inputs: {drag_coefficient: 0.23, frontal_area: 2.3 m2, rolling_coefficient: 0.008, usable_share: 95 %}
vehicles:
  a: {kerb_mass: 1610(9) kg, pack_mass: 388 kg, pack_energy: 57 kWh}
  b: {based_on: a, pack_mass: 330 kg, pack_energy: 57 kWh}
claims:
  c: CLAIM
`
	for _, tt := range []struct{ claim, want string }{
		{"{of: b.kerb_mass_change, announced: -4 %, sense: at_least}", ""},
		{"{of: b.kerb_mass_change, announced: 4 %, rounded_to: 1 %, sense: at_least}",
			"The claim c holds where b.kerb_mass is at least 3.5 % higher than a.kerb_mass (announced: 4 %, rounded to 1 %), yet less of it is what is usually announced. If that was meant, write announced: -4 %."},
		{"{of: b.kerb_mass_difference, announced: 30 kg, sense: at_least}", "write announced: -30 kg."},
		{"{of: b.kerb_mass_change, announced: -4 %, sense: at_most}", "b.kerb_mass is at most 4 % lower than a.kerb_mass (announced: -4 %), yet less of it is what is usually announced. If that was meant, write sense: at_least."},
		{"{of: b.udds_consumption, announced: 150 Wh/km, sense: at_least}", "b.udds_consumption is 150 Wh/km or more (announced: 150 Wh/km), yet less of it is what is usually announced. If that was meant, write sense: at_most."},
		{"{of: b.udds_consumption, announced: 150 Wh/km, sense: at_most}", ""},
		{"{of: b.pack_specific_energy, announced: 160 Wh/kg, sense: at_most}", "write sense: at_least."},
		{"{of: b.city_range_change, announced: -3 %, sense: at_least}", "write announced: 3 %."},
		{"{of: b.city_range_change, announced: 3 %, sense: at_least}", ""},
		{"{of: b.pack_mass, announced: 330 kg, rounded_to: 10 kg, sense: about}", ""},
		{"{of: b.cell_count, announced: 1000, sense: at_most}", ""},
		{"{holds: b.kerb_mass > a.kerb_mass}", ""},
	} {
		text := strings.Replace(cars, "CLAIM", tt.claim, 1)
		if strings.Contains(tt.claim, "cell_count") {
			text = strings.Replace(text, "pack_energy: 57 kWh}", "pack_energy: 57 kWh, series: 101, parallel: 20}", 1)
		}
		var odd []string
		for _, w := range planOf(t, text).Warnings() {
			if strings.HasPrefix(w, "The claim c ") {
				odd = append(odd, w)
			}
		}
		if got := strings.Join(odd, "\n"); (got == "") != (tt.want == "") || !strings.Contains(got, tt.want) {
			t.Errorf("%s:\n got %s\nwant %s", tt.claim, got, tt.want)
		}
	}
}

// TestCutIsSaid: what was cut off at a limit is told with its share.
func TestCutIsSaid(t *testing.T) {
	p := planOf(t, `format: 1
vehicles:
  a: {kerb_mass: 1610(9) kg, pack_mass: 388 kg}
  b: {based_on: a, displaced: {floor_panel: 12(3) kg}}
`)
	if want := "Cut off at the limits of the quantity: b.displaced.floor_panel (12(3) kg, cut at 0 kg; 3.2e-05 of it lay beyond)."; !warned(p, want) {
		t.Errorf("no %q among %q", want, p.Warnings())
	}
}
