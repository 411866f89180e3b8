package estimate

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// paged is a column that is handed on in pieces of 100 rows.
type paged []float64

func (p paged) Rows() int { return len(p) }

func (p paged) Each(from, to int, f func(piece []float64) error) error {
	for ; from < to; from += 100 {
		if err := f(p[from:min(from+100, to)]); err != nil {
			return err
		}
	}
	return nil
}

// A column that is not kept has the bits of one that is, whatever its shape: normal, with
// ties, of whole numbers, nearly constant, with far outliers, with infeasible rows.
func TestDescribeBeyondMemory(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 22))
	shapes := map[string]func() float64{
		"normal":   func() float64 { return 2000 + 20*random.NormFloat64() },
		"whole":    func() float64 { return math.Floor(7 * random.Float64()) },
		"counts":   func() float64 { return math.Floor(5000 * random.Float64()) },
		"two":      func() float64 { return math.Floor(1.3 * random.Float64()) },
		"seldom":   func() float64 { return max(0, random.NormFloat64()-2.9) },
		"constant": func() float64 { return 7.3 },
		"outliers": func() float64 { return math.Exp(40 * random.NormFloat64()) },
		"signs":    func() float64 { return math.Copysign(math.Exp(9*random.NormFloat64()), random.Float64()-0.5) },
		"nearly":   func() float64 { return 1e9 + 1e-7*math.Floor(3*random.Float64()) },
		"holes": func() float64 {
			if random.Float64() < 0.3 {
				return math.NaN()
			}
			return random.NormFloat64()
		},
	}
	for name, draw := range shapes {
		x := make([]float64, 20_011)
		for i := range x {
			x[i] = draw()
		}
		for _, d := range []Rows{equal(len(x), 16), equal(len(x), 3), {Independent: true}} {
			want := mustDescribe(t, x, d)
			for _, limit := range []int{40, 700, 5000} {
				got, err := DescribeColumn(paged(x), d, Options{}, &Scratch{limit: limit})
				if err != nil {
					t.Fatal(err)
				}
				if !same(got, want) {
					t.Errorf("%s, %d replicates, %d kept:\n%+v, want\n%+v", name, len(d.Bounds)-1, limit, got, want)
				}
			}
		}
	}
}

// figures are all numbers of a summary.
func figures(s Summary) []float64 {
	return []float64{float64(s.Rows), float64(s.Infeasible), s.Mean, s.MeanInterval.Low, s.MeanInterval.High, s.SD, s.SDInterval.Low, s.SDInterval.High, s.Skewness,
		s.Min, s.Max, s.P01, s.P05, s.P10, s.P25, s.P50, s.P75, s.P90, s.P95, s.P99,
		s.P05Interval.Low, s.P05Interval.High, s.P50Interval.Low, s.P50Interval.High, s.P95Interval.Low, s.P95Interval.High,
		s.CoverLow, s.CoverHigh, s.ShortestLow, s.ShortestHigh}
}

// same compares what may be NaN.
func same(a, b Summary) bool {
	x, y := figures(a), figures(b)
	for i := range x {
		if math.Float64bits(x[i]) != math.Float64bits(y[i]) {
			return false
		}
	}
	return a.Method == b.Method
}

// broken fails on its n-th reading.
type broken struct {
	paged
	left *int
}

var errBroken = errors.New("broken")

func (b broken) Each(from, to int, f func(piece []float64) error) error {
	if *b.left--; *b.left < 0 {
		return errBroken
	}
	return b.paged.Each(from, to, f)
}

func TestDescribeUnreadable(t *testing.T) {
	x := make([]float64, 4000)
	for i := range x {
		x[i] = float64(i * i % 997)
	}
	for n, failed := 0, true; failed; n++ {
		left := n
		_, err := DescribeColumn(broken{x, &left}, equal(len(x), 4), Options{}, &Scratch{limit: 500})
		if failed = left < 0; failed != (err != nil) || failed && !errors.Is(err, errBroken) {
			t.Fatalf("reading %d: %v", n, err)
		}
	}
}
