package study

import (
	"strings"
	"testing"
)

// TestPartsAgree has a total contradict its parts only where all are constants.
func TestPartsAgree(t *testing.T) {
	const study = `format: 1
vehicles:
  boxed:
    pack_mass: TOTAL
    cell_mass: 100 g
    cell_count: 2800
    filler_mass: 20 kg
    bond_mass: 5 kg
    face_sheet_mass: 30 kg
    tray_mass: 25 kg
    rail_mass: 10 kg
    cross_member_mass: 10 kg
    module_mass: 0 kg
    cooling_mass: 15 kg
    coolant_mass: 5 kg
    busbar_mass: 8 kg
    electronics_mass: 12 kg
    pack_other_mass: 10 kg
`
	const sum = 430 // kg: 280 of cells and 150 of the rest
	tests := []struct{ total, drop, want string }{
		{"430 kg", "", ""},
		{"430.4 kg", "", ""}, // 0.093 %
		{"431 kg", "", "4:16: vehicles.boxed.pack_mass: pack_mass is 431 kg, but its parts add up to 430 kg (-0.23 %)"},
		{"440(5) kg", "", ""},
		{"440 kg", "    tray_mass: 25 kg\n", ""}, // not every part is given: the rest is a remainder
	}
	for _, tt := range tests {
		text := strings.Replace(strings.Replace(study, "TOTAL", tt.total, 1), tt.drop, "", 1)
		_, err := readText(t, Options{}, text)
		if got := err != nil; got != (tt.want != "") || got && !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s against %d kg without %q: %v, want %q", tt.total, sum, tt.drop, err, tt.want)
		}
	}
	_, err := readText(t, Options{}, strings.Replace(strings.Replace(study, "TOTAL", "440 kg", 1), "cell_mass: 100 g", "cell_mass: 100(1) g", 1))
	if err != nil {
		t.Errorf("an uncertain part: %v", err)
	}
}
