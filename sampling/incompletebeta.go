package sampling

import (
	"math"

	"proofmass/sampling/portable"
)

// Own, as gammaTail is: draws hang on its bits, and gonum's mathext is made of functions of
// package math whose bits differ between machines.

// betaTail is the beta distribution with any shapes, seen from 0: x is the
// distance from there, and what it needs of 1-x is made without a loss.
type betaTail struct {
	a, b   float64
	front  float64 // x^a (1-x)^b / B(a,b) = front * exp(a ln x + b ln(1-x) + offset)
	offset pair    // a ln((a+b)/a) + b ln((a+b)/b)
}

func newBetaTail(a, b float64) betaTail {
	s := sumOf(a, b)
	l := s.log()
	return betaTail{
		a: a, b: b,
		front:  math.Sqrt(a/(2*math.Pi)*(b/s.hi)) * scaledGamma(s.hi) / (scaledGamma(a) * scaledGamma(b)),
		offset: l.minus(logOf(a)).times(a).plus(l.minus(logOf(b)).times(b)),
	}
}

func (d betaTail) falls() bool { return false }

// mirror returns the distribution of 1-x.
func (d betaTail) mirror() betaTail { return betaTail{d.b, d.a, d.front, d.offset} }

// share is a point of (0, 1): x, y = 1-x, and the logarithms of both.
type share struct {
	x, y   float64
	lx, ly pair
}

// shareOf makes y of x.
func shareOf(x float64) share {
	y := sumOf(1, -x)
	if x < 1e-17 {
		return share{x, 1, logOf(x), pair{-x, 0}}
	}
	return share{x, y.hi, logOf(x), y.log()}
}

func (s share) mirror() share { return share{s.y, s.x, s.ly, s.lx} }

// power returns x^a y^b / B(a, b).
func (d betaTail) power(s share) float64 {
	return float64(d.front * s.lx.times(d.a).plus(s.ly.times(d.b)).plus(d.offset).exp())
}

func (d betaTail) density(x float64) (xf, bend float64) {
	s := shareOf(min(x, 1-0x1p-53))
	return d.power(s) / s.y, (d.a-1)/s.x - (d.b-1)/s.y
}

func (d betaTail) chance(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	return d.below(shareOf(x))
}

// below returns the regularised I_x(a, b). Beyond a little above the mean it is
// 1 less the chance above, unless that is nearly 1, as it can be for small shapes.
func (d betaTail) below(s share) float64 {
	if s.x > (d.a+1)/(d.a+d.b+2) {
		if above := d.mirror().direct(s.mirror()); above < 0.95 {
			return 1 - above
		}
	}
	return d.direct(s)
}

// direct uses the continued fraction in x or, for b < 1, in x/y: there all its
// terms are positive, and y keeps its digits however near x is to 1.
func (d betaTail) direct(s share) float64 {
	if d.b < 1 {
		return float64(d.power(s)/s.y*fraction(d.ratioTerm, s.x/s.y)) / d.a
	}
	return float64(d.power(s)*fraction(d.term, s.x)) / d.a
}

// fraction is 1/(1 + k_1/(1 + k_2/(1 + ...))): Lentz's method says how many terms
// it takes, and evaluation from the last one loses the least.
func fraction(term func(n int, x float64) float64, x float64) float64 {
	n, c, e := 1, keptFromZero(1+term(1, x)), 1.0
	for n < 40_000 {
		n++
		k := term(n, x)
		e = 1 / keptFromZero(1+float64(k*e))
		c = keptFromZero(1 + k/c)
		if math.Abs(float64(c*e)-1) < 1e-16 && n%2 == 1 {
			break
		}
	}
	f := 1.0
	for n += n / 2; n > 0; n-- { // the last step was small, all that are left need not be
		f = keptFromZero(1 + term(n, x)/f)
	}
	return 1 / f
}

// term is the coefficient d_n of DLMF 8.17.23.
func (d betaTail) term(n int, x float64) float64 {
	m := float64(n / 2)
	k := d.a + 2*m
	if n%2 == 0 {
		return float64(m*(d.b-m)*x) / float64((k-1)*k)
	}
	return -float64((d.a+m)*(d.a+d.b+m)*x) / float64(k*(k+1))
}

// ratioTerm is that of Gauss's fraction (DLMF 15.7.5) for F(1-b, 1; a+1; -x/y),
// which is y F(a+b, 1; a+1; x) by Pfaff's transformation (DLMF 15.8.1).
func (d betaTail) ratioTerm(n int, u float64) float64 {
	m := float64(n / 2)
	k := d.a + 2*m
	if n%2 == 0 {
		return float64(m*(d.a+d.b-1+m)*u) / float64((k-1)*k)
	}
	return float64((1-d.b+m)*(d.a+m)*u) / float64(k*(k+1))
}

func keptFromZero(x float64) float64 {
	if math.Abs(x) < 1e-300 {
		return 1e-300
	}
	return x
}

// betaMiddle returns the median of the beta distribution.
func betaMiddle(d betaTail) float64 {
	if d.a < 1 || d.b < 1 {
		// below the median, as I_x <= x^a / (a B) y^min(b-1, 0)
		start := portable.Pow(0.5, 1/min(d.a, 1))
		return tailQuantile(d, 0.5, min(start, 0.5))
	}
	return tailQuantile(d, 0.5, d.a/(d.a+d.b))
}
