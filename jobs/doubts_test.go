package jobs_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/inspect"
	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/study"
)

// odd is what check finds in a study that has one vehicle, of a usual size but for the
// lines given.
func odd(t *testing.T, inputs, vehicle string) []string {
	t.Helper()
	usual := map[string]string{"drag_coefficient": "0.24", "frontal_area": "2.3 m2", "rolling_coefficient": "0.0085", "usable_share": "95 %"}
	car := map[string]string{"kerb_mass": "1870(15) kg", "pack_mass": "430 kg", "pack_energy": "73(1) kWh", "all_wheel_drive": "no"}
	path := write(t, "format: 1\nindices: none\ninputs: {"+lines(usual, inputs)+"}\nvehicles: {car: {"+lines(car, vehicle)+"}}\n")
	f, err := inspect.Check(path, study.Options{Rows: 512})
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(f.Odd, func(text string) bool { return strings.HasPrefix(text, "Uncertain, and nothing") })
}

// lines writes name: value, with the given ones in place of the usual ones.
func lines(usual map[string]string, given string) string {
	all := []string{}
	for name, value := range usual {
		if !strings.Contains(", "+given, ", "+name+":") {
			all = append(all, name+": "+value)
		}
	}
	slices.Sort(all)
	if given != "" {
		all = append(all, given)
	}
	return strings.Join(all, ", ")
}

// TestSlipsOfSizeAreOdd has slips of the pen told with what was likely meant, in
// stated values and in what the draws make of them.
func TestSlipsOfSizeAreOdd(t *testing.T) {
	if found := odd(t, "", ""); len(found) > 0 {
		t.Errorf("a usual car is odd: %q", found)
	}
	for _, x := range []struct{ inputs, vehicle, want string }{
		{"", "pack_mass: 430 g", "car.pack_mass is 0.43 kg; usual is 100 to 1000 kg (common practice, no source). Did you mean 430 kg?"},
		{"", "pack_energy: 73 MWh", "car.pack_energy is 73000 kWh; usual is 15 to 220 kWh (common practice, no source). Did you mean 73 kWh?"},
		{"drag_coefficient: 2.4", "", "drag_coefficient is 2.4; usual is 0.18 to 0.42 (data sheets or rules in general, from memory). Did you mean 0.24?"},
		{"rolling_coefficient: 0.85", "", "Did you mean 0.85 %?"},
		{"rolling_coefficient: {between: [0.8, 0.9]}", "", "Did you mean 0.85 %?"},
		{"outside_temperature: 140 degC", "", "outside_temperature is 140 degC; usual is -40 to 50 degC (common practice, no source). Often it is degF for degC."},
		{"regen_fade_low: 3.5 m/s, regen_fade_high: 2 m/s", "", "Often it is regen_fade_low above regen_fade_high."},
		{"", "footprint: 1.2 m2, series: 100, parallel: 40, cell_diameter: 24 mm, layout: square, cell_mass: 83 g", "Often it is a footprint smaller than the cells on it, or cells in layers."},
		{"", "cell_mass: 83 kg", "car.cell_mass is 83000 g; usual is 35 to 6000 g (data sheets or rules in general, from memory). Did you mean 83 g?"},
		{"", "test_mass: 1700 kg", "car.test_load is -170 kg; usual is 0 to 300 kg"},
		{"", "gross_mass: 2400 kg, wltp_test_mass: 1861 kg", "car.wltp_test_load is -9 kg; usual is 25 to 600 kg"},
		{"", "pack_mass: {formula: 0.1 * car.kerb_mass}", "car.pack_specific_energy is 3"},
	} {
		found := odd(t, x.inputs, x.vehicle)
		if !slices.ContainsFunc(found, func(text string) bool { return strings.Contains(text, x.want) }) {
			t.Errorf("%s %s: want %q among %q", x.inputs, x.vehicle, x.want, found)
		}
	}
}

// TestReasonsOfNoValue has a pack that cannot drive called so, and cells that make no whole
// string told.
func TestReasonsOfNoValue(t *testing.T) {
	found := odd(t, "", "cell_count: 1420, parallel: 80, cell_charge: 5 Ah, cell_voltage: 3.6 V, cell_resistance: 900 mohm")
	for _, want := range []string{"car.udds_total, car.hwfet_total have no value in ", "the pack cannot deliver the power that driving takes there",
		"car.series comes to 17.75, which is no whole number, and counts pieces."} {
		if !slices.ContainsFunc(found, func(text string) bool { return strings.Contains(text, want) }) {
			t.Errorf("want %q among %q", want, found)
		}
	}
}

// TestSlipsComeFirst has a likely slip, which makes the answer wrong, told before what is
// merely unsourced: the short answer has room for the first caution alone.
func TestSlipsComeFirst(t *testing.T) {
	path := write(t, `format: 1
indices: none
inputs: {drag_coefficient: 0.24(1), frontal_area: 2.3 m2, rolling_coefficient: 0.0085, usable_share: 95 %}
vehicles:
  car: {kerb_mass: 1870(15) kg, pack_mass: 430 kg, pack_energy: 73(1) kWh}
  new: {based_on: car, pack_mass: 395 g}
claims: {lighter: {of: new.kerb_mass_change, announced: -2 %, sense: at_least}}
`)
	f, err := inspect.Check(path, study.Options{Rows: 512})
	if err != nil {
		t.Fatal(err)
	}
	const slip = "new.pack_mass is 0.395 kg; usual is 100 to 1000 kg"
	for what, told := range map[string][]string{"check": f.Odd, "the answer": mustRun(t, path, quick(t, 256)).Answer.Cautions} {
		if !strings.HasPrefix(told[0], slip) {
			t.Errorf("%s: want first %q of %q", what, slip, told)
		}
	}
}

// TestVerdictNamesSlip has the line of a verdict carry the likely slip that it rests on, and
// that of another claim of the study not.
func TestVerdictNamesSlip(t *testing.T) {
	a := mustRun(t, write(t, `format: 1
indices: none
inputs: {drag_coefficient: 2.4(1), frontal_area: 2.3 m2, rolling_coefficient: 0.0085, usable_share: 95 %}
vehicles:
  car: {kerb_mass: 1870(15) kg, pack_mass: 430 kg, pack_energy: 73(1) kWh}
  new: {based_on: car, pack_mass: 395 kg}
claims:
  lighter: {of: new.kerb_mass_change, announced: -1 %, sense: at_least}
  further: {of: new.label_range_change, announced: 0.1 %, sense: at_least}
`), quick(t, 256)).Answer
	var text strings.Builder
	if err := a.Text(&text, report.TextOptions{Width: 200}); err != nil {
		t.Fatal(err)
	}
	unwrapped := strings.ReplaceAll(text.String(), "\n"+strings.Repeat(" ", len("lighter     ")), " ")
	for _, line := range strings.Split(unwrapped, "\n") {
		slip := strings.Contains(line, "rests on an odd input: drag_coefficient is 2.4")
		if name, _, _ := strings.Cut(line, " "); (name == "lighter" || name == "further") && slip != (name == "further") {
			t.Errorf("%q", line)
		}
	}
	if !strings.Contains(unwrapped, "odd input") {
		t.Errorf("no verdict says that it rests on a slip:\n%s", text.String())
	}
}

// TestDemonstrationsAreOfUsualSize checks studies that nobody should doubt.
func TestDemonstrationsAreOfUsualSize(t *testing.T) {
	paths, _ := filepath.Glob(studies + "*.yaml")
	for _, path := range paths {
		if filepath.Base(path) == "everything.yaml" {
			continue // made to go through all code: its cells have no room on its floor
		}
		f, err := inspect.Check(path, study.Options{Rows: 512})
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range f.Odd {
			if strings.Contains(text, "; usual is ") || strings.Contains(text, "cannot be") || strings.Contains(text, "Infeasible") {
				t.Errorf("%s: %s", path, text)
			}
		}
	}
}

// TestContradictions has what cannot be together told with its share of the draws and
// the claims that rest on it, and what can be reconciled not.
func TestContradictions(t *testing.T) {
	const head = `format: 1
indices: none
inputs: {drag_coefficient: 0.24, frontal_area: 2.3 m2, rolling_coefficient: 0.0085, usable_share: 95 %}
vehicles:
`
	const claims = `
claims:
  light: {holds: b.kerb_mass < a.kerb_mass}
  far: {holds: a.label_range > 300 km}
  big: {holds: a.pack_energy > 70 kWh}
  slippery: {holds: drag_coefficient < 0.3}
`
	for _, x := range []struct {
		about, cars, name, text string
		share                   float64
		claims                  []string
	}{
		{"a pack heavier than its car", "  a: {kerb_mass: 1870 kg, pack_mass: 2300 kg, pack_energy: 75 kWh}\n  b: {based_on: a, pack_mass: 380 kg}",
			"b.kerb_mass", "b.kerb_mass comes to -50 kg, and cannot be below 0 kg, in 256 of 256 draws", 1, []string{"light", "all_claims"}},
		{"the same", "  a: {kerb_mass: 1870 kg, pack_mass: 2300 kg, pack_energy: 75 kWh}\n  b: {based_on: a, pack_mass: 380 kg}",
			"a.kerb_remainder", "a: the parts given weigh more than the kerb mass given, by 430 kg", 1, []string{"light", "far", "all_claims"}},
		{"two energies", "  a: {kerb_mass: 1870 kg, pack_energy: 88 kWh, series: 100, parallel: 44, cell_charge: 5 Ah, cell_voltage: 3.65 V}\n  b: {based_on: a, kerb_mass: 1800 kg}",
			"a.pack_energy_by_cells", "a: pack_energy is 88 kWh, but 80.3 kWh by another route (pack_energy_by_cells): -8.8 %", 1, []string{"far", "big", "all_claims"}},
		{"in half of the draws", "  a: {kerb_mass: 1870 kg, body_mass: 300 kg, pack_mass: {between: [1470 kg, 1670 kg]}, pack_energy: 75 kWh}\n  b: {based_on: a, kerb_mass: 1800 kg}",
			"a.kerb_remainder", "a: the parts given weigh more", 0.5, []string{"light", "far", "all_claims"}},
		{"routes within how well they are known", "  a: {kerb_mass: 1870 kg, pack_energy: 83(5) kWh, series: 100, parallel: 44, cell_charge: 5 Ah, cell_voltage: 3.65 V}\n  b: {based_on: a, kerb_mass: 1800 kg}", "", "", 0, nil},
		{"routes as rounded", "  a: {kerb_mass: 1870 kg, pack_energy: 80 kWh, series: 100, parallel: 44, cell_charge: 5 Ah, cell_voltage: 3.65 V}\n  b: {based_on: a, kerb_mass: 1800 kg}", "", "", 0, nil},
		{"parts that add up but for rounding", "  a: {kerb_mass: 1870.3 kg, body_mass: 400.1 kg, chassis_mass: 1039.9 kg, pack_mass: 430.3 kg, pack_energy: 75 kWh}\n  b: {based_on: a, pack_mass: 400 kg}", "", "", 0, nil},
	} {
		read, err := jobs.Read(write(t, head+x.cars+claims), study.Options{Rows: 256})
		if err != nil {
			t.Fatal(err)
		}
		a, err := jobs.Planned(read)
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(a.Contradictions, func(c plan.Contradiction) bool { return c.Name == x.name })
		switch {
		case x.name == "" && len(a.Contradictions) > 0:
			t.Errorf("%s: %+v", x.about, a.Contradictions)
		case x.name == "":
		case at < 0:
			t.Errorf("%s: no %s among %+v", x.about, x.name, a.Contradictions)
		default:
			c := a.Contradictions[at]
			if !strings.Contains(c.Text, x.text) || c.Share != x.share || !slices.Equal(c.Claims, x.claims) {
				t.Errorf("%s: %+v, want %q, %g, %q", x.about, c, x.text, x.share, x.claims)
			}
		}
	}
}

// TestInfeasibleOutputsCostNoIndexRuns has check name an output that no draw has, and a
// run spend its model runs on the others.
func TestInfeasibleOutputsCostNoIndexRuns(t *testing.T) {
	const text = `format: 1
model: formulas
indices: {half_width: 0.05, at_most: 50_000}
inputs: {x: {between: [1, 2]}, y: {between: [3, 4]}}
outputs: {good: x * x, never: sqrt(-y), huge: x * 1e308}
`
	path := write(t, text)
	f, err := inspect.Check(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(f.Odd, func(text string) bool {
		return strings.HasPrefix(text, "Infeasible in all of 512 draws") && strings.Contains(text, ": never.")
	}) {
		t.Errorf("not said: %q", f.Odd)
	}
	if !slices.ContainsFunc(f.Odd, func(text string) bool { return strings.HasPrefix(text, "huge has no value in ") }) {
		t.Errorf("nothing said of what is beyond all numbers: %q", f.Odd)
	}
	whole, err := inspect.Check(write(t, strings.Replace(text, "sqrt(-y)", "sqrt(y)", 1)), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f.Runs >= whole.Runs {
		t.Errorf("%d runs, and %d where y decides something", f.Runs, whole.Runs)
	}
	for _, d := range mustRun(t, path, quick(t, 1024)).Answer.Decides {
		if d.Output == "never" {
			t.Errorf("told what decides %s", d.Output)
		}
	}
}
