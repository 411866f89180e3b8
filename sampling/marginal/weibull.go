package marginal

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
)

// weibull keeps 1/shape as a sum of two numbers.
type weibull struct {
	from, scale, shape float64
	inverse            portable.Pair
	mean, sd           float64
}

// Weibull returns the Weibull distribution: the chance above x is
// exp(-((x-from)/scale)^shape). scale > 0, 0.1 <= shape <= 1e4.
func Weibull(shape, scale, from float64) (Marginal, error) {
	if !(shape >= 0.1 && shape <= 1e4) {
		return nil, fmt.Errorf("the shape of a Weibull distribution is %v; it must be at least 0.1 and at most 10000", shape)
	}
	if err := checkScale(scale); err != nil {
		return nil, err
	}
	if err := checkFinite(parameter{"from", from}); err != nil {
		return nil, err
	}
	r := 1 / shape
	m := weibull{from: from, scale: scale, shape: shape, inverse: portable.Pair{Hi: r, Lo: math.FMA(-r, shape, 1) / shape}}
	if math.IsInf(m.QuantileUpper(1e-300), 0) {
		return nil, fmt.Errorf("a Weibull distribution of shape %v and scale %v goes beyond what a number can hold", shape, scale)
	}
	unit := m
	unit.from, unit.scale = 0, 1
	mean, sd := moments(unit)
	m.mean, m.sd = from+float64(scale*mean), float64(scale*sd)
	return m, nil
}

// at returns the value at y = -ln(chance above).
func (m weibull) at(y float64) float64 {
	if !(y > 0 && y < math.Inf(1)) {
		return m.from + float64(m.scale*y) // the ends, and NaN
	}
	e := portable.LogPair(y)
	h := e.Times(m.inverse.Hi)
	h.Lo += float64(e.Hi * m.inverse.Lo)
	return m.from + float64(m.scale*h.Exp())
}

func (m weibull) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(-portable.Log1p(-p))
	}
}

func (m weibull) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.at(-portable.Log(p))
	}
}

func (m weibull) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(-portable.Log1p(-p))
}

func (m weibull) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.at(-portable.Log(q))
}

// hazard returns -ln of the chance above x.
func (m weibull) hazard(x float64) float64 {
	if x < m.from {
		return 0
	}
	return portable.Pow((x-m.from)/m.scale, m.shape)
}

func (m weibull) CDF(x float64) float64      { return -portable.Expm1(-m.hazard(x)) }
func (m weibull) Survival(x float64) float64 { return portable.Exp(-m.hazard(x)) }
func (m weibull) Mean() float64              { return m.mean }
func (m weibull) SD() float64                { return m.sd }

func (m weibull) Support() (low, high float64) { return m.from, math.Inf(1) }
