package compare_test

import (
	"math"
	"strings"
	"testing"
)

// What was measured since is a change of its own: it is listed, no input counts as changed,
// and it alone is the cause of what moved, to the weighted figures of both tables.
func TestMeasuredSince(t *testing.T) {
	const study = `format: 1
model: formulas
sample: {rows: 4096}
indices: none
inputs: {x: {normal: {mean: 10 kg, sd: 1 kg}}, u: {between: [0 kg, 1 kg]}}
outputs: {y: {formula: x + u}}
claims: {heavy: {holds: y >= 11 kg}}
`
	old := ran(t, study)
	new := ran(t, study+"measured: [{of: y, value: 11.4(4) kg, source: a scale}]\n")
	c := compared(t, old, new)
	if len(c.Inputs) != 0 || len(c.Facts) != 1 || c.Facts[0].Of != "y" || c.Facts[0].Before != "" || c.Facts[0].After != "11.4(4) kg" {
		t.Fatalf("inputs %+v, facts %+v", c.Inputs, c.Facts)
	}
	addsUp(t, c)
	by := causes(c.Claims[0].Chance)["measured"]
	if want := *c.Claims[0].Chance.By; math.Abs(by-want) > 1e-9 || want < 0.2 {
		t.Errorf("measured moved the chance by %g, the tables say %g", by, want)
	}
	y := output(t, c, "y")
	if by, want := causes(y.Middle)["measured"], *y.Middle.By; math.Abs(by-want) > 1e-9*math.Abs(want) {
		t.Errorf("measured moved the middle by %g, the tables say %g", by, want)
	}
	if text := told(t, c); !strings.Contains(text, "one measured fact changed") || !strings.Contains(text, "new: 11.4(4) kg") {
		t.Errorf("told as:\n%s", text)
	}
	if back := compared(t, new, old); len(back.Facts) != 1 || back.Facts[0].After != "" {
		t.Errorf("the other way round: %+v", back.Facts)
	}
}
