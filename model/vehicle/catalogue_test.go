package vehicle

import (
	"regexp"
	"strings"
	"testing"

	"proofmass/model"
	"proofmass/model/unit"
)

// TestCatalogue holds every declaration to what the outside relies on.
func TestCatalogue(t *testing.T) {
	name := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	for _, q := range BuiltIn().Quantities() {
		if !name.MatchString(q.Name) || strings.HasSuffix(q.Name, changeSuffix) || strings.HasSuffix(q.Name, differenceSuffix) {
			t.Errorf("%s: not a name", q.Name)
		}
		if q.Meaning == "" || q.Source == "" || strings.ContainsAny(q.Meaning[:1], "ABCDEFGHIJKLMNOPQRSTVWXYZ") {
			t.Errorf("%s: meaning %q, source %q", q.Name, q.Meaning, q.Source)
		}
		if !q.Stated && !q.Computed {
			t.Errorf("%s: neither stated nor computed", q.Name)
		}
		if (q.Default == "") != (q.DefaultSource == "") {
			t.Errorf("%s: default %q from %q", q.Name, q.Default, q.DefaultSource)
		}
		if drawn, judged := strings.Contains(q.Default, "{"), strings.Contains(q.DefaultSource, "judgement") || strings.Contains(q.DefaultSource, "no source"); drawn && q.DefaultJudged != judged {
			t.Errorf("%s: the default is judged %t, from %q", q.Name, q.DefaultJudged, q.DefaultSource)
		}
		if strings.HasSuffix(q.Name, "_share") && q.Unit.String() != "%" {
			t.Errorf("%s: a share shown in %s", q.Name, q.Unit)
		}
		if q.Temperature != q.Unit.Absolute() {
			t.Errorf("%s: a temperature shown in %s", q.Name, q.Unit)
		}
		if q.Optional && q.Default != "" {
			t.Errorf("%s: optional, with a default", q.Name)
		}
		if q.Default != "" && !q.Allows(centre(t, q.Name, q.Default)) {
			t.Errorf("%s: default %s beyond its limits", q.Name, q.Default)
		}
		if found, ok := BuiltIn().Find(q.Name); !ok || found.Name != q.Name {
			t.Errorf("%s: not found", q.Name)
		}
	}
	if _, ok := BuiltIn().Find("colour"); ok {
		t.Error("found a colour")
	}
}

// TestFactors: what says that it is part of a factor is, and the other way round; a
// hidden number is shown by what is computed.
func TestFactors(t *testing.T) {
	members := map[string]string{}
	for _, f := range BuiltIn().Factors() {
		for _, name := range f.Quantities {
			members[name] = f.Name
		}
		if found, ok := BuiltIn().FactorNamed(f.Name); !ok || found.Called != f.Called || f.Called == "" || f.Meaning == "" {
			t.Errorf("factor %+v, found %v", f, ok)
		}
		spearman, shift := f.Joint(f.Quantities)
		if len(shift) != len(f.Quantities) || spearman != nil && len(spearman) != len(shift) {
			t.Errorf("%s: %d quantities, correlations %v, shift %v", f.Name, len(f.Quantities), spearman, shift)
		}
	}
	for _, q := range BuiltIn().Quantities() {
		if drawn := strings.Contains(q.Default, "{"); q.Factor != members[q.Name] && (drawn || members[q.Name] != "") {
			t.Errorf("%s: factor %q, but listed in %q", q.Name, q.Factor, members[q.Name])
		}
		for _, shown := range q.ShownAs {
			if by, ok := BuiltIn().Find(shown); !ok || !by.Computed || q.Default == "" || q.Factor == "" {
				t.Errorf("%s is hidden and shown as %s", q.Name, shown)
			}
		}
	}
	if _, ok := BuiltIn().FactorNamed("gear_efficiency"); ok {
		t.Error("gear_efficiency is a factor")
	}
}

// TestNoLoops: of what is not given outright, nothing is made from itself, so that the
// order in which quantities are decided can't matter.
func TestNoLoops(t *testing.T) {
	const open, done = 1, 2
	state := map[string]int{}
	var visit func(q string, path []string)
	visit = func(q string, path []string) {
		path = append(path, q)
		switch state[q] {
		case open:
			t.Fatalf("loop: %v", path)
		case done:
			return
		}
		state[q] = open
		for _, w := range BuiltIn().named[q].ways {
			for _, need := range append(append([]string(nil), w.needs...), w.from...) {
				part, ok := bare(need)
				if strings.HasPrefix(need, "!") || strings.HasPrefix(need, rootMark) || !ok || BuiltIn().named[part] == nil {
					continue
				}
				visit(part, path)
			}
		}
		state[q] = done
	}
	for _, e := range BuiltIn().order {
		visit(e.name, nil)
	}
}

// TestNeedsExist: every way reads quantities of the catalogue.
func TestNeedsExist(t *testing.T) {
	for _, e := range BuiltIn().order {
		for _, w := range e.ways {
			if (w.eval == nil && w.start == nil) == (w.fit == nil) {
				t.Errorf("%s: a way is evaluated or fitted to the car", e.name)
			}
			for _, need := range append(append([]string(nil), w.needs...), w.from...) {
				q, _ := bare(need)
				if BuiltIn().named[q] == nil && q != "displaced" && q != "added" && q != "bill" {
					t.Errorf("%s needs %q", e.name, need)
				}
			}
		}
	}
}

// TestDefaults are the values published with the fit on 60 certified cars.
func TestDefaults(t *testing.T) {
	for q, want := range map[string]string{
		"gear_efficiency": "{normal: {mean: 0.971, sd: 0.0095}, max: 0.995}", "regen_share": "{normal: {mean: 0.923, sd: 0.039}, max: 1}",
		"auxiliary_power": "{normal: {mean: 199 W, sd: 71 W}, min: 50 W}", "recharge_efficiency": "{normal: {mean: 0.862, sd: 0.0155}}",
		"spin_loss_per_mass": "{normal: {mean: 0.0074 N/kg, sd: 0.0039 N/kg}, min: 0 N/kg}", "all_wheel_drive_extra": "{normal: {mean: 0.60, sd: 0.24}, min: 0}",
		"model_error_sd_city": "0.080", "model_error_growth": "2", "model_error_sd_highway": "0.049", "model_error_correlation": "0.70", "model_error_own": "0", "label_factor": "0.7",
		"air_pressure": "98.21 kPa", "pack_voltage": "370 V", "drag_coefficient": "", "usable_share": "", "colour": "", "car.gear_efficiency": "", "car.drive_draw": "{between: [0, 1]}", "all_wheel_drive": "", ".model_error_own": "",
	} {
		if got := BuiltIn().DefaultText(q); got != want {
			t.Errorf("default of %s: %q, want %q", q, got, want)
		}
	}
}

func wordsOf(t *testing.T, quantity string) map[string]float64 {
	q, ok := BuiltIn().Find(quantity)
	if !ok {
		t.Errorf("no %s", quantity)
	}
	return q.Words
}

func TestWords(t *testing.T) {
	if w := wordsOf(t, "layout"); w["hexagonal"] != hexagonal || w["square"] != square || len(w) != 2 {
		t.Errorf("layout: %v", w)
	}
	if w := wordsOf(t, "all_wheel_drive"); w["yes"] != 1 || w["no"] != 0 {
		t.Errorf("all_wheel_drive: %v", w)
	}
	if wordsOf(t, "kerb_mass") != nil {
		t.Error("words for kerb_mass")
	}
}

// TestQuantityOfNames: unit and meaning of what a candidate has beside a quantity.
func TestQuantityOfNames(t *testing.T) {
	x := newTrial(t, nil)
	x.car("boxed", "", nil)
	x.car("bonded", "boxed", nil)
	s := x.system()
	for name, want := range map[string]string{"boxed.label_range": "km", "bonded.label_range_change": "%", "bonded.label_range_difference": "km", "gear_ratio": "1",
		"bonded.outside_temperature": "degC", "bonded.outside_temperature_difference": "K", "bonded.cell_share_difference": "%", "bonded.model_error_own": "1"} {
		q, ok := s.Quantity(name)
		if !ok || q.Unit.String() != want {
			t.Errorf("%s is shown in %q, want %s", name, q.Unit, want)
		}
	}
	for _, name := range []string{"boxed.label_range_change", "bonded.outside_temperature_change", "bonded.colour", "x.label_range", "colour", ""} {
		if _, ok := s.Quantity(name); ok {
			t.Errorf("%q has a unit", name)
		}
	}
	if d := mustUnit("Wh/km").Dimension(); d != mustUnit("N").Dimension() || d == unit.One {
		t.Error("energy per distance is a force")
	}
}

// TestTraitsNameQuantities has every name in a trait be one of the catalogue.
func TestTraitsNameQuantities(t *testing.T) {
	for _, q := range BuiltIn().Quantities() {
		for _, name := range []string{q.Beside, q.PartOf, q.RestOf, q.RouteTo, q.Question} {
			if _, known := BuiltIn().Find(name); name != "" && !known {
				t.Errorf("%s: a trait names %q, which is no quantity", q.Name, name)
			}
		}
		if b := q.Usual; b != (model.Band{}) && (!(b.Low < b.High) || b.Source == "" || b.High < q.Low || b.Low > q.High) {
			t.Errorf("%s: its usual band %+v", q.Name, b)
		}
	}
}
