package study

import (
	"strings"
	"testing"
)

// TestPartsAgree has a total contradict its parts only where all are constants.
func TestPartsAgree(t *testing.T) {
	study := `format: 1
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
	for _, q := range BuiltIn().Quantities() { // whatever else a pack is made of
		if q.PartOf == "pack_mass" && !q.IfAny && q.Name != "cells_mass" && !strings.Contains(study, " "+q.Name+":") {
			study += "    " + q.Name + ": 0 kg\n"
		}
	}
	if _, err := readText(t, Options{}, displacedGiven); err != nil {
		t.Errorf("what is displaced was part of the subsystems: %v", err)
	}
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

// displacedGiven has a kerb mass that is right only with what is displaced and a driver.
const displacedGiven = `format: 1
vehicles:
  a: {kerb_mass: 1500 kg}
  b:
    based_on: a
    mass_basis: eu_running_order
    kerb_mass: 1455 kg
    pack_mass: 300 kg
    body_mass: 400 kg
    closures_mass: 100 kg
    interior_mass: 200 kg
    chassis_mass: 200 kg
    drive_unit_mass: 130 kg
    low_voltage_mass: 50 kg
    fluids_mass: 20 kg
    glazing_mass: 0 kg
    adhesive_mass: 0 kg
    displaced: {floor: 20 kg}
`

// TestWholeNumbersAndWords refuses what lies between the only values that make sense.
func TestWholeNumbersAndWords(t *testing.T) {
	for line, want := range map[string]string{
		"series: 96.5":                               "series: \"96.5\" is no whole number; series counts pieces: 96 or 97",
		"parallel: {one_of: [31, 31.5]}":             "\"31.5\" is no whole number; parallel counts pieces: 31 or 32",
		"cell_rows: {value: 28.2}":                   "is no whole number",
		"layout: 0.3":                                "layout: \"0.3\" is no layout; layout is hexagonal or square",
		"layout: {one_of: [hexagonal, 0.4]}":         "\"0.4\" is no layout",
		"all_wheel_drive: 0.5":                       "all_wheel_drive is no or yes",
		"series: 96":                                 "",
		"layout: square":                             "",
		"layout: 1":                                  "",
		"all_wheel_drive: {one_of: [no, yes]}":       "",
		"series: {between: [90, 100]}":               "has values in between; series counts pieces: one_of: {",
		"cell_rows: 28(1)":                           "has values in between",
		"layout: {between: [0, 1]}":                  "one_of: {hexagonal: 1, square: 1}",
		"cell_columns: {one_of: {40: 0.2, 41: 0.8}}": "",
	} {
		_, err := readText(t, Options{}, "format: 1\nvehicles:\n  a:\n    "+line+"\n")
		if got := err != nil; got != (want != "") || got && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", line, err, want)
		}
	}
}
