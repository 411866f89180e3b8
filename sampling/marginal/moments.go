package marginal

import (
	"math"
	"slices"

	"proofmass/sampling/portable"
)

// gauss is the 10-point rule of Gauss and Legendre on [-1, 1], abscissa and
// weight of the positive half. Source: Abramowitz and Stegun (1964), table 25.4.
var gauss = [5][2]float64{
	{0.148874338981631210885, 0.295524224714752870174},
	{0.433395394129247190799, 0.269266719309996355091},
	{0.679409568299024406234, 0.219086362515982043996},
	{0.865063366688984510732, 0.149451349150580593146},
	{0.973906528517171720078, 0.066671344308688137594},
}

// moments returns mean and sd by integrating the quantile over the normal score
// z of the chance, in panels of at most half a unit that end where the density
// has a kink. Far beyond, what is left weighs less than 1e-17 of the sd, as
// long as the tails are not heavier than a lognormal's.
func moments(m Marginal) (mean, sd float64) {
	low, high := m.Support()
	reach := 37.0
	if !math.IsInf(low, 0) && !math.IsInf(high, 0) {
		reach = 9.5
	}
	ends := panelEnds(m, reach)
	centre := m.Quantile(0.5)
	mean = centre + overScores(m, ends, func(x float64) float64 { return x - centre })
	// in units of the mean deviation no square overflows or vanishes
	scale := overScores(m, ends, func(x float64) float64 { return math.Abs(x - mean) })
	if scale == 0 {
		return mean, 0 // the limits leave one number
	}
	v := overScores(m, ends, func(x float64) float64 { d := (x - mean) / scale; return float64(d * d) })
	return mean, float64(scale * math.Sqrt(v))
}

func panelEnds(m Marginal, reach float64) []float64 {
	var ends []float64
	for z := -reach; z <= reach; z += 0.5 {
		ends = append(ends, z)
	}
	if k, ok := m.(kinked); ok {
		for _, x := range k.kinks() {
			if z := scoreOf(m, x); math.Abs(z) < reach {
				ends = append(ends, z)
			}
		}
	}
	slices.Sort(ends)
	return ends
}

// scoreOf is the normal score of the chance below x, from the nearer tail.
func scoreOf(m Marginal, x float64) float64 {
	if p := m.CDF(x); p < 0.5 {
		return portable.NormalQuantile(p)
	}
	return portable.NormalQuantileUpper(m.Survival(x))
}

// overScores integrates f(Q(Phi(z))) phi(z).
func overScores(m Marginal, ends []float64, f func(float64) float64) float64 {
	sum := 0.0
	for i := 1; i < len(ends); i++ {
		mid, half := 0.5*(ends[i]+ends[i-1]), 0.5*(ends[i]-ends[i-1])
		for _, g := range gauss {
			d := float64(half * g[0])
			sum += float64(half * g[1] * (weighted(m, mid-d, f) + weighted(m, mid+d, f)))
		}
	}
	return sum
}

func weighted(m Marginal, z float64, f func(float64) float64) float64 {
	x := m.Quantile(portable.NormalCDF(z))
	if z > 0 {
		x = m.QuantileUpper(portable.NormalSurvival(z))
	}
	return float64(f(x) * portable.Exp(float64(-0.5*z*z)) * (1 / math.Sqrt(2*math.Pi)))
}
