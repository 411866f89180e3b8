package marginal

import (
	"fmt"
	"math"
	"proofmass/sampling/portable"
	"slices"
)

// Limits of data that a distribution is made of.
const (
	mostValues   = 1_000_000
	mostSmoothed = 100_000
)

// resampled holds the values in ascending order, equal ones as often as they came.
type resampled struct{ x []float64 }

// Resampled returns the distribution that takes each of the values, equally often:
// what was observed and nothing between or beyond. At most 1,000,000 values. The
// slice is not kept.
func Resampled(values []float64) (Marginal, error) {
	if err := checkValues(values, mostValues); err != nil {
		return nil, err
	}
	x := slices.Clone(values)
	slices.Sort(x)
	return &resampled{x}, nil
}

func checkValues(values []float64, most int) error {
	if len(values) == 0 {
		return fmt.Errorf("there is no value; at least one is needed")
	}
	if len(values) > most {
		return fmt.Errorf("%d values; at most %d are allowed", len(values), most)
	}
	for _, v := range values {
		if err := checkFinite(parameter{"a value", v}); err != nil {
			return err
		}
	}
	return nil
}

// at returns the value of rank floor(np); a draw of exactly a limit belongs to
// the value above it.
func (m *resampled) at(p float64) float64 {
	return m.x[min(int(float64(p*float64(len(m.x)))), len(m.x)-1)]
}

func (m *resampled) upper(q float64) float64 {
	n := len(m.x)
	return m.x[min(n-int(math.Ceil(float64(q*float64(n)))), n-1)]
}

func (m *resampled) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m *resampled) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

func (m *resampled) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m *resampled) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

// rank returns how many values are at most x.
func (m *resampled) rank(x float64) int {
	k, _ := slices.BinarySearchFunc(m.x, x, func(v, x float64) int {
		if v <= x {
			return -1
		}
		return 1
	})
	return k
}

func (m *resampled) CDF(x float64) float64 { return float64(m.rank(x)) / float64(len(m.x)) }

func (m *resampled) Survival(x float64) float64 {
	return float64(len(m.x)-m.rank(x)) / float64(len(m.x))
}

func (m *resampled) Mean() float64 {
	sum := portable.Pair{}
	for _, v := range m.x {
		sum = sum.Plus(portable.Pair{Hi: (v - m.x[0]) / float64(len(m.x))})
	}
	return m.x[0] + sum.Hi
}

// SD is that of drawing: the mean square is over n, not n-1.
func (m *resampled) SD() float64 {
	mean, span := m.Mean(), m.x[len(m.x)-1]-m.x[0]
	if span == 0 {
		return 0
	}
	sum := portable.Pair{} // in units of the span no square overflows
	for _, v := range m.x {
		d := (v - mean) / span
		sum = sum.Plus(portable.Pair{Hi: float64(d * d)})
	}
	return float64(span * math.Sqrt(sum.Hi/float64(len(m.x))))
}

func (m *resampled) Support() (low, high float64) { return m.x[0], m.x[len(m.x)-1] }

// within returns the values in [low, high], nil if none.
func (m *resampled) within(low, high float64) Marginal {
	from, _ := slices.BinarySearch(m.x, low)
	to := m.rank(high)
	if from >= to {
		return nil
	}
	return &resampled{m.x[from:to]}
}
