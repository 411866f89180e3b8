//go:build long

package sequential

import (
	"math"
	"testing"
)

// TestTemperingCovers: intervals of the mean, of a chance and of the evidence hold the exact ones
// in 88 of 100 seeds at least, where 95 are meant (of a true 92, what was measured before this
// test, fewer in 1 of 10 runs with other seeds; these are fixed).
func TestTemperingCovers(t *testing.T) {
	const seeds = 60
	c := conjugate{3 * math.Sqrt2, math.Sqrt2 / 36}
	mean, _, evidence := c.posterior()
	var means, chances, evidences int
	for seed := range uint64(seeds) {
		state, populations, _ := tempered(200+seed, 2, 256, c.log)
		if m, half := meanAfter(state, populations, sumOf); math.Abs(m-mean) <= half {
			means++
		}
		if p, half := meanAfter(state, populations, c.chance); math.Abs(p-0.5) <= half {
			chances++
		}
		each := make([]float64, len(state.LogZ))
		for k, l := range state.LogZ {
			each[k] = math.Exp(l - evidence)
		}
		if z, half := told(each); math.Abs(z-1) <= half {
			evidences++
		}
	}
	t.Logf("of %d: mean %d, chance %d, evidence %d", seeds, means, chances, evidences)
	for what, n := range map[string]int{"mean": means, "chance": chances, "evidence": evidences} {
		if n < seeds*88/100 {
			t.Errorf("%s covered in %d of %d", what, n, seeds)
		}
	}
}
