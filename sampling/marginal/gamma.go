package marginal

import (
	"fmt"
	"math"
	"proofmass/sampling/special"
)

// Shapes beyond these are no use in a study: far smaller ones put nearly all
// values at 1e-30 and less, larger ones are normal to five digits.
const (
	leastShape   = 0.01
	largestShape = 1e5
)

func checkShape(name string, a float64) error {
	if !(a >= leastShape && a <= largestShape) {
		return fmt.Errorf("%s is %v; it must be at least %g and at most %g", name, a, leastShape, largestShape)
	}
	return nil
}

func checkScale(scale float64) error {
	if err := checkFinite(parameter{"the scale", scale}); err != nil {
		return err
	}
	if scale <= 0 {
		return fmt.Errorf("the scale %v must be above 0", scale)
	}
	return nil
}

// gamma is from plus scale times a gamma variable.
type gamma struct {
	from, scale  float64
	lower, upper *special.TailTable
}

// Gamma returns the gamma distribution with density proportional to
// x^(shape-1) exp(-x/scale), x counted from `from`: its mean is from +
// shape*scale, its sd sqrt(shape)*scale. scale > 0, 0.01 <= shape <= 1e5.
//
// Draws come from a table made here once. Source of the functions: DLMF 8.
func Gamma(shape, scale, from float64) (Marginal, error) {
	if err := checkShape("the shape of a gamma distribution", shape); err != nil {
		return nil, err
	}
	if err := checkScale(scale); err != nil {
		return nil, err
	}
	if err := checkFinite(parameter{"from", from}); err != nil {
		return nil, err
	}
	if math.IsInf(math.Abs(from)+float64(scale*(700+2*shape+float64(farScore*math.Sqrt(shape)))), 0) {
		return nil, fmt.Errorf("a gamma distribution of shape %v and scale %v goes beyond what a number can hold", shape, scale)
	}
	return newGamma(shape, scale, from), nil
}

func newGamma(shape, scale, from float64) gamma {
	lower, upper := special.NewGammaTail(shape).Tables()
	return gamma{from, scale, lower, upper}
}

func (m gamma) below(p float64) float64 { return m.from + float64(m.scale*m.lower.At(p)) }
func (m gamma) above(q float64) float64 { return m.from + float64(m.scale*m.upper.At(q)) }

func (m gamma) Fill(x, u []float64)             { fillBelow(m, x, u) }
func (m gamma) fillUpper(x, q []float64)        { fillAbove(m, x, q) }
func (m gamma) Quantile(p float64) float64      { return fromBelow(m, p) }
func (m gamma) QuantileUpper(q float64) float64 { return fromAbove(m, q) }

func (m gamma) tail() special.GammaTail { return m.lower.Tail().(special.GammaTail) }

func (m gamma) CDF(x float64) float64 { return beyondNumber(x, m.tail().Below, (x-m.from)/m.scale, 1) }
func (m gamma) Survival(x float64) float64 {
	return beyondNumber(x, m.tail().Above, (x-m.from)/m.scale, 0)
}

// beyondNumber returns f(t), t at infinity being `end` and NaN itself.
func beyondNumber(x float64, f func(float64) float64, t, end float64) float64 {
	switch {
	case x != x:
		return x
	case math.IsInf(t, 1):
		return end
	}
	return clampUnit(f(t))
}

func (m gamma) Mean() float64 { return m.from + float64(m.scale*m.tail().Shape) }
func (m gamma) SD() float64   { return float64(m.scale * math.Sqrt(m.tail().Shape)) }

func (m gamma) Support() (low, high float64) { return m.from, math.Inf(1) }
