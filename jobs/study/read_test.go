package study

import (
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// readText writes files, study.yaml first, and reads the study.
func readText(t *testing.T, o Options, study string, more ...string) (*Study, error) {
	t.Helper()
	folder := t.TempDir()
	write(t, filepath.Join(folder, "study.yaml"), study)
	for i := 0; i < len(more); i += 2 {
		write(t, filepath.Join(folder, more[i]), more[i+1])
	}
	return Read(filepath.Join(folder, "study.yaml"), o)
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func mustRead(t *testing.T, o Options, study string, more ...string) *Study {
	t.Helper()
	s, err := readText(t, o, study, more...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func names(inputs []Input) string {
	var all []string
	for _, in := range inputs {
		all = append(all, in.Name)
	}
	return strings.Join(all, " ")
}

func TestPackStudy(t *testing.T) {
	s := mustRead(t, Options{}, packStudy)
	const want = "drag_coefficient rolling_coefficient frontal_area outside_temperature usable_share bond_share slack " +
		"boxed.kerb_mass boxed.pack_mass boxed.series boxed.parallel boxed.layout boxed.cell_mass boxed.cell_charge boxed.cell_voltage " +
		"boxed.cell_diameter boxed.cell_height boxed.cell_resistance " +
		"bonded.bonded_height bonded.filler_density bonded.fill_share bonded.pack_other_mass " +
		"bonded.displaced.floor_panel bonded.displaced.cross_members bonded.added.sill_inserts"
	if got := names(s.Inputs); got != want {
		t.Errorf("inputs:\n got %s\nwant %s", got, want)
	}
	if s.Name != "plain-pack" || s.Model != "vehicle" || s.Baseline != "boxed" || !slices.Equal(s.Candidates, []string{"bonded"}) {
		t.Errorf("study %q, model %q, baseline %q, candidates %q", s.Name, s.Model, s.Baseline, s.Candidates)
	}
	if s.Rows != 10_016 || s.RowsNote == "" || s.Seed != math.MaxUint64 || s.Level != 0.9 || s.Coverage != 0.9 || s.Keep != "all" {
		t.Errorf("rows %d (%q), seed %d, level %g, coverage %g, keep %q", s.Rows, s.RowsNote, s.Seed, s.Level, s.Coverage, s.Keep)
	}
	if i := s.Indices; i.None || i.HalfWidth != 0.01 || !i.HalfWidthStated || i.AtMost != 4_000_000 || len(i.Of) != 3 {
		t.Errorf("indices %+v", i)
	}
	bonded := s.Cars[1]
	if bonded.Base != "boxed" || !bonded.Certified || s.Cars[0].Certified || bonded.MassBasis != "us_curb" {
		t.Errorf("bonded: %+v", bonded)
	}
	items := strings.Join(append(slices.Clone(bonded.Displaced), bonded.Added...), " ")
	if items != "bonded.displaced.floor_panel bonded.displaced.cross_members bonded.added.sill_inserts" {
		t.Errorf("items %s", items)
	}
	for quantity, want := range map[string]string{
		"cell_mass": "boxed.cell_mass", "filler_density": "bonded.filler_density", "drag_coefficient": "drag_coefficient",
		"pack_mass": "", // bonded states what it is made from
		"kerb_mass": "", // bonded displaces something
	} {
		if got := bonded.Given[quantity]; got != want {
			t.Errorf("bonded's %s comes from %q, want %q", quantity, got, want)
		}
	}
}

func TestInputsInSI(t *testing.T) {
	s := mustRead(t, Options{}, packStudy)
	tests := []struct {
		name, text, unit string
		kind             Kind
		mean, sd         float64 // mean or value, SI
	}{
		{"outside_temperature", "23 degC", "degC", Constant, 296.15, 0},
		{"usable_share", "94 %", "%", Constant, 0.94, 0},
		{"bond_share", "between 0.8 and 0.95", "1", Uncertain, 0.875, 0.15 / math.Sqrt(12)},
		{"boxed.kerb_mass", "1950(30) kg", "kg", Uncertain, 1950, 30},
		{"boxed.pack_mass", "likely 450 kg, 90 % within 3 %", "kg", Uncertain, 450, 13.5 / 1.6448536269514722},
		{"boxed.layout", "hexagonal", "1", Constant, 0, 0},
		{"boxed.cell_mass", "between 95 g and 98 g", "g", Uncertain, 0.0965, 0.003 / math.Sqrt(12)},
		{"boxed.cell_charge", "6.6 Ah", "Ah", Constant, 23760, 0},
		{"bonded.filler_density", "triangular from 350 kg/m3 over 550 kg/m3 to 900 kg/m3", "kg/m3", Uncertain, 600,
			math.Sqrt((350*350 + 550*550 + 900*900 - 350*550 - 350*900 - 550*900) / 18.0)},
		{"bonded.fill_share", "= 0.6 * bond_share", "%", Formula, 0, 0},
		{"slack", "= 2 * bond_share * 3 kg", "g", Formula, 0, 0},
	}
	for _, tt := range tests {
		in, ok := s.input(tt.name)
		if !ok || in.Kind != tt.kind || in.Text != tt.text || in.Unit.String() != tt.unit {
			t.Errorf("%s: kind %d, text %q, unit %q; want %d, %q, %q", tt.name, in.Kind, in.Text, in.Unit, tt.kind, tt.text, tt.unit)
			continue
		}
		mean, sd := in.Value, 0.0
		if in.Kind == Uncertain {
			mean, sd = in.Marginal.Mean(), in.Marginal.SD()
		}
		if math.Abs(mean-tt.mean) > 1e-9*tt.mean || math.Abs(sd-tt.sd) > 1e-9*tt.sd {
			t.Errorf("%s: mean %v, sd %v; want %v, %v", tt.name, mean, sd, tt.mean, tt.sd)
		}
	}
	drag, _ := s.input("drag_coefficient")
	if f := drag.Free; f.Source != "coast-down of a sister car" || f.HowKnown != "filed" || drag.Place.Line != 5 || drag.Place.Column != 3 {
		t.Errorf("drag_coefficient: %+v at %v", f, drag.Place)
	}
	rolling, _ := s.input("rolling_coefficient")
	if low, _ := rolling.Marginal.Support(); low != 0.006 {
		t.Errorf("rolling_coefficient reaches down to %v, want 0.006", low)
	}
}

func TestClaims(t *testing.T) {
	s := mustRead(t, Options{}, packStudy)
	want := map[string]string{ // text and unit of the margin
		"lighter": "bonded.kerb_mass_change <= -5.5 %|%", "further": "bonded.label_range_change >= 8.5 %|%",
		"short": "bonded.pack_height <= 80 mm|mm", "about_it": "bonded.pack_mass from 395 kg to 405 kg|kg",
		"as_light": "bonded.kerb_mass_change from -6.5 % to -5.5 %|%",
		"cooler":   "warmer <= 30.5 degC|K", "no_loss": "bonded.kerb_mass_change >= -6.5 %|%",
		"same": "bonded.pack_mass <= boxed.pack_mass and bonded.displaced.floor_panel < 25 kg|kg",
	}
	for _, c := range s.Claims {
		if got := c.Text + "|" + c.MarginUnit.String(); got != want[c.Name] || c.Expr == nil || c.Margin == nil {
			t.Errorf("%s: %s, margin %v; want %s", c.Name, got, c.Margin, want[c.Name])
		}
	}
	if len(s.Claims) != len(want) {
		t.Errorf("%d claims, want %d", len(s.Claims), len(want))
	}
	words := map[string]string{
		"lighter":  "bonded.kerb_mass is at least 5.5 % lower than boxed.kerb_mass (announced: -6 %, rounded to 1 %)",
		"further":  "bonded.label_range is at least 8.5 % higher than boxed.label_range (announced: 9 %, rounded to 1 %)",
		"short":    "bonded.pack_height is 80 mm or less (announced: 80 mm)",
		"about_it": "bonded.pack_mass lies from 395 kg to 405 kg (announced: 400 kg, rounded to 10 kg)",
		"as_light": "bonded.kerb_mass differs from boxed.kerb_mass by -6.5 % to -5.5 % (announced: -6 %, rounded to 1 %)",
		"cooler":   "warmer is 30.5 degC or less (announced: 30 degC, rounded to 1 K)",
		"no_loss":  "bonded.kerb_mass is at most 6.5 % lower than boxed.kerb_mass (announced: -6 %, rounded to 1 %)",
		"same":     "",
	}
	for _, c := range s.Claims {
		if c.Words != words[c.Name] {
			t.Errorf("%s in words:\n got %s\nwant %s", c.Name, c.Words, words[c.Name])
		}
	}
	// The condition itself, at both sides of its limit: SI values of each name.
	for _, tt := range []struct {
		claim string
		x     float64
		holds float64
	}{
		{"lighter", -0.0551, 1}, {"lighter", -0.0549, 0}, {"further", 0.0851, 1}, {"further", 0.0849, 0}, {"further", 0.085, 1},
		{"about_it", 395, 1}, {"about_it", 405.1, 0}, {"cooler", 303.6, 1}, {"cooler", 303.7, 0}, {"no_loss", -0.066, 0},
	} {
		i := slices.IndexFunc(s.Claims, func(c Claim) bool { return c.Name == tt.claim })
		out := []float64{-1}
		s.Claims[i].Expr.Program().Eval(out, [][]float64{{tt.x}})
		if out[0] != tt.holds {
			t.Errorf("%s at %g: %g, want %g", tt.claim, tt.x, out[0], tt.holds)
		}
	}
}

// TestEndsCount has every value that would have been announced so bear a claim out, the
// ends among them: to the last bit in the unit it was announced in.
func TestEndsCount(t *testing.T) {
	for _, tt := range []struct {
		sense, announced, rounded string
		in                        []string
		out                       []string
	}{
		{"about", "0.6 kg", "0.1 kg", []string{"0.65 kg", "0.55 kg", "650 g", "550 g", "0.6 kg"}, []string{"0.651 kg", "0.549 kg"}},
		{"about", "0.7 kg", "0.1 kg", []string{"0.65 kg", "0.75 kg"}, []string{"0.6499 kg", "0.7501 kg"}},
		{"about", "9 %", "1 %", []string{"8.5 %", "9.5 %", "0.085", "0.095"}, []string{"8.49 %", "9.51 %"}},
		{"about", "-6 %", "1 %", []string{"-6.5 %", "-5.5 %", "-0.055"}, []string{"-6.6 %", "-5.4 %"}},
		{"about", "0 kg", "0.2 kg", []string{"-0.1 kg", "100 g"}, []string{"0.11 kg"}},
		{"about", "1.1 km", "0.1 km", []string{"1050 m", "1150 m", "1.15 km"}, []string{"1151 m"}},
		{"about", "23 degC", "1 K", []string{"22.5 degC", "23.5 degC"}, []string{"23.6 degC"}},
		{"at_least", "0.6 kg", "0.1 kg", []string{"0.55 kg"}, []string{"0.549 kg"}},
		{"at_most", "0.8 kg", "0.1 kg", []string{"0.85 kg"}, []string{"0.851 kg"}},
	} {
		for holds, values := range [][]string{tt.out, tt.in} {
			for _, value := range values {
				s := mustRead(t, Options{}, "format: 1\nmodel: formulas\ninputs: {x: "+value+"}\noutputs: {y: x}\n"+
					"claims: {c: {of: x, announced: "+tt.announced+", rounded_to: "+tt.rounded+", sense: "+tt.sense+"}}\n")
				got, margin := []float64{-1}, []float64{-1}
				column := [][]float64{{s.Inputs[0].Value}}
				s.Claims[0].Expr.Program().Eval(got, column)
				s.Claims[0].Margin.Program().Eval(margin, column)
				if got[0] != float64(holds) || (margin[0] >= 0) != (holds == 1) {
					t.Errorf("%s (%s): %s gives %g, margin %g; want %d", s.Claims[0].Text, tt.sense, value, got[0], margin[0], holds)
				}
			}
		}
	}
}

func TestFormulaStudy(t *testing.T) {
	s := mustRead(t, Options{}, formulaStudy)
	if s.System != nil || s.Baseline != "" || len(s.Vehicles) != 0 || s.Name != "study" {
		t.Errorf("system %v, baseline %q, vehicles %v, name %q", s.System, s.Baseline, s.Vehicles, s.Name)
	}
	units := map[string]string{"length": "m", "load": "kN", "count": "1", "grade": "MPa", "price": "EUR/kg", "slender": "1", "moment": "kN m"}
	for name, want := range units {
		if q, ok := s.Quantity(name); !ok || q.Unit.String() != want {
			t.Errorf("%s: unit %q, known %v; want %q", name, q.Unit, ok, want)
		}
	}
	if q, ok := s.Quantity("cost"); !ok || q.Unit.Currency() != "EUR" && q.Unit.String() == "1" {
		t.Errorf("cost: unit %q", q.Unit)
	}
	if _, ok := s.Quantity("nothing"); ok {
		t.Error("Quantity knows a name that the study has not")
	}
	load, _ := s.input("load")
	if low, high := load.Marginal.Support(); low != 1e4 || high != 2e4 {
		t.Errorf("load from %g to %g, want 1e4 to 2e4", low, high)
	}
}

func TestOverrides(t *testing.T) {
	seed := uint64(7)
	s := mustRead(t, Options{Rows: 1000, Seed: &seed}, packStudy)
	want := map[string]string{"rows": "1000", "seed": "7"}
	if s.Rows != 1008 || s.Seed != 7 || s.Indices.AtMost != 8*1008 || !maps.Equal(s.Overrides, want) {
		t.Errorf("rows %d, seed %d, at_most %d, overrides %v", s.Rows, s.Seed, s.Indices.AtMost, s.Overrides)
	}
}

func TestDefault(t *testing.T) {
	byDefault := func(name string) (*Input, error) { return BuiltIn().defaultInput(name, BuiltIn().DefaultText(name)) }
	for _, q := range BuiltIn().Quantities() {
		if q.Default == "" {
			continue
		}
		in, err := byDefault(q.Name)
		if err != nil || !in.Default || in.Free.Source != q.DefaultSource || in.Name != q.Name {
			t.Errorf("%s: %+v, %v", q.Name, in, err)
		}
	}
	if in, err := byDefault("auxiliary_power"); err != nil || in.Kind != Uncertain {
		t.Errorf("auxiliary_power: kind %d, %v", in.Kind, err)
	}
	own, err := byDefault("bonded.model_error_own")
	if err != nil || own.Kind != Uncertain || own.Vehicle != "bonded" || math.Abs(own.Marginal.SD()-0.02) > 1e-12 {
		t.Errorf("bonded.model_error_own: %+v, %v", own, err)
	}
	if _, err := byDefault("kerb_mass"); err == nil {
		t.Error("kerb_mass has a default")
	}
}
