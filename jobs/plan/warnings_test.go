package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"proofmass/jobs/study"
)

func planOf(t *testing.T, text string) *Plan {
	t.Helper()
	path := filepath.Join(t.TempDir(), "study.yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	s, err := study.Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func warned(p *Plan, text string) bool {
	return slices.ContainsFunc(p.Warnings(), func(w string) bool { return strings.Contains(w, text) })
}

// TestUnused has constants and uncertain inputs listed that a coast-down replaces,
// and nothing that is read.
func TestUnused(t *testing.T) {
	p := planOf(t, `format: 1
inputs:
  drag_coefficient: {between: [0.22, 0.24]}
  frontal_area: 2.3 m2
  rolling_coefficient: 0.008
  usable_energy: 75 kWh
vehicles:
  a: {kerb_mass: 1800 kg, coastdown_f0: 150(3) N, coastdown_f1: 0 N s/m, coastdown_f2: 0.4 N s2/m2}
`)
	const want = "depends on them: drag_coefficient, frontal_area, rolling_coefficient."
	if !warned(p, want) {
		t.Errorf("want %q among %q", want, p.Warnings())
	}
}

// TestLeftOut has what cannot be computed named once, with the reason.
func TestLeftOut(t *testing.T) {
	p := planOf(t, `format: 1
inputs: {drag_coefficient: 0.23, frontal_area: 2.3 m2, rolling_coefficient: 0.008, usable_share: 95 %}
vehicles:
  a: {kerb_mass: 1900 kg, pack_mass: 450 kg, pack_energy: 80 kWh}
  b: {based_on: a, pack_energy: 85 kWh}
`)
	got := map[string]string{}
	for _, l := range p.LeftOut {
		got[l.Output] = l.Why
	}
	if got["b.label_range"] != "not given: b.test_mass" || got["b.kerb_mass"] != "b.kerb_mass is not given, nor what it could be computed from" {
		t.Errorf("left out: %q", got)
	}
	if !warned(p, "b does not take over kerb_mass and pack_mass") {
		t.Errorf("no reason among %q", p.Warnings())
	}
}

// TestLongChain plans 900 outputs, each made from the one before, in a time that
// grows with their number alone: seconds if each were followed to its root.
func TestLongChain(t *testing.T) {
	var text strings.Builder
	text.WriteString("format: 1\nmodel: formulas\ninputs: {x: {between: [0, 1]}}\noutputs:\n  y0: x\n")
	for i := range 899 {
		fmt.Fprintf(&text, "  y%d: x + y%d\n", i+1, i)
	}
	start := time.Now()
	p := planOf(t, text.String())
	if d := time.Since(start); len(p.Columns) != 901 || d > 3*time.Second {
		t.Errorf("%d columns after %v", len(p.Columns), d)
	}
}
