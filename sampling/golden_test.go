package sampling

import (
	"fmt"
	"hash/fnv"
	"maps"
	"math"
	"slices"
	"testing"
)

// goldenDraws was taken on amd64. The same test as arm64, under qemu-user, must
// give it too; a change of it changes every study's results and must be meant.
const goldenDraws = "f77c8d38c050e066"

// goldenSecondDraws is that of the marginals that came later.
const goldenSecondDraws = "3a4068d5f7513933"

// TestGoldenDraws holds the bits of draws of every marginal through every
// design, from below and from above.
func TestGoldenDraws(t *testing.T) {
	first := firstFamily(t)
	maps.Copy(first, discrete(t))
	if got := hashOfDraws(t, first); got != goldenDraws {
		t.Errorf("draws have the hash %s, want %s", got, goldenDraws)
	}
	second := secondFamily(t)
	values, err := Resampled([]float64{3, 1, 2, 2, 1e15})
	second["resampled"] = must(t, values, err)
	if got := hashOfDraws(t, second); got != goldenSecondDraws {
		t.Errorf("draws of the second family have the hash %s, want %s", got, goldenSecondDraws)
	}
}

func hashOfDraws(t *testing.T, all map[string]Marginal) string {
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
	return fmt.Sprintf("%016x", h.Sum64())
}
