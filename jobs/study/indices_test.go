package study

import (
	"slices"
	"strings"
	"testing"
)

// Of what indices may be wanted; what is refused is among the wrong studies.
func TestIndicesOf(t *testing.T) {
	const formulas = `format: 1
model: formulas
inputs: {a: {between: [0, 1]}, k: 3, f: {formula: a + k}}
outputs: {y: f / 2, z: y + k}
claims: {low: {holds: z <= k}, sure: {holds: k > 1}}
indices: {of: `
	for _, c := range []struct {
		study string
		want  []string
	}{
		{formulas + "[f, z, y]}\n", []string{"f", "z", "y"}}, // a formula is computed, whatever it is called
		{formulas + "[low, all_claims]}\n", []string{"low", "all_claims"}},
		{strings.Replace(groupStudy, "half_width: 0.05", "of: [bonded.label_range, light]", 1) +
			"claims: {light: {of: bonded.pack_mass_change, announced: -5 %, sense: at_most}}\n", []string{"bonded.label_range", "light"}},
	} {
		if s := mustRead(t, Options{}, c.study); !slices.Equal(s.Indices.Of, c.want) {
			t.Errorf("indices of %v, want %v", s.Indices.Of, c.want)
		}
	}
}
