package marginal

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
)

// z95 is the standard normal's 95th percentile.
const z95 = 1.6448536269514722

type normal struct{ mean, sd float64 }

// Normal returns the normal distribution, sd > 0.
func Normal(mean, sd float64) (Marginal, error) {
	if err := checkFinite(parameter{"the mean", mean}, parameter{"the sd", sd}); err != nil {
		return nil, err
	}
	if sd <= 0 {
		return nil, fmt.Errorf("the sd %v must be above 0; what is certain is a constant", sd)
	}
	if math.IsInf(math.Abs(mean)+float64(farScore*sd), 0) {
		return nil, fmt.Errorf("a normal with mean %v and sd %v goes beyond what a number can hold", mean, sd)
	}
	return normal{mean, sd}, nil
}

// Likely returns the normal distribution of which 90 % lie within +- within of
// the value: its sd is within/1.6449. within > 0.
func Likely(value, within float64) (Marginal, error) {
	if err := checkFinite(parameter{"the likely value", value}, parameter{"within", within}); err != nil {
		return nil, err
	}
	if within <= 0 {
		return nil, fmt.Errorf("within %v must be above 0; what is certain is a constant", within)
	}
	return Normal(value, within/z95)
}

func (m normal) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.mean + float64(m.sd*portable.NormalQuantile(p))
	}
}

func (m normal) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.mean + float64(m.sd*portable.NormalQuantileUpper(p))
	}
}

func (m normal) Quantile(p float64) float64 {
	return m.mean + float64(m.sd*portable.NormalQuantile(p))
}

func (m normal) QuantileUpper(q float64) float64 {
	return m.mean + float64(m.sd*portable.NormalQuantileUpper(q))
}

func (m normal) CDF(x float64) float64      { return portable.NormalCDF((x - m.mean) / m.sd) }
func (m normal) Survival(x float64) float64 { return portable.NormalSurvival((x - m.mean) / m.sd) }
func (m normal) Mean() float64              { return m.mean }
func (m normal) SD() float64                { return m.sd }

func (m normal) Support() (low, high float64) { return math.Inf(-1), math.Inf(1) }
