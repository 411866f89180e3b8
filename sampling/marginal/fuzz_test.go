package marginal

import (
	"math"
	"testing"
)

// FuzzMarginal: whatever the parameters, a constructor refuses them or gives a
// marginal whose draws are numbers, in order and within the support.
func FuzzMarginal(f *testing.F) {
	f.Add(uint8(0), 1.0, 2.0, 3.0, 0.5, 2.5)
	f.Add(uint8(3), -1e-6, 0.0, 1e15, -math.MaxFloat64, math.Inf(1))
	f.Add(uint8(4), 0.0, 1e-320, 5e-324, 0.0, 1e-321)
	f.Add(uint8(5), 1e300, 1.0, 1e308, 0.0, 2.0)
	f.Add(uint8(30), 0.0, 1.25e-321, 556.0, -5.571428571428571, 2.6)
	f.Add(uint8(9), -67.0, 2e300, 1e308, 0.0, 1.0)
	f.Add(uint8('U'), -201.0, 1e300/3, 1e308/7, 0.0, 1.0)
	for kind := uint8(11); kind < 22; kind++ {
		f.Add(kind, 1.5, 2.5, 4.0, 0.5, 3.0)
		f.Add(kind, 0.01, 1e5, 1e-3, -1.0, 1e300)
		f.Add(kind, 2.1, 1e300, 1e-300, 0.0, math.Inf(1))
	}
	f.Fuzz(func(t *testing.T, kind uint8, a, b, c, low, high float64) {
		m, err := construct(kind, a, b, c)
		if err != nil {
			return
		}
		checkDraws(t, m)
		if cut, err := Truncate(m, low, high); err == nil {
			checkDraws(t, cut)
			if from, to := cut.Support(); from < low || to > high {
				t.Errorf("support %v to %v within %v to %v", from, to, low, high)
			}
		}
	})
}

func construct(kind uint8, a, b, c float64) (Marginal, error) {
	switch kind % 22 {
	case 0:
		return Between(a, b)
	case 1:
		return LogBetween(a, b)
	case 2:
		return Triangular(a, b, c)
	case 3:
		return PERT(a, b, c)
	case 4:
		return Normal(a, b)
	case 5:
		return LogNormal(a, b)
	case 6:
		return LogNormalMeanSD(a, b)
	case 7:
		return Likely(a, b)
	case 8:
		return Percentiles([]float64{0.1, 0.4, 0.95}, []float64{a, b, c})
	case 11:
		return Beta(a, b, 0, c)
	case 12:
		return Gamma(a, b, c)
	case 13:
		return Weibull(a, b, c)
	case 14:
		return Student(a, b, c)
	case 15:
		return Arcsine(a, b)
	case 16:
		return Trapezoidal(a, b, c, b+c)
	case 17:
		return CurvilinearTrapezoidal(a, b, c)
	case 18:
		return Readings([]float64{a, b, c, a})
	case 19:
		return Smoothed([]float64{a, b, a}, c)
	case 20:
		return TriangularEnds(a, b, c, 0.05, 0.9)
	case 21:
		return PERTEnds(a, b, c, 0.05, 0.9)
	case 9:
		return OneOf([]float64{a, b, c}, []float64{math.Abs(c), math.Abs(a), math.Abs(b)})
	}
	return Constant(a)
}

func checkDraws(t *testing.T, m Marginal) {
	t.Helper()
	low, high := m.Support()
	slack := 1e-13 * (math.Abs(m.Quantile(0.99)) + math.Abs(m.Quantile(0.01)) + m.SD())
	last := low
	for _, p := range []float64{0x1p-70, 1e-9, 0.01, 0.3, 0.5, 0.7, 0.99, 1 - 1e-9} {
		x := m.Quantile(p)
		if !(x >= low && x <= high) || math.IsInf(x, 0) || x < last-slack {
			t.Fatalf("%#v: quantile(%v) = %v after %v, support %v to %v", m, p, x, last, low, high)
		}
		last = x
		if c, s := m.CDF(x), m.Survival(x); !(c >= 0 && c <= 1 && s >= 0 && s <= 1) {
			t.Fatalf("%#v: at %v CDF %v and survival %v", m, x, c, s)
		}
	}
	if mean := m.Mean(); math.IsNaN(mean) || mean < low-slack || mean > high+slack {
		t.Fatalf("%#v: mean %v, support %v to %v", m, mean, low, high)
	}
	if sd := m.SD(); !(sd >= 0) || math.IsInf(sd, 0) {
		t.Fatalf("%#v: sd %v", m, sd)
	}
}
