package split

import (
	"math"
	"math/bits"
	"testing"
)

// TestSharesOfKnownGames: Shapley values that are known in closed form.
func TestSharesOfKnownGames(t *testing.T) {
	glove := func(s Set) float64 { // one left glove, two right ones: a pair is worth 1
		if s&1 != 0 && s&6 != 0 {
			return 1
		}
		return 0
	}
	majority := func(s Set) float64 { // weights 3, 2, 1, 1 of a quota of 4
		if weight := 3*float64(s&1) + 2*float64(s>>1&1) + float64(s>>2&1) + float64(s>>3&1); weight >= 4 {
			return 1
		}
		return 0
	}
	for name, c := range map[string]struct {
		value func(Set) float64
		want  []float64
	}{
		// Shapley (1953): both gloves on the right side share what is left; counted by hand
		// over the 6 orders.
		"glove": {glove, []float64{2. / 3, 1. / 6, 1. / 6}},
		// Counted by hand over the 24 orders: pivotal in 12, 4, 4, 4 of them.
		"majority": {majority, []float64{1. / 2, 1. / 6, 1. / 6, 1. / 6}},
		"nothing":  {func(Set) float64 { return 7 }, []float64{0, 0, 0}},
		"one":      {func(s Set) float64 { return 3 + 2*float64(s) }, []float64{2}},
		"none":     {func(Set) float64 { return 3 }, nil},
	} {
		got, wide := Shares(len(c.want), c.value)
		for i := range c.want {
			if math.Abs(got[i]-c.want[i]) > 1e-15 || wide[i] != 0 {
				t.Errorf("%s: %v +- %v, want %v", name, got, wide, c.want)
				break
			}
		}
	}
}

// TestSharesAddUp: whatever the game, with all combinations and with random orders.
func TestSharesAddUp(t *testing.T) {
	for changes := range 21 {
		value := func(s Set) float64 { return 1000 + 17*math.Sin(float64(s)*1.7) + float64(bits.OnesCount64(uint64(s))) }
		known := map[Set]bool{}
		for _, s := range Combinations(changes) {
			known[s] = true
		}
		got, _ := Shares(changes, func(s Set) float64 {
			if !known[s] {
				t.Fatalf("%d changes: %b is asked for and was not evaluated", changes, s)
			}
			return value(s)
		})
		sum := 0.0
		for _, x := range got {
			sum += x
		}
		if all := value(Set(1)<<changes-1) - value(0); math.Abs(sum-all) > 1e-12*1000 {
			t.Errorf("%d changes: %.17g, want %.17g", changes, sum, all)
		}
	}
}

// TestRandomOrdersNearAll: where pairs act together an order and its reverse give the exact
// value, so that random orders have no error at all; with triples they have one that the
// half-width tells.
func TestRandomOrdersNearAll(t *testing.T) {
	const changes = 9
	bit := func(s Set, i int) float64 { return float64(s >> i & 1) }
	pairs := func(s Set) float64 {
		x := 0.0
		for i := range changes {
			for k := range i {
				x += float64(i*k) * bit(s, i) * bit(s, k)
			}
			x += float64(i) * bit(s, i)
		}
		return x
	}
	got, wide := Shares(changes, pairs)
	exact := exactShares(changes, pairs)
	for i := range got {
		if math.Abs(got[i]-exact[i]) > 1e-10 || wide[i] > 1e-5 {
			t.Errorf("change %d: %g +- %g, exactly %g", i, got[i], wide[i], exact[i])
		}
	}
	triple := func(s Set) float64 { return 10 * bit(s, 0) * bit(s, 4) * bit(s, 8) }
	got, wide = Shares(changes, triple)
	exact = exactShares(changes, triple)
	for i := range got {
		// Four standard errors over 16 pairs: false alarms below 1 in 1000 a change.
		if math.Abs(got[i]-exact[i]) > 2*wide[i]+1e-12 {
			t.Errorf("change %d: %g +- %g, exactly %g", i, got[i], wide[i], exact[i])
		}
	}
}
