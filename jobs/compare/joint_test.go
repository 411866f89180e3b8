package compare_test

import (
	"slices"
	"strings"
	"testing"
)

// Two studies of other claims have no joint chance in common: each is of other things.
func TestNoJointChanceOfOtherClaims(t *testing.T) {
	const head = "format: 1\nmodel: formulas\nsample: {rows: 1024}\nindices: none\ninputs: {load: {between: [4 kg, 5 kg]}}\noutputs: {y: 2 * load}\nclaims:\n"
	old := ran(t, head+"  light: {holds: y < 9 kg}\n  heavy: {holds: y > 8.5 kg}\n")
	other := ran(t, head+"  small: {holds: y < 9 kg}\n  great: {holds: y > 8.5 kg}\n")
	if c := compared(t, old, other); len(c.Claims) != 0 {
		t.Errorf("%d claims are compared, of none in common: %s", len(c.Claims), c.Claims[0].Name)
	}
	if c := compared(t, old, old); len(c.Claims) != 3 {
		t.Errorf("%d claims are compared, of two in common and both together", len(c.Claims))
	}
}

// Nor have two of which one claims more: what they share is compared, and it is said why the
// rest is not.
func TestNoJointChanceOfPartlyOtherClaims(t *testing.T) {
	const head = "format: 1\nmodel: formulas\nsample: {rows: 1024}\nindices: none\ninputs: {load: {between: [4 kg, 5 kg]}}\noutputs: {y: 2 * load}\nclaims:\n  light: {holds: y < 9 kg}\n  heavy: {holds: y > 8.5 kg}\n"
	old, more := ran(t, head), ran(t, head+"  great: {holds: y > 9.5 kg}\n")
	c := compared(t, old, more)
	if len(c.Claims) != 2 || c.Claims[0].Name != "light" || c.Claims[1].Name != "heavy" {
		t.Errorf("%d claims are compared, want the two in common", len(c.Claims))
	}
	if !slices.ContainsFunc(c.Notes, func(note string) bool { return strings.Contains(note, "all claims together is not compared") }) {
		t.Errorf("it is not said why all together is not compared: %q", c.Notes)
	}
}
