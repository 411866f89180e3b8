package estimate

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The order is that of a stable sort by comparing, with ties, both zeros, values that
// are not finite and rows that are not kept.
func TestOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 9))
	for _, n := range []int{0, 1, 2, 300, 511, 512, 5000} {
		x := make([]float64, n)
		for i := range x {
			switch random.IntN(6) {
			case 0:
				x[i] = math.Copysign(0, float64(random.IntN(2))-0.5)
			case 1:
				x[i] = float64(random.IntN(5) - 2)
			case 2:
				x[i] = []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, -5e-324}[random.IntN(5)]
			default:
				x[i] = random.NormFloat64() * math.Pow(10, float64(random.IntN(20)-10))
			}
		}
		keep := func(row int) bool { return row%7 != 3 }
		var want []int32
		for row, v := range x {
			if keep(row) && !math.IsNaN(v) && !math.IsInf(v, 0) {
				want = append(want, int32(row))
			}
		}
		slices.SortStableFunc(want, func(a, b int32) int { return cmp.Compare(x[a], x[b]) })
		var got []int32
		InOrder(x, keep, func(order []Place) {
			for _, p := range order {
				got = append(got, p.Row)
			}
		})
		if !slices.Equal(got, want) {
			t.Errorf("%d rows: the order differs from that of comparing", n)
		}
		InOrder(x, nil, func(all []Place) {
			if len(all) < len(want) {
				t.Errorf("%d rows: %d of them without a choice", n, len(all))
			}
		})
	}
}

func BenchmarkOrder(b *testing.B) {
	random := rand.New(rand.NewPCG(4, 9))
	x := make([]float64, 131_072)
	for i := range x {
		x[i] = random.NormFloat64()
	}
	for b.Loop() {
		InOrder(x, nil, func([]Place) {})
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(x)), "ns/row")
}
