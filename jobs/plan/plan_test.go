package plan_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/study"
)

func planOf(t *testing.T, text string) *plan.Plan {
	t.Helper()
	path := filepath.Join(t.TempDir(), "study.yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	s, err := study.Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

const formulas = `format: 1
study: f
model: formulas
inputs: {x: {between: [0, 1]}, y: {between: [0, 1]}, idle: {between: [0, 1]}}
outputs: {z: x * y, w: x + 1}
`

// A slice never crosses a replicate, and every row stands in exactly one.
func TestSlicesCoverEveryRowOnce(t *testing.T) {
	for _, sample := range []string{"{rows: 16}", "{rows: 512}", "{rows: 131_072}", "{rows: 400_000}", "{rows: 10_001, design: random}"} {
		p := planOf(t, formulas+"indices: none\nsample: "+sample+"\n")
		next := 0
		for i, s := range p.Sample.Slices {
			bound := p.Sample.Bounds()
			if s.Number != i || s.First != next || s.First != bound[s.Replicate]+s.From || s.Rows < 1 || s.First+s.Rows > bound[s.Replicate+1] {
				t.Fatalf("%s: slice %+v after row %d", sample, s, next)
			}
			next += s.Rows
		}
		if next != p.Sample.Rows || p.Sample.Rows != p.Study.Rows {
			t.Errorf("%s: the slices have %d rows of %d", sample, next, p.Study.Rows)
		}
	}
}

func TestIndicesAskOnlyWhatReaches(t *testing.T) {
	p := planOf(t, formulas)
	if len(p.Factors) != 3 || len(p.Index.Swaps) != 2 {
		t.Errorf("%d factors, %d swapped; want 3 and 2", len(p.Factors), len(p.Index.Swaps))
	}
	if p.FirstIndexRuns() != 2*p.Index.Rows*6 || p.Index.Rows%plan.Replicates != 0 {
		t.Errorf("%d runs for two rounds of %d rows, want N (2d+2) = 6 N", p.FirstIndexRuns(), p.Index.Rows)
	}
	if w := strings.Join(p.Warnings(), "\n"); !strings.Contains(w, "depends on them: idle.") {
		t.Errorf("nothing says that idle does nothing: %q", w)
	}
	short := planOf(t, formulas+"indices: {half_width: 0.001, at_most: 1000}\n")
	if short.Doubt() == "" || short.FirstIndexRuns() > 1000 {
		t.Errorf("%d runs of 1000 allowed, doubt %q", short.FirstIndexRuns(), short.Doubt())
	}
	if none := planOf(t, formulas+"indices: {at_most: 50}\n"); none.Index.Rows != 0 || !strings.Contains(strings.Join(none.Warnings(), "\n"), "50 model runs are too few for sensitivity") {
		t.Errorf("at_most 50: %d rows, warnings %q", none.Index.Rows, none.Warnings())
	}
	if only := planOf(t, formulas+"indices: {of: [w]}\n"); len(only.Index.Swaps) != 1 {
		t.Errorf("of w: %d factors swapped, want x alone", len(only.Index.Swaps))
	}
}

const cars = `format: 1
study: c
model: vehicle
inputs: {drag_coefficient: 0.24, frontal_area: 2.3 m2, rolling_coefficient: 0.0085}
vehicles:
  old: {kerb_mass: 1900(10) kg, body_mass: 80 kg}
  new: {based_on: old, kerb_mass: 1800(10) kg, mass_basis: eu_running_order, displaced: {whole_floor: 120 kg}}
`

func TestWhatCannotBeHadIsSaid(t *testing.T) {
	p := planOf(t, cars)
	var out []string
	for _, l := range p.LeftOut {
		out = append(out, l.Output)
		if l.Why == "" {
			t.Errorf("nothing says why %s is left out", l.Output)
		}
	}
	for _, want := range []string{"old.label_range", "new.usable_energy", "new.label_range_change"} {
		if !slices.Contains(out, want) {
			t.Errorf("%s is not among what is left out: %v", want, out)
		}
	}
	for _, d := range p.Defaults {
		if d.Name == "gear_efficiency" {
			t.Error("gear_efficiency is listed though nothing that can be had needs it")
		}
	}
	w := strings.Join(p.Warnings(), "\n")
	for _, want := range []string{"different bases", "credited with 120 kg of displaced structure, 6 % of the baseline's kerb mass", "more than the baseline's body of 80 kg"} {
		if !strings.Contains(w, want) {
			t.Errorf("no warning has %q: %s", want, w)
		}
	}
}

func TestModelErrorIsOneFactor(t *testing.T) {
	p := planOf(t, strings.Replace(cars, "drag_coefficient: 0.24", "usable_energy: 70(1) kWh, drag_coefficient: 0.24", 1))
	count := 0
	for _, f := range p.Factors {
		if strings.HasPrefix(f.Name, "model_error") {
			count++
			if f.Name != "model_error" || len(f.Inputs) != 2 || f.Show != "old.model_error_city" {
				t.Errorf("factor %+v", f)
			}
		}
	}
	if count != 1 {
		t.Errorf("%d factors of the model's error, want 1", count)
	}
}
