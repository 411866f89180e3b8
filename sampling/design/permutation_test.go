package design

import (
	"math"
	"slices"
	"testing"
)

func (p *permutation) all() []uint64 {
	out := make([]uint64, p.n)
	for from := 0; from < len(out); from += batch {
		p.images(out[from:min(from+batch, len(out))], uint64(from))
	}
	return out
}

func TestPermutationIsBijection(t *testing.T) {
	var p permutation
	for _, n := range []int{1, 2, 3, 16, 255, 256, 257, 1000, 1023, 1024, 1025, 4097, 65536, 100003} {
		for k := range Key(3) {
			p.set(NewKey(uint64(k)), n)
			seen := make([]bool, n)
			for i, j := range p.all() {
				if j >= uint64(n) || seen[j] {
					t.Fatalf("n=%d key %d: image %d of %d is out of range or taken", n, k, j, i)
				}
				seen[j] = true
			}
		}
	}
}

// TestPermutationVectors: the network computed by an independent program (in
// Python, from the description in the comment of permutation) for the key that
// folding 1 and 0 into seed 42 gives.
func TestPermutationVectors(t *testing.T) {
	k := Key(mix(42 + golden)).With(1).With(0)
	if k != 10772730929602851287 {
		t.Fatalf("key %d, want 10772730929602851287", k)
	}
	var p permutation
	for n, want := range map[int][]uint64{
		1000: {919, 150, 508, 936, 630, 293, 336, 991},
		4097: {1534, 850, 1665, 1953, 1981, 1290, 597, 3120},
	} {
		p.set(k, n)
		if got := p.all()[:len(want)]; !slices.Equal(got, want) {
			t.Errorf("n=%d: images %v, want %v", n, got, want)
		}
	}
}

// TestPermutationsUnrelated: the rank correlation of two random permutations
// has mean 0 and sd 1/sqrt(n-1). Over 1000 pairs, false alarm below 1e-6 for
// the mean (5 se) and about 1e-6 for the sd (5 of its relative se, 1/sqrt(2000)).
func TestPermutationsUnrelated(t *testing.T) {
	const pairs = 1000
	var p, q permutation
	for _, n := range []int{5, 16, 64, 256, 257, 1000} {
		sum, square := 0.0, 0.0
		for i := range uint64(pairs) {
			p.set(NewKey(11).With(2*i), n)
			q.set(NewKey(11).With(2*i+1), n)
			c, mid := 0.0, float64(n-1)/2
			images := q.all()
			for j, v := range p.all() {
				c += (float64(v) - mid) * (float64(images[j]) - mid)
			}
			c /= float64(n) * (float64(n)*float64(n) - 1) / 12
			sum += c
			square += c * c
		}
		want := 1 / math.Sqrt(float64(n-1))
		mean, sd := sum/pairs, math.Sqrt(square/pairs)
		if math.Abs(mean) > 5*want/math.Sqrt(pairs) || math.Abs(sd/want-1) > 5/math.Sqrt(2*pairs) {
			t.Errorf("n=%d: correlation has mean %.4f, sd %.4f; want 0, %.4f", n, mean, sd, want)
		}
	}
}

// TestShuffleIsUniform: all 24 orders of 4 alike likely; chi-square of 23
// degrees over 24000 keys, limit 74.5 with false alarm 2.4e-7 (computed from the
// incomplete gamma function).
func TestShuffleIsUniform(t *testing.T) {
	const keys = 24000
	count := map[[4]uint64]float64{}
	var p permutation
	for i := range uint64(keys) {
		p.set(NewKey(3).With(i), 4)
		count[[4]uint64(p.all())]++
	}
	chi := 0.0
	for _, c := range count {
		chi += (c - keys/24) * (c - keys/24) / (keys / 24)
	}
	if len(count) != 24 || chi > 74.5 {
		t.Errorf("%d orders, chi-square %.1f; want 24, below 74.5", len(count), chi)
	}
}
