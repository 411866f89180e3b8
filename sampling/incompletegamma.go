package sampling

import (
	"math"

	"proofmass/sampling/portable"
)

// gammaTail is the gamma distribution of scale 1, seen from 0 (below) or from
// infinity.
type gammaTail struct {
	a      float64
	front  float64 // x^a e^-x / Gamma(a) = front * exp(a ln x - x + constant)
	offset pair    // a - a ln a
	upper  bool
}

func newGammaTail(a float64) gammaTail {
	return gammaTail{a: a, front: math.Sqrt(a/(2*math.Pi)) / scaledGamma(a), offset: pair{a, 0}.minus(logOf(a).times(a))}
}

func (g gammaTail) falls() bool { return g.upper }

// power returns x^a e^-x / Gamma(a).
func (g gammaTail) power(x float64) float64 {
	return float64(g.front * logOf(x).times(g.a).minus(pair{x, 0}).plus(g.offset).exp())
}

func (g gammaTail) density(x float64) (xf, bend float64) {
	return g.power(x), (g.a-1)/x - 1
}

func (g gammaTail) chance(x float64) float64 {
	if g.upper {
		return g.above(x)
	}
	return g.below(x)
}

// below returns the regularised P(a, x).
func (g gammaTail) below(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x < max(g.a, 1):
		return float64(g.power(x) / g.a * g.series(x))
	}
	return 1 - g.above(x)
}

// series is 1 + x/(a+1) + x^2/((a+1)(a+2)) + ..., all positive (DLMF 8.7.1).
func (g gammaTail) series(x float64) float64 {
	sum, term := 1.0, 1.0
	for n := 1.0; term > 1e-17*sum; n++ {
		term = float64(term * (x / (g.a + n)))
		sum += term
	}
	return sum
}

// above returns the regularised Q(a, x) = 1 - P(a, x).
func (g gammaTail) above(x float64) float64 {
	switch {
	case x <= 0:
		return 1
	case x >= max(g.a, 1):
		return float64(g.power(x) * g.fraction(x))
	case g.a < 1:
		return g.smallShape(x)
	}
	return 1 - g.below(x)
}

// smallShape is Q for x < 1, a < 1 without the loss of 1-P: the first two terms
// of DLMF 8.7.1 in its alternating form are taken from 1 together.
func (g gammaTail) smallShape(x float64) float64 {
	e := float64(g.a*portable.Log(x)) - logGamma1p(g.a)
	sum, term := 0.0, 1.0
	for n := 1.0; n < 40; n++ {
		term = float64(-term * x / n)
		sum += float64(g.a * term / (g.a + n))
	}
	return -portable.Expm1(e) - float64(portable.Exp(e)*sum)
}

// fraction is the continued fraction of DLMF 8.9.2: Lentz's method says how many
// terms it takes, and evaluation from the last one loses the least.
func (g gammaTail) fraction(x float64) float64 {
	term := func(n float64) float64 { return -float64(n * (n - g.a)) }
	b := x + 1 - g.a
	n, c, d := 1.0, 1e300, 1/b
	for ; n < 100_000; n++ {
		bn := b + 2*n
		d = 1 / (float64(term(n)*d) + bn)
		c = bn + term(n)/c
		if math.Abs(float64(c*d)-1) < 1e-16 {
			break
		}
	}
	n = math.Floor(1.5 * n) // the last step was small, all that are left need not be
	f := b + 2*n
	for ; n > 0; n-- {
		f = b + 2*(n-1) + term(n)/f
	}
	return 1 / f
}
