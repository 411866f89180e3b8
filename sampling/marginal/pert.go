package marginal

import (
	"math"

	"proofmass/sampling/portable"
	"proofmass/sampling/special"
)

// pert is low plus span times a beta variable. Either half of the distribution
// has a table of the distance from its own end.
type pert struct {
	low, high, span float64
	lower, upper    *special.PERTTable
}

// PERT returns the beta distribution on [low, high] of the project evaluation
// and review technique, low <= mode <= high, low < high: shapes
// 1 + 4 (mode-low)/(high-low) and 1 + 4 (high-mode)/(high-low), and so the mean
// (low + 4 mode + high)/6. Its tails are thin: low and high are meant as limits,
// not as percentiles.
//
// Draws come from a table made here once, in about 2 ms; they differ from the
// exact quantile by less than 1e-12 of the distance to the nearer end.
// Source: Malcolm, Roseboom, Clark and Fazar (1959), Operations Research 7,
// 646-669.
func PERT(low, mode, high float64) (Marginal, error) {
	if err := checkMode(low, mode, high); err != nil {
		return nil, err
	}
	span := high - low
	d := special.NewPERTBeta(1+float64(4*((mode-low)/span)), 1+float64(4*((high-mode)/span)))
	return pert{low, high, span, special.NewPERTTable(d), special.NewPERTTable(d.Mirror())}, nil
}

// at returns the value at a normal score.
func (m pert) at(z float64) float64 {
	if z < 0 {
		return m.low + float64(m.span*m.lower.At(z))
	}
	return m.high - float64(m.span*m.upper.At(-z))
}

func (m pert) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(portable.NormalQuantile(p))
	}
}

func (m pert) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.at(portable.NormalQuantileUpper(p))
	}
}

func (m pert) Quantile(p float64) float64      { return m.at(portable.NormalQuantile(p)) }
func (m pert) QuantileUpper(q float64) float64 { return m.at(portable.NormalQuantileUpper(q)) }

func (m pert) CDF(x float64) float64 {
	return m.lower.Beta().Chance(clampUnit((x-m.low)/m.span), clampUnit((m.high-x)/m.span))
}

func (m pert) Survival(x float64) float64 {
	return m.upper.Beta().Chance(clampUnit((m.high-x)/m.span), clampUnit((x-m.low)/m.span))
}

func (m pert) Mean() float64 {
	a, b := m.lower.Beta().A, m.lower.Beta().B
	return m.low + float64(m.span*(a/(a+b)))
}

func (m pert) SD() float64 {
	a, b := m.lower.Beta().A, m.lower.Beta().B
	return float64(m.span * (math.Sqrt(float64(a*b)/(a+b+1)) / (a + b)))
}

func (m pert) Support() (low, high float64) { return m.low, m.high }
