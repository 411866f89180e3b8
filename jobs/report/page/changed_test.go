package page_test

import (
	"context"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/compare"
	"proofmass/jobs/report/page"
	"proofmass/jobs/study"
)

const before = `format: 1
study: tank
model: formulas
inputs: {roof: 80 m2, rain: {between: [20 mm, 60 mm]}, loss: {between: [5 %, 25 %]}}
outputs: {caught: {formula: roof * rain * (1 - loss), unit: l}}
claims: {enough: {holds: caught > 2000 l}, plenty: {of: caught, announced: 4900 l, sense: at_least}}
sample: {rows: 2048}
indices: none
`

func since(t *testing.T, old, new string) *compare.Comparison {
	t.Helper()
	c, err := compare.Read(context.Background(), old, new, compare.Options{Version: jobs.Version,
		Read: func(path string) (*study.Study, error) { return jobs.Read(path, study.Options{}) }})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestChangedSince: the page opens with what changed, in the words of the terminal, and a
// stranger's text in it stays text.
func TestChangedSince(t *testing.T) {
	old := ran(t, before)
	later := ran(t, strings.NewReplacer("roof: 80 m2", `roof: {value: 35 m2, source: "<script>alert(1)</script> \u202e measured"}`, "[5 %, 25 %]", "[5 %, 15 %]").Replace(before))
	c := since(t, old, later)
	text, err := page.RenderSince(later, c)
	if err != nil {
		t.Fatal(err)
	}
	wellFormed(t, string(text))
	first := string(text[strings.Index(string(text), "<section"):])
	for _, want := range []string{`<section id="changed"`, "two inputs changed", "enough moved from in doubt to falls", "roof", "between 5 % and 25 %", "between 5 % and 15 %",
		"&lt;script&gt;alert(1)&lt;/script&gt;", "Shapley", "f1-before", "f2-causes", "in 100 draws"} {
		if !strings.Contains(first, want) {
			t.Errorf("lacks %q", want)
		}
	}
	if strings.Contains(string(text), "\u202e") || strings.Contains(string(text), "<script>alert") {
		t.Error("a stranger's text is more than text")
	}
	if plain := drawn(t, later); strings.Contains(plain, `id="changed"`) {
		t.Error("without an older result nothing changed since one")
	}
	alone, err := page.RenderComparison(c)
	if err != nil {
		t.Fatal(err)
	}
	wellFormed(t, string(alone))
	if !strings.Contains(string(alone), `<section id="changed"`) || !strings.Contains(string(alone), `<section id="beware"`) || strings.Contains(string(alone), `<section id="verdicts"`) {
		t.Error("the page of a comparison has other sections")
	}
	if n, err := page.WriteFigures(later, []string{"svg"}, c); err != nil || n < 4 {
		t.Errorf("%d figures, %v", n, err)
	}
}

// TestNothingChangedSince: the same result again.
func TestNothingChangedSince(t *testing.T) {
	old, later := ran(t, before), ran(t, before)
	text, err := page.RenderSince(later, since(t, old, later))
	if err != nil || !strings.Contains(string(text), "no inputs changed; no verdict moved") || !strings.Contains(string(text), "No line of the study that numbers depend on has changed") {
		t.Errorf("%v", err)
	}
	wellFormed(t, string(text))
}
