package special

import (
	"math"

	"proofmass/sampling/portable"
)

// PERTBeta is the beta distribution on [0, 1] with shapes A, B of 1 to 5, as PERT
// needs them; the series below is slow or inexact for shapes far from these.
type PERTBeta struct {
	A, B float64
	norm float64 // the beta function B(A, B)
}

// NewPERTBeta takes B(a, b) from the same series as the tails, so that the two
// tails add up to 1.
func NewPERTBeta(a, b float64) PERTBeta {
	d := PERTBeta{a, b, 1}
	lower, upper := d.series(0.5), d.Mirror().series(0.5)
	half := portable.Pow(0.5, a+b)
	d.norm = float64(half*lower/a) + float64(half*upper/b)
	return d
}

// Mirror returns the distribution of 1-x.
func (d PERTBeta) Mirror() PERTBeta { return PERTBeta{d.B, d.A, d.norm} }

// series returns S in
//
//	I_x(a,b) = x^a (1-x)^b S / (a B(a,b)),  S = sum_n x^n (a+b)_n / (a+1)_n
//
// all of whose terms are positive. Source: DLMF 8.17.8.
func (d PERTBeta) series(x float64) float64 {
	sum, term := 1.0, 1.0
	for n := 0.0; term > 1e-17*sum && n < 400; n++ {
		term = float64(term * (x * ((d.A + d.B + n) / (d.A + 1 + n))))
		sum += term
	}
	return sum
}

// Chance returns the regularised incomplete beta function I_x(a, b), the chance
// below x, with y = 1-x given apart so that neither end loses digits. Its
// relative error is near 1e-15 for any x.
func (d PERTBeta) Chance(x, y float64) float64 {
	if d.high(x) {
		above, _ := d.Mirror().direct(y, x)
		return 1 - above
	}
	p, _ := d.direct(x, y)
	return p
}

// high tells whether x is better counted from 1: a little above the mean, so
// that neither tail is got as the small difference of large numbers.
func (d PERTBeta) high(x float64) bool { return x > (d.A+1)/(d.A+d.B+2) }

// direct returns the chance below x, not high, and S.
func (d PERTBeta) direct(x, y float64) (p, s float64) {
	s = d.series(x)
	return float64(portable.Pow(x, d.A) * portable.Pow(y, d.B) * s / (d.A * d.norm)), s
}

// Quantile returns the x below which the chance is p <= 1/2, with a relative
// error near 1e-15, x being small or not.
func (d PERTBeta) Quantile(p float64) float64 {
	if !(p > 0) {
		return p // 0 and NaN
	}
	// the limit for small x, which lies below the quantile
	return d.quantileFrom(p, portable.Pow(float64(p*d.A*d.norm), 1/d.A))
}

// quantileFrom is Quantile from a start x > 0. ln I is a concave function of
// ln x, so Newton steps in these two converge from any start.
func (d PERTBeta) quantileFrom(p, x float64) float64 {
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
func (d PERTBeta) logStep(p, x float64) float64 {
	y := 1 - x
	if !d.high(x) {
		below, s := d.direct(x, y)
		return portable.Log(p/below) * s * y / d.A
	}
	below := d.Chance(x, y)
	return portable.Log(p/below) * below / float64(x*d.density(x, y))
}

func (d PERTBeta) density(x, y float64) float64 {
	return float64(portable.Pow(x, d.A-1) * portable.Pow(y, d.B-1) / d.norm)
}
