package page_test

import (
	"strings"
	"testing"
)

// What was measured has a section with a figure and its numbers; the draws that the page shows
// are those that count, and a fact that contradicts is said to before all else of it.
func TestEvidence(t *testing.T) {
	const study = `format: 1
model: formulas
sample: {rows: 4096}
inputs: {x: {normal: {mean: 10 kg, sd: 1 kg}}, u: {between: [0 kg, 1 kg]}}
outputs: {y: {formula: x + u}}
claims: {heavy: {of: y, announced: 11 kg, sense: at_least}}
measured:
  - {of: y, value: 12.4(2) kg, source: "<b>a scale</b>"}
`
	text := drawn(t, ran(t, study))
	for _, want := range []string{`id="evidence"`, "One fact from outside was taken in.", "12.4(2) kg, by &lt;b&gt;a scale&lt;/b&gt;", "evidence, summary_before, summary", "chance of heavy"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q", want)
		}
	}
	if odd := drawn(t, ran(t, strings.Replace(study, "12.4(2)", "14.6(4)", 1))); !strings.Contains(odd, "contradicts what else is believed") {
		t.Error("a reading 4 standard deviations off is not said to contradict")
	}
	if none := drawn(t, ran(t, study[:strings.Index(study, "measured")])); strings.Contains(none, `id="evidence"`) {
		t.Error("a section of what was measured where nothing was")
	}
}
