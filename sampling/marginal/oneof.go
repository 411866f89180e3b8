package marginal

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// oneOf holds the values in ascending order; below[k] is the chance of values
// 0..k, above[k] that of values k+1 and up, each summed from its own end.
type oneOf struct {
	values       []float64
	weights      []float64 // sum 1
	below, above []float64
}

// OneOf returns the distribution that takes one of the values, each with a
// chance in proportion to its weight; nil weights make all equally likely.
// Weights are at least 0 and not all 0; a value given twice counts twice.
// Values are ordered, whatever their order in the call: a larger u never gives
// a smaller value. The slices are not kept.
func OneOf(values, weights []float64) (Marginal, error) {
	if len(values) == 0 {
		return nil, fmt.Errorf("there is no value to choose from; at least one is needed")
	}
	if weights == nil {
		weights = slices.Repeat([]float64{1}, len(values))
	}
	if len(weights) != len(values) {
		return nil, fmt.Errorf("got %d values and %d weights; each value needs one", len(values), len(weights))
	}
	largest := 0.0
	for i, w := range weights {
		if err := checkFinite(parameter{"a value", values[i]}, parameter{"a weight", w}); err != nil {
			return nil, err
		}
		if w < 0 {
			return nil, fmt.Errorf("the weight %v of the value %v must not be negative", w, values[i])
		}
		largest = max(largest, w)
	}
	if largest == 0 {
		return nil, fmt.Errorf("all weights are 0; at least one must be above 0")
	}
	return newOneOf(values, weights, largest), nil
}

// newOneOf sorts, joins equal values and drops those that can't occur.
func newOneOf(values, weights []float64, largest float64) Marginal {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	m := new(oneOf)
	for _, i := range order {
		w := weights[i] / largest // so that no sum can overflow
		switch last := len(m.values) - 1; {
		case w == 0:
		case last >= 0 && m.values[last] == values[i]:
			m.weights[last] += w
		default:
			m.values, m.weights = append(m.values, values[i]), append(m.weights, w)
		}
	}
	m.cumulate()
	return m
}

func (m *oneOf) cumulate() {
	n := len(m.values)
	total := 0.0
	for _, w := range m.weights {
		total += w
	}
	m.below, m.above = make([]float64, n), make([]float64, n)
	sum := 0.0
	for k := range n {
		m.weights[k] /= total
		sum += m.weights[k]
		m.below[k] = min(sum, 1)
	}
	m.below[n-1] = 1
	for k := n - 2; k >= 0; k-- {
		m.above[k] = min(m.above[k+1]+m.weights[k+1], 1)
	}
}

func (m *oneOf) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

// at returns the first value with p < below; a draw of exactly a limit belongs
// to the value above it.
func (m *oneOf) at(p float64) float64 {
	lo, hi := 0, len(m.below)-1
	for lo < hi {
		mid := (lo + hi) / 2
		if p < m.below[mid] {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return m.values[lo]
}

func (m *oneOf) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

// QuantileUpper returns the first value above which the chance is below q.
func (m *oneOf) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	k := 0
	for k < len(m.above)-1 && m.above[k] >= q {
		k++
	}
	return m.values[k]
}

// rank returns how many values are at most x.
func (m *oneOf) rank(x float64) int {
	k, found := slices.BinarySearch(m.values, x)
	if found {
		k++
	}
	return k
}

func (m *oneOf) CDF(x float64) float64 {
	k := m.rank(x)
	if k == 0 {
		return 0
	}
	return m.below[k-1]
}

func (m *oneOf) Survival(x float64) float64 {
	k := m.rank(x)
	if k == 0 {
		return 1
	}
	return m.above[k-1]
}

func (m *oneOf) Mean() float64 {
	base := m.values[0] // differences keep a narrow spread about a large value
	sum := 0.0
	for k, v := range m.values {
		sum += float64(m.weights[k] * (v - base))
	}
	return base + sum
}

func (m *oneOf) SD() float64 {
	mean := m.Mean()
	scale := max(mean-m.values[0], m.values[len(m.values)-1]-mean) // so that no square overflows
	if scale <= 0 {
		return 0
	}
	sum := 0.0
	for k, v := range m.values {
		d := (v - mean) / scale
		sum += float64(m.weights[k] * d * d)
	}
	return float64(scale * math.Sqrt(sum))
}

func (m *oneOf) Support() (low, high float64) { return m.values[0], m.values[len(m.values)-1] }

// within returns the distribution of the values in [low, high], nil if none.
func (m *oneOf) within(low, high float64) Marginal {
	var values, weights []float64
	for k, v := range m.values {
		if v >= low && v <= high {
			values, weights = append(values, v), append(weights, m.weights[k])
		}
	}
	if len(values) == 0 {
		return nil
	}
	return newOneOf(values, weights, slices.Max(weights))
}
