package sensitivity

import (
	"fmt"
	"slices"
	"testing"
)

// A permutation is one, has its reverse beside it, depends on seed and block alone and
// has every order alike often: 24 orders in 24,000 pairs of blocks, chi-square with 23
// degrees of freedom, above 60 with a chance of 4e-5.
func TestPermutation(t *testing.T) {
	count := map[string]int{}
	order, reverse := make([]int, 4), make([]int, 4)
	for k := range 24000 {
		Permutation(order, 9, 2*k)
		Permutation(reverse, 9, 2*k+1)
		count[fmt.Sprint(order)]++
		slices.Reverse(reverse)
		if !slices.Equal(order, reverse) {
			t.Fatalf("pair %d: %v and reversed %v", k, order, reverse)
		}
		slices.Sort(reverse)
		if !slices.Equal(reverse, []int{0, 1, 2, 3}) {
			t.Fatalf("pair %d: %v is none", k, order)
		}
	}
	var chi float64
	for _, n := range count {
		chi += float64((n-1000)*(n-1000)) / 1000
	}
	if len(count) != 24 || chi > 60 {
		t.Errorf("%d orders, chi-square %g", len(count), chi)
	}
	long := make([]int, 10)
	Permutation(long, 2026, 12345678)
	if want := []int{6, 1, 3, 4, 9, 8, 2, 7, 5, 0}; !slices.Equal(long, want) {
		t.Errorf("got %v, frozen %v", long, want)
	}
}

// What a row costs beside the model's runs, a player.
func BenchmarkShapley(b *testing.B) {
	const n = 512
	random := newRandom(6)
	for _, d := range []int{3, 5, 10, 40} {
		order := permutations(d, 1)(0)
		fA, steps := independent(random, n, 1)[0], independent(random, n, d)
		sums := NewShapley(d, 1, replicates).NewSums()
		b.Run(fmt.Sprintf("add=walk/players=%d", d), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sums.AddWalk(0, order, fA, steps)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n*d), "ns/row-player")
		})
		if d > 5 {
			continue
		}
		subsets := independent(random, n, 1<<d-1)
		b.Run(fmt.Sprintf("add=subsets/players=%d", d), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sums.AddSubsets(0, fA, subsets)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n*d), "ns/row-player")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n*(1<<d-1)), "ns/run")
		})
	}
}
