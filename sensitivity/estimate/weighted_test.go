package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// A weighted column that is not kept says what one that is says, to the rounding of its sums,
// whatever its shape; its shortest interval has the coverage and is as short, but for what the
// spaced rows leave.
func TestWeightedBeyondMemory(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 32))
	shapes := map[string]func() float64{
		"normal":   func() float64 { return 2000 + 20*random.NormFloat64() },
		"counts":   func() float64 { return math.Floor(5000 * random.Float64()) },
		"two":      func() float64 { return math.Floor(1.3 * random.Float64()) },
		"seldom":   func() float64 { return max(0, random.NormFloat64()-2.9) },
		"constant": func() float64 { return 7.3 },
		"signs":    func() float64 { return math.Copysign(math.Exp(9*random.NormFloat64()), random.Float64()-0.5) },
		"holes": func() float64 {
			if random.Float64() < 0.3 {
				return math.NaN()
			}
			return random.NormFloat64()
		},
	}
	for name, draw := range shapes {
		x, w := make([]float64, 20_011), make([]float64, 20_011)
		for i := range x {
			x[i], w[i] = draw(), max(0, random.ExpFloat64()-0.1)
		}
		for _, d := range []Rows{equal(len(x), 16), {Independent: true}} {
			want := mustDescribe(t, x, d.Weighted(w))
			for _, limit := range []int{40, 700, 5000} {
				d.Weights = paged(w)
				got, err := DescribeColumn(paged(x), d, Options{}, &Scratch{limit: limit})
				if err != nil {
					t.Fatal(err)
				}
				a, b := figures(got), figures(want)
				for i := range a[:len(a)-2] {
					if math.Abs(a[i]-b[i]) > 1e-9*(math.Abs(b[i])+want.SD) || (a[i] != a[i]) != (b[i] != b[i]) {
						t.Errorf("%s, %d kept: figure %d is %g, want %g", name, limit, i, a[i], b[i])
					}
				}
				if got.Method != want.Method {
					t.Errorf("%s: method %s, want %s", name, got.Method, want.Method)
				}
				if limit >= 5000 && !want.shorter(&got, x, w) { // of few rows it is found by chance
					t.Errorf("%s, %d kept: shortest %g to %g, of all rows %g to %g", name, limit, got.ShortestLow, got.ShortestHigh, want.ShortestLow, want.ShortestHigh)
				}
			}
		}
	}
}

// shorter tells whether the other's shortest interval holds 95 % and is hardly longer.
func (s *Summary) shorter(o *Summary, x, w []float64) bool {
	var inside, all float64
	for i, v := range x {
		if v == v {
			all += w[i]
			if v >= o.ShortestLow && v <= o.ShortestHigh {
				inside += w[i]
			}
		}
	}
	return inside/all > 0.9495 && o.ShortestHigh-o.ShortestLow <= 1.2*(s.ShortestHigh-s.ShortestLow)
}

// Weights need not be in memory for the shape of their tail.
func TestHealthKeepsTheTail(t *testing.T) {
	random := rand.New(rand.NewPCG(33, 34))
	w := make([]float64, 30_000)
	for i := range w {
		w[i] = math.Exp(random.NormFloat64())
	}
	want, err := WeightHealth(paged(w))
	if err != nil {
		t.Fatal(err)
	}
	for _, sort := range []func([]float64){slices.Sort[[]float64], slices.Reverse[[]float64]} {
		sort(w)
		got, err := WeightHealth(paged(w))
		if err != nil || got.ParetoK != want.ParetoK || math.Abs(got.ESS-want.ESS) > 1e-6 {
			t.Errorf("%+v, %v; in another order %+v", got, err, want)
		}
	}
}
