package vehicle

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestGivenOrComputed takes each way to a quantity in turn; the numbers are the sums of
// the statements.
func TestGivenOrComputed(t *testing.T) {
	for _, x := range []struct {
		about string
		given values
		q     string
		want  float64
	}{
		{"given", values{"pack_mass": 400, "cell_count": 1000, "cell_mass": 0.07, "non_cell_ratio": 0.5}, "pack_mass", 400},
		{"energy and specific energy", values{"pack_energy": 600, "pack_specific_energy": 3, "cell_count": 10, "cell_mass": 1}, "pack_mass", 200},
		{"energy of cells and specific energy", values{"cell_count": 10, "cell_charge": 5, "cell_voltage": 4, "pack_specific_energy": 2}, "pack_mass", 100},
		{"cells and ratio", values{"series": 10, "parallel": 10, "cell_mass": 2, "non_cell_ratio": 0.5}, "pack_mass", 300},
		{"parts", values{"cell_count": 100, "cell_mass": 2, "tray_mass": 40, "module_mass_per_cell": 0.1}, "pack_mass", 250},
		{"mass and specific energy", values{"pack_mass": 400, "pack_specific_energy": 2}, "pack_energy", 800},
		{"count of a picture", values{"cell_rows": 10, "cell_columns": 20, "filled_share": 0.9}, "cell_count", 180},
		{"strings before picture", values{"cell_rows": 10, "cell_columns": 20, "filled_share": 0.9, "series": 10, "parallel": 17}, "cell_count", 170},
		{"second route of a count", values{"cell_rows": 10, "cell_columns": 20, "filled_share": 0.9, "series": 10, "parallel": 17}, "cell_count_by_picture", 180},
		{"strings of a count", values{"cell_rows": 10, "cell_columns": 20, "filled_share": 0.9, "series": 9}, "parallel", 20},
		{"cell mass of specific energy", values{"cell_charge": 5, "cell_voltage": 4, "cell_specific_energy": 10}, "cell_mass", 2},
		{"cell energy of specific energy", values{"cell_mass": 2, "cell_specific_energy": 10}, "cell_energy", 20},
		{"parts that add up to their pack but for rounding", values{"pack_mass": 400.3, "cell_count": 1000, "cell_mass": 0.3, "tray_mass": 100.2, "busbar_mass": 0.1}, "pack_remainder", 0},
		{"remainder of a given pack", values{"pack_mass": 400, "cell_count": 1000, "cell_mass": 0.2, "tray_mass": 50}, "pack_remainder", 150},
		{"second route of pack mass", values{"pack_mass": 400, "cell_count": 1000, "cell_mass": 0.2, "non_cell_ratio": 0.5}, "pack_mass_by_cells", 300},
		{"ratio of a given pack", values{"pack_mass": 400, "cell_count": 1000, "cell_mass": 0.2}, "non_cell_ratio", 1},
		{"kerb mass by parts", subsystemMasses(), "kerb_mass", 1500},
		{"kerb mass with a driver", subsystemMasses(), "test_mass", 1500 + usLoad},
		{"test mass filed", values{"test_mass": 2000, "kerb_mass": 1800}, "test_mass", 2000},
		{"built mass", values{"kerb_mass": 1800}, "built_mass", 1800 + usLoad},
		{"resistance by built mass", values{"kerb_mass": 2200 - usLoad}, "pack_resistance", 0.07},
		{"height", values{"cell_height": 0.08, "bond_thickness": 0.0005, "face_sheet_thickness": 0.001, "pack_other_height": 0.01}, "pack_height", 0.093},
		{"drag area given", values{"drag_area": 0.6, "air_density": 1.2}, "aero_coefficient", 0.36},
		{"default losses", values{"built_mass": 2000, "all_wheel_drive": 1}, "idle_loss", 0.122 * 2000 * 1.6},
		{"one driven axle", values{"built_mass": 2000}, "idle_loss", 244},
		{"a given energy in the cold", values{"usable_energy": 100, "cold_energy_factor": 0.9}, "cold_usable_energy", 90},
		{"left out", values{"pack_mass": 1}, "adhesive_mass", 0},
		{"a default", values{"pack_mass": 1}, "label_factor", 0.7},
	} {
		trial := newTrial(t, nil)
		trial.car("car", "", x.given)
		near(t, x.about+": "+x.q, trial.run("car." + x.q)["car."+x.q], x.want, 1e-14)
	}
}

func subsystemMasses() values {
	return values{"pack_mass": 400, "body_mass": 300, "closures_mass": 100, "interior_mass": 200, "chassis_mass": 250, "drive_unit_mass": 150,
		"low_voltage_mass": 70, "fluids_mass": 30}
}

// TestMissing looks at what is asked for when something lacks.
func TestMissing(t *testing.T) {
	for _, x := range []struct {
		given values
		q     string
		needs []string
	}{
		{values{}, "kerb_mass", []string{"car.kerb_mass"}},
		{values{"body_mass": 300, "pack_mass": 300}, "kerb_mass", []string{"car.kerb_mass"}},
		{values{"body_mass": 300, "pack_mass": 300, "interior_mass": 1, "chassis_mass": 1, "drive_unit_mass": 1, "low_voltage_mass": 1}, "kerb_mass", []string{"car.closures_mass", "car.fluids_mass"}},
		{values{"pack_specific_energy": 1}, "pack_mass", []string{"car.pack_energy"}},
		{values{"cell_count": 10, "cell_mass": 1}, "pack_mass", []string{"car.non_cell_ratio"}},
		{values{"cell_count": 10, "cell_mass": 1, "tray_mass": 1, "filler_density": 300, "fill_share": 1, "cell_diameter": 0.02}, "pack_mass", []string{"car.layout", "car.bonded_height"}},
		{values{"coastdown_f0": 100, "test_mass": 1000}, "udds_total", []string{"car.coastdown_f1", "car.coastdown_f2"}},
		{values{"kerb_mass": 1500, "drag_coefficient": 0.3}, "hwfet_total", []string{"car.rolling_coefficient", "car.frontal_area"}},
		{values{"kerb_mass": 1500, "drag_area": 0.7, "rolling_coefficient": 0.01}, "label_range", []string{"car.usable_energy"}},
		{values{"kerb_mass": 1500, "drag_area": 0.7, "rolling_coefficient": 0.01, "pack_energy": 1e8}, "label_range", []string{"car.usable_share"}},
		{values{"cabin_conductance": 100, "cabin_low": 290, "cabin_high": 300}, "auxiliary_total", []string{"car.heating_performance", "car.cooling_performance"}},
		{values{"windscreen_area": 1}, "glazing_mass", []string{"car.windscreen_thickness"}},
	} {
		trial := newTrial(t, nil)
		trial.car("car", "", x.given)
		_, err := trial.system().Rule("car." + x.q)
		var m *Missing
		if !errors.As(err, &m) {
			t.Errorf("%s from %v: error %v, want one that says what is missing", x.q, x.given, err)
			continue
		}
		slices.Sort(m.Needs)
		slices.Sort(x.needs)
		if !slices.Equal(m.Needs, x.needs) {
			t.Errorf("%s from %v: missing %v, want %v", x.q, x.given, m.Needs, x.needs)
		}
		for _, need := range x.needs {
			if !strings.Contains(err.Error(), need) {
				t.Errorf("message %q does not name %s", err, need)
			}
		}
		if slices.Contains(trial.system().Outputs("car"), "car."+x.q) {
			t.Errorf("%s is listed though it can't be had", x.q)
		}
	}
}

// TestPartlyStated: a part that is stated in part is missing, and never counts as nil.
func TestPartlyStated(t *testing.T) {
	for part, states := range map[string]string{"filler_mass": "filler_density", "bond_mass": "bond_thickness", "face_sheet_mass": "face_sheet_density",
		"module_mass": "module_mass_per_cell", "adhesive_mass": "adhesive_density", "windscreen_mass": "windscreen_thickness"} {
		x := newTrial(t, nil)
		x.car("car", "", values{states: 1})
		if _, err := x.system().Rule("car." + part); err == nil {
			t.Errorf("%s counts as nil though %s is stated", part, states)
		}
	}
}

func TestErrors(t *testing.T) {
	one := Car{Name: "a", Given: map[string]string{}}
	for _, x := range []struct {
		cars     []Car
		baseline string
		want     string
	}{
		{[]Car{one}, "b", `baseline "b"`},
		{[]Car{one, one}, "a", "named twice"},
		{[]Car{{Name: "a.b"}}, "a.b", "letters"},
		{[]Car{{Name: "a", Base: "z"}}, "a", `based on "z"`},
		{[]Car{one, {Name: "b", Base: "c"}, {Name: "c", Base: "b"}}, "a", "based on itself"},
		{[]Car{{Name: "a", MassBasis: "dry"}}, "a", "mass_basis"},
		{[]Car{{Name: "a", Given: map[string]string{"label_range": "a.label_range"}}}, "a", "not to be given"},
		{[]Car{{Name: "a", Given: map[string]string{"colour": "a.colour"}}}, "a", "no quantity"},
		{[]Car{{Name: "a", Given: map[string]string{"model_error_z1": "a.model_error_z1"}}}, "a", "every vehicle"},
	} {
		if _, err := BuiltIn().NewSystem(x.cars, x.baseline); err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("%v: error %v, want %q", x.cars, err, x.want)
		}
	}
	s, err := BuiltIn().NewSystem([]Car{one, {Name: "b"}}, "a")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"", "a.", ".", "colour", "a.colour", "z.kerb_mass", "a.kerb_mass_change", "b.outside_temperature_change", "b.colour_change", "gear_efficiency",
		"a.range_change_from_mass_alone", "b.displaced.floor", "b.kerb_mass_change_change", "b.displaced_mass_change"} {
		if _, err := s.Rule(name); err == nil {
			t.Errorf("a rule for %q", name)
		}
	}
}

// TestInfeasible: one NaN in is NaN out, through the whole model.
func TestInfeasible(t *testing.T) {
	x := newTrial(t, nil)
	x.car("car", "", values{"kerb_mass": math.NaN(), "drag_area": 0.6, "rolling_coefficient": 0.01, "usable_energy": 2e8})
	if got := x.run("car.label_range")["car.label_range"]; got == got {
		t.Errorf("label_range = %g from no kerb mass", got)
	}
}
