package study

import (
	"strings"
	"testing"
)

// TestWithinOfUnknownUnit: a value whose unit is wrong has one message, and none about
// the percentage beside it.
func TestWithinOfUnknownUnit(t *testing.T) {
	_, err := readText(t, Options{}, "format: 1\nmodel: formulas\ninputs: {a: {likely: 8 dm2, within: 4 %}}\noutputs: {b: a}\n")
	if err == nil || !strings.Contains(err.Error(), `"dm" is no unit`) || strings.Contains(err.Error(), "could be") {
		t.Errorf("got %v, want one message on dm", err)
	}
}
