package marginal

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
)

// largestFactor is far above any that is meant; up to it a numeric integral of
// the square (peak at the score 2 ln factor) stays within farScore.
const largestFactor = 1e6

// logNormal is median times exp(s z), z standard normal.
type logNormal struct{ median, s float64 }

// LogNormal returns the lognormal distribution with this median, of which 68 %
// lie between median/factor and median*factor: the sd of the logarithm is
// ln(factor). median > 0, 1 < factor <= 1e6.
func LogNormal(median, factor float64) (Marginal, error) {
	if err := checkFinite(parameter{"the median", median}, parameter{"the factor", factor}); err != nil {
		return nil, err
	}
	if median <= 0 {
		return nil, fmt.Errorf("the median %v of a lognormal must be above 0", median)
	}
	if factor <= 1 || factor > largestFactor {
		return nil, fmt.Errorf("the factor %v of a lognormal must be above 1 and at most %g", factor, largestFactor)
	}
	return newLogNormal(median, portable.LogRatio(factor, 1))
}

// LogNormalMeanSD returns the lognormal distribution with this mean and
// standard deviation (of the value, not of its logarithm), both > 0 and sd at
// most 1e41 times the mean.
func LogNormalMeanSD(mean, sd float64) (Marginal, error) {
	if err := checkFinite(parameter{"the mean", mean}, parameter{"the sd", sd}); err != nil {
		return nil, err
	}
	if mean <= 0 {
		return nil, fmt.Errorf("the mean %v of a lognormal must be above 0", mean)
	}
	if sd <= 0 {
		return nil, fmt.Errorf("the sd %v must be above 0; what is certain is a constant", sd)
	}
	if sd/mean > 1e41 {
		return nil, fmt.Errorf("the sd %v of a lognormal must be at most 1e41 times the mean %v", sd, mean)
	}
	v := float64(sd / mean * (sd / mean))
	return newLogNormal(mean/math.Sqrt(1+v), math.Sqrt(portable.Log1p(v)))
}

func newLogNormal(median, s float64) (Marginal, error) {
	m := logNormal{median, s}
	for _, x := range []float64{m.at(-farScore), m.at(farScore), m.Mean(), m.SD()} {
		if !(x > 0) || math.IsInf(x, 1) {
			return nil, fmt.Errorf("a lognormal with median %v and a factor of %.6g goes beyond what a number can hold", median, portable.Exp(s))
		}
	}
	return m, nil
}

func (m logNormal) at(z float64) float64 {
	return float64(m.median * portable.Exp(float64(m.s*z)))
}

func (m logNormal) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(portable.NormalQuantile(p))
	}
}

func (m logNormal) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.at(portable.NormalQuantileUpper(p))
	}
}

func (m logNormal) Quantile(p float64) float64      { return m.at(portable.NormalQuantile(p)) }
func (m logNormal) QuantileUpper(q float64) float64 { return m.at(portable.NormalQuantileUpper(q)) }

// score is the normal score of x > 0.
func (m logNormal) score(x float64) float64 { return portable.LogRatio(x, m.median) / m.s }

func (m logNormal) CDF(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return portable.NormalCDF(m.score(x))
}

func (m logNormal) Survival(x float64) float64 {
	if x <= 0 {
		return 1
	}
	return portable.NormalSurvival(m.score(x))
}

func (m logNormal) Mean() float64 {
	return float64(m.median * portable.Exp(float64(0.5*m.s*m.s)))
}

func (m logNormal) SD() float64 {
	return float64(m.Mean() * math.Sqrt(portable.Expm1(float64(m.s*m.s))))
}

func (m logNormal) Support() (low, high float64) { return 0, math.Inf(1) }
