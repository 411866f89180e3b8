package page_test

import (
	"strings"
	"testing"

	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
)

// TestFewCount: where so few draws still count after what was measured (a reading that is only a
// range: draws can not be moved to it) that the ends of nine
// in ten are not told, the page and the terminal say so, and show the middles.
func TestFewCount(t *testing.T) {
	folder := ran(t, `format: 1
study: few-count
model: formulas
sample: {rows: 4096}
indices: none
inputs: {x: {normal: {mean: 10 kg, sd: 1 kg}}, u: {between: [2 kg, 3 kg]}, w: {between: [0.9, 1.1]}}
outputs: {y: {formula: x*w, unit: kg}, whole: {formula: x + u, unit: kg}}
claims: {heavy: {of: y, announced: 11 kg, sense: at_least}, light: {of: whole, announced: 14 kg, sense: at_most}}
measured:
  - {of: y, between: [12.2 kg, 12.6 kg]}
`)
	if r := readTables(t, folder).summary["y"]; r.P05 == r.P05 || r.P50 != r.P50 {
		t.Fatalf("the test proves nothing: p05 %v, p50 %v", r.P05, r.P50)
	}
	text := drawn(t, folder)
	for _, want := range []string{"middle 12.", report.TooFewCount, `id="large"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(text, "NaN") || strings.Contains(text, "– to –") {
		t.Error("a number that is none stands on the page")
	}
	if _, err := page.WriteFigures(folder, []string{"svg"}, nil); err != nil {
		t.Error(err)
	}
	a, err := report.Read(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, full := range []bool{false, true} {
		var told strings.Builder
		if err := a.Text(&told, report.TextOptions{Full: full}); err != nil || strings.Contains(told.String(), "- to -") || !strings.Contains(told.String(), "too few") {
			t.Errorf("%v, the terminal says %s", err, told.String())
		}
	}
}
