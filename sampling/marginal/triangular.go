package marginal

import "math"

// triangular counts in shares of the span: rise = (mode-low)/span, fall = 1-rise.
type triangular struct{ low, mode, high, span, rise, fall float64 }

// Triangular returns the triangular distribution on [low, high] with its peak
// at mode, low <= mode <= high, low < high.
func Triangular(low, mode, high float64) (Marginal, error) {
	if err := checkMode(low, mode, high); err != nil {
		return nil, err
	}
	span := high - low
	return triangular{low, mode, high, span, (mode - low) / span, (high - mode) / span}, nil
}

func (m triangular) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m triangular) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

// at counts from low up to the mode, and from the mode beyond it: where the
// mode is low itself, what is near it keeps its digits.
func (m triangular) at(p float64) float64 {
	if p <= m.rise {
		return m.low + float64(m.span*math.Sqrt(float64(p*m.rise)))
	}
	d := (p - m.rise) / (1 + math.Sqrt((1-p)/m.fall))
	return min(m.mode+float64(m.span*d), m.high)
}

func (m triangular) upper(q float64) float64 {
	if q <= m.fall {
		return m.high - float64(m.span*math.Sqrt(float64(q*m.fall)))
	}
	d := (q - m.fall) / (1 + math.Sqrt((1-q)/m.rise))
	return max(m.mode-float64(m.span*d), m.low)
}

func (m triangular) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m triangular) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

func (m triangular) CDF(x float64) float64 {
	switch {
	case x <= m.low:
		return 0
	case x < m.mode:
		t := (x - m.low) / m.span
		return t * t / m.rise
	case x < m.high:
		d := (x - m.mode) / m.span
		return min(m.rise+float64(d*(2-d/m.fall)), 1)
	case x >= m.high:
		return 1
	}
	return x // NaN
}

func (m triangular) Survival(x float64) float64 {
	switch {
	case x >= m.high:
		return 0
	case x > m.mode:
		t := (m.high - x) / m.span
		return t * t / m.fall
	case x > m.low:
		d := (m.mode - x) / m.span
		return min(m.fall+float64(d*(2-d/m.rise)), 1)
	case x <= m.low:
		return 1
	}
	return x // NaN
}

func (m triangular) Mean() float64 { return m.low + float64(m.span*(1+m.rise)/3) }

func (m triangular) SD() float64 {
	return float64(m.span * math.Sqrt((1-float64(m.rise*m.fall))/18))
}

func (m triangular) Support() (low, high float64) { return m.low, m.high }
func (m triangular) kinks() []float64             { return []float64{m.mode} }
