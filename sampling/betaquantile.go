package sampling

import (
	"math"

	"proofmass/sampling/portable"
)

// beta is the beta distribution on [0, 1] with shapes a, b of 1 to 5, as PERT
// needs them; the series below is slow or inexact for shapes far from these.
type beta struct {
	a, b float64
	norm float64 // the beta function B(a, b)
}

// newBeta takes B(a, b) from the same series as the tails, so that the two
// tails add up to 1.
func newBeta(a, b float64) beta {
	d := beta{a, b, 1}
	lower, upper := d.series(0.5), d.mirror().series(0.5)
	half := portable.Pow(0.5, a+b)
	d.norm = float64(half*lower/a) + float64(half*upper/b)
	return d
}

// mirror returns the distribution of 1-x.
func (d beta) mirror() beta { return beta{d.b, d.a, d.norm} }

// series returns S in
//
//	I_x(a,b) = x^a (1-x)^b S / (a B(a,b)),  S = sum_n x^n (a+b)_n / (a+1)_n
//
// all of whose terms are positive. Source: DLMF 8.17.8.
func (d beta) series(x float64) float64 {
	sum, term := 1.0, 1.0
	for n := 0.0; term > 1e-17*sum && n < 400; n++ {
		term = float64(term * (x * ((d.a + d.b + n) / (d.a + 1 + n))))
		sum += term
	}
	return sum
}

// lower returns the regularised incomplete beta function I_x(a, b), the chance
// below x, with y = 1-x given apart so that neither end loses digits. Its
// relative error is near 1e-15 for any x.
func (d beta) lower(x, y float64) float64 {
	if d.high(x) {
		above, _ := d.mirror().direct(y, x)
		return 1 - above
	}
	p, _ := d.direct(x, y)
	return p
}

// high tells whether x is better counted from 1: a little above the mean, so
// that neither tail is got as the small difference of large numbers.
func (d beta) high(x float64) bool { return x > (d.a+1)/(d.a+d.b+2) }

// direct returns the chance below x, not high, and S.
func (d beta) direct(x, y float64) (p, s float64) {
	s = d.series(x)
	return float64(portable.Pow(x, d.a) * portable.Pow(y, d.b) * s / (d.a * d.norm)), s
}

// quantile returns the x below which the chance is p <= 1/2, with a relative
// error near 1e-15, x being small or not.
func (d beta) quantile(p float64) float64 {
	if !(p > 0) {
		return p // 0 and NaN
	}
	// the limit for small x, which lies below the quantile
	return d.quantileFrom(p, portable.Pow(float64(p*d.a*d.norm), 1/d.a))
}

// quantileFrom is quantile from a start x > 0. ln I is a concave function of
// ln x, so Newton steps in these two converge from any start.
func (d beta) quantileFrom(p, x float64) float64 {
	for range 60 {
		x = min(x, 1-0x1p-53)
		step := d.logStep(p, x)
		x = float64(x * portable.Exp(step))
		if math.Abs(step) < 1e-8 { // what is left is its square
			break
		}
	}
	return x
}

// logStep returns the Newton step of ln x towards the quantile of p.
func (d beta) logStep(p, x float64) float64 {
	y := 1 - x
	if !d.high(x) {
		below, s := d.direct(x, y)
		return portable.Log(p/below) * s * y / d.a
	}
	below := d.lower(x, y)
	return portable.Log(p/below) * below / float64(x*d.density(x, y))
}

func (d beta) density(x, y float64) float64 {
	return float64(portable.Pow(x, d.a-1) * portable.Pow(y, d.b-1) / d.norm)
}
