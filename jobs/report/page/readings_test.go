package page_test

import (
	"strings"
	"testing"
)

// What a claim could mean has a section with a figure and its numbers, and the most compatible
// readings of all claims; a study whose claims say what they are of has none.
func TestWhatWasMeant(t *testing.T) {
	const study = `format: 1
model: formulas
sample: {rows: 4096}
inputs: {x: {normal: {mean: 10 kg, sd: 1 kg}}, u: {between: [2 kg, 3 kg]}}
outputs: {y: {formula: x}, whole: {formula: x + u}}
claims: {heavy: {of: y, announced: 12 kg, sense: at_least, could_mean: [whole]}}
`
	text := drawn(t, ran(t, study))
	for _, want := range []string{`id="meant"`, "they hold together most often with heavy as whole", "heavy, if whole &gt;= 12 kg: ", "readings, each reading of a claim once", ">whole</t"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q", want)
		}
	}
	if none := drawn(t, ran(t, strings.Replace(study, ", could_mean: [whole]", "", 1))); strings.Contains(none, `id="meant"`) {
		t.Error("a section of readings where nothing could mean anything else")
	}
}
