package marginal

import "math"

type between struct{ low, high, span float64 }

// Between returns the uniform distribution on [low, high], low < high.
func Between(low, high float64) (Marginal, error) {
	if err := checkSpan(low, high); err != nil {
		return nil, err
	}
	return between{low, high, high - low}, nil
}

func (m between) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m between) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

func (m between) at(p float64) float64    { return min(m.low+float64(m.span*p), m.high) }
func (m between) upper(q float64) float64 { return max(m.high-float64(m.span*q), m.low) }

func (m between) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m between) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

func (m between) CDF(x float64) float64      { return clampUnit((x - m.low) / m.span) }
func (m between) Survival(x float64) float64 { return clampUnit((m.high - x) / m.span) }
func (m between) Mean() float64              { return m.low + float64(0.5*m.span) }
func (m between) SD() float64                { return m.span / math.Sqrt(12) }

func (m between) Support() (low, high float64) { return m.low, m.high }

func clampUnit(p float64) float64 { return min(max(p, 0), 1) }
