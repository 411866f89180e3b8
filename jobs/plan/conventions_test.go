package plan

import (
	"strings"
	"testing"
)

// Invented cars; the second is lighter, and judged by its label.
const labelled = `format: 1
study: label
vehicles:
  old: {kerb_mass: 1800 kg, gross_mass: 2300 kg, usable_energy: 70 kWh, drag_coefficient: 0.25, frontal_area: 2.4 m2, rolling_coefficient: 0.009}
  new: {based_on: old, kerb_mass: 1700 kg}
claims:
  further: {of: new.label_range_change, announced: 3 %, sense: at_least}
  thriftier: {of: new.wltc_ac_consumption_change, announced: -3 %, sense: at_most}
`

// TestConventions: what a reader has to know to compare a figure is said where it
// matters, and not elsewhere.
func TestConventions(t *testing.T) {
	coast := strings.Replace(labelled, "drag_coefficient: 0.25, frontal_area: 2.4 m2, rolling_coefficient: 0.009", "coastdown_f0: 130 N, coastdown_f1: 2 N s/m, coastdown_f2: 0.4 N s2/m2", 1)
	for _, x := range []struct{ name, text, want, not string }{
		{"label", labelled, "US label|without a driver|WLTC is driven|Machines of new are kept|no verdict on further, thriftier holds|Of old it is not stated whether one axle", "coast-down"},
		{"resized", strings.Replace(labelled, "kerb_mass: 1700 kg", "kerb_mass: 1700 kg, machines: resized", 1), "US label", "Machines of new"},
		{"certified", strings.Replace(labelled, "based_on: old", "based_on: old, certified: yes", 1), "scatter of a certification", "no verdict"},
		{"with a driver", strings.Replace(strings.Replace(labelled, "old: {", "old: {mass_basis: eu_running_order, ", 1), "based_on: old", "based_on: old, mass_basis: eu_running_order", 1), "hold a driver of 75 kg", "without a driver"},
		{"own air", labelled + "inputs: {air_pressure: 95 kPa}\n", "US label", "WLTC is driven|coast-down"},
		{"coast-down", coast + "inputs: {altitude: 900 m}\n", "The coast-down of old, new stays", "WLTC is driven"},
		{"coast-down as filed", coast, "WLTC is driven", "The coast-down of"},
		{"drive stated", labelled + "inputs: {all_wheel_drive: yes}\n", "US label", "one axle is driven"},
		{"masses alone", "format: 1\nvehicles:\n  old: {kerb_mass: 1800 kg}\n", "without a driver", "label|WLTC|axle"},
	} {
		p := planOf(t, x.text)
		said := strings.Join(append(append(p.Unstated(), p.Question()...), p.Conventions()...), "\n")
		for _, want := range strings.Split(x.want, "|") {
			if !strings.Contains(said, want) {
				t.Errorf("%s: nothing says %q:\n%s", x.name, want, said)
			}
		}
		for _, not := range strings.Split(x.not, "|") {
			if strings.Contains(said, not) {
				t.Errorf("%s: %q is said:\n%s", x.name, not, said)
			}
		}
	}
}

// TestDriveThatDecidesNothing: where the machines' power is stated the drive is drawn for a
// cross-check alone, and not spoken of.
func TestDriveThatDecidesNothing(t *testing.T) {
	for power, told := range map[string]int{"": 1, "inputs: {machine_power: 150 kW}\n": 0} {
		if said := planOf(t, labelled+power).Unstated(); len(said) != told {
			t.Errorf("%q: %q", power, said)
		}
	}
}
