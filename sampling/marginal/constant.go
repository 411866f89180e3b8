package marginal

import "math"

type constant float64

// Constant returns the distribution of what is known to be x, a finite number.
func Constant(x float64) (Marginal, error) {
	if err := checkFinite(parameter{"the constant", x}); err != nil {
		return nil, err
	}
	return constant(x), nil
}

func (m constant) Fill(x, u []float64) {
	for i := range u {
		x[i] = float64(m)
	}
}

func (m constant) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return float64(m)
}

func (m constant) QuantileUpper(q float64) float64 { return m.Quantile(q) }

func (m constant) CDF(x float64) float64 {
	if x < float64(m) {
		return 0
	}
	return 1
}

func (m constant) Survival(x float64) float64 { return 1 - m.CDF(x) }
func (m constant) Mean() float64              { return float64(m) }
func (m constant) SD() float64                { return 0 }

func (m constant) Support() (low, high float64) { return float64(m), float64(m) }
