package sampling

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"testing"
)

// goldenDraws was taken on amd64. The same test as arm64, under qemu-user, must
// give it too; a change of it changes every study's results and must be meant.
const goldenDraws = "2a285041ef1127fd"

// TestGoldenDraws holds the bits of draws of every marginal through every
// design, from below and from above.
func TestGoldenDraws(t *testing.T) {
	all := family(t)
	for name, m := range discrete(t) {
		all[name] = m
	}
	names := make([]string, 0, len(all))
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	h := fnv.New64a()
	put := func(column []float64) {
		for _, v := range column {
			fmt.Fprintf(h, "%016x", math.Float64bits(v))
		}
	}
	u, x := make([]float64, 200), make([]float64, 200)
	for _, design := range []string{"latin short", "latin long", "random"} {
		d := designs(t)[design]
		for i, name := range names {
			d.Fill(u, "sample", name, i, i%d.Replicates(), 0)
			put(u)
			all[name].Fill(x, u)
			put(x)
			for j, q := range u[:50] {
				x[j] = all[name].QuantileUpper(q * 1e-3)
			}
			put(x[:50])
		}
	}
	if got := fmt.Sprintf("%016x", h.Sum64()); got != goldenDraws {
		t.Errorf("draws have the hash %s, want %s", got, goldenDraws)
	}
}
