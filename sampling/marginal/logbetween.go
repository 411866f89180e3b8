package marginal

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
)

type logBetween struct{ low, high, span float64 } // span = ln(high/low)

// LogBetween returns the distribution on [low, high] whose logarithm is
// uniform, 0 < low < high.
func LogBetween(low, high float64) (Marginal, error) {
	if err := checkSpan(low, high); err != nil {
		return nil, err
	}
	if low <= 0 {
		return nil, fmt.Errorf("low %v must be above 0: the logarithm is what is uniform", low)
	}
	return logBetween{low, high, portable.LogRatio(high, low)}, nil
}

func (m logBetween) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m logBetween) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

func (m logBetween) at(p float64) float64 {
	return m.clamp(float64(m.low * portable.Exp(float64(m.span*p))))
}

func (m logBetween) upper(q float64) float64 {
	return m.clamp(float64(m.high * portable.Exp(-float64(m.span*q))))
}

func (m logBetween) clamp(x float64) float64 { return min(max(x, m.low), m.high) }

func (m logBetween) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m logBetween) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

func (m logBetween) CDF(x float64) float64 {
	return clampUnit(portable.LogRatio(max(x, m.low), m.low) / m.span)
}

func (m logBetween) Survival(x float64) float64 {
	return clampUnit(portable.LogRatio(m.high, min(max(x, m.low), m.high)) / m.span)
}

func (m logBetween) Mean() float64 { return (m.high - m.low) / m.span }

// SD takes the variance about the geometric mean g, with h = span/2 and
// s = sinh(h)/h: the mean is g s, the variance g^2 s (cosh h - s). For a narrow
// span the difference is summed as the series of h^2k 2k/(2k+1)!.
func (m logBetween) SD() float64 {
	if m.span > 2 {
		r, mean := m.low/m.high, m.Mean()/m.high
		return float64(m.high * math.Sqrt((1-float64(r*r))/(2*m.span)-float64(mean*mean)))
	}
	h2 := float64(0.25 * m.span * m.span)
	sinhc, diff, term := 1.0, 0.0, 1.0 // term = h^2k / (2k+1)!
	for k := 1.0; k < 14; k++ {
		term = float64(term * (h2 / (2 * k * (2*k + 1))))
		sinhc += term
		diff += float64(2 * k * term)
	}
	return float64(math.Sqrt(m.low) * math.Sqrt(m.high) * math.Sqrt(sinhc*diff))
}

func (m logBetween) Support() (low, high float64) { return m.low, m.high }
