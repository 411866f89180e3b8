package special

import (
	"math"

	"proofmass/sampling/portable"
)

// BetaTail is the beta distribution with any shapes, seen from 0: x is the
// distance from there, and what it needs of 1-x is made without a loss.
type BetaTail struct {
	A, B   float64
	front  float64       // x^a (1-x)^b / B(a,b) = front * exp(a ln x + b ln(1-x) + offset)
	offset portable.Pair // a ln((a+b)/a) + b ln((a+b)/b)
}

// NewBetaTail returns the tail for shapes from 0.01 to 1e5.
func NewBetaTail(a, b float64) BetaTail {
	s := portable.Sum(a, b)
	l := s.Log()
	return BetaTail{
		A: a, B: b,
		front:  math.Sqrt(a/(2*math.Pi)*(b/s.Hi)) * scaledGamma(s.Hi) / (scaledGamma(a) * scaledGamma(b)),
		offset: l.Minus(portable.LogPair(a)).Times(a).Plus(l.Minus(portable.LogPair(b)).Times(b)),
	}
}

func (d BetaTail) Falls() bool { return false }

// Mirror returns the distribution of 1-x.
func (d BetaTail) Mirror() BetaTail { return BetaTail{d.B, d.A, d.front, d.offset} }

// A Share is a point of (0, 1): x, y = 1-x, and the logarithms of both.
type Share struct {
	x, y   float64
	lx, ly portable.Pair
}

// ShareOf makes y of x.
func ShareOf(x float64) Share {
	y := portable.Sum(1, -x)
	if x < 1e-17 {
		return Share{x, 1, portable.LogPair(x), portable.Pair{Hi: -x}}
	}
	return Share{x, y.Hi, portable.LogPair(x), y.Log()}
}

func (s Share) Mirror() Share { return Share{s.y, s.x, s.ly, s.lx} }

// power returns x^a y^b / B(a, b).
func (d BetaTail) power(s Share) float64 {
	return float64(d.front * s.lx.Times(d.A).Plus(s.ly.Times(d.B)).Plus(d.offset).Exp())
}

func (d BetaTail) Density(x float64) (xf, bend float64) {
	s := ShareOf(min(x, 1-0x1p-53))
	return d.power(s) / s.y, (d.A-1)/s.x - (d.B-1)/s.y
}

func (d BetaTail) Chance(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	return d.Below(ShareOf(x))
}

// Below returns the regularised I_x(a, b). Beyond a little above the mean it is
// 1 less the chance above, unless that is nearly 1, as it can be for small shapes.
func (d BetaTail) Below(s Share) float64 {
	if s.x > (d.A+1)/(d.A+d.B+2) {
		if above := d.Mirror().direct(s.Mirror()); above < 0.95 {
			return 1 - above
		}
	}
	return d.direct(s)
}

// direct uses the continued fraction in x or, for b < 1, in x/y: there all its
// terms are positive, and y keeps its digits however near x is to 1.
func (d BetaTail) direct(s Share) float64 {
	if d.B < 1 {
		return float64(d.power(s)/s.y*fraction(d.ratioTerm, s.x/s.y)) / d.A
	}
	return float64(d.power(s)*fraction(d.term, s.x)) / d.A
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
func (d BetaTail) term(n int, x float64) float64 {
	m := float64(n / 2)
	k := d.A + 2*m
	if n%2 == 0 {
		return float64(m*(d.B-m)*x) / float64((k-1)*k)
	}
	return -float64((d.A+m)*(d.A+d.B+m)*x) / float64(k*(k+1))
}

// ratioTerm is that of Gauss's fraction (DLMF 15.7.5) for F(1-b, 1; a+1; -x/y),
// which is y F(a+b, 1; a+1; x) by Pfaff's transformation (DLMF 15.8.1).
func (d BetaTail) ratioTerm(n int, u float64) float64 {
	m := float64(n / 2)
	k := d.A + 2*m
	if n%2 == 0 {
		return float64(m*(d.A+d.B-1+m)*u) / float64((k-1)*k)
	}
	return float64((1-d.B+m)*(d.A+m)*u) / float64(k*(k+1))
}

func keptFromZero(x float64) float64 {
	if math.Abs(x) < 1e-300 {
		return 1e-300
	}
	return x
}

// betaMiddle returns the median of the beta distribution.
func betaMiddle(d BetaTail) float64 {
	if d.A < 1 || d.B < 1 {
		// below the median, as I_x <= x^a / (a B) y^min(b-1, 0)
		start := portable.Pow(0.5, 1/min(d.A, 1))
		return tailQuantile(d, 0.5, min(start, 0.5))
	}
	return tailQuantile(d, 0.5, d.A/(d.A+d.B))
}

// Tables returns the tables of both halves, the upper one of the distance from 1.
func (d BetaTail) Tables() (lower, upper *TailTable) {
	m := d.Mirror()
	return newTailTable(d, betaMiddle(d)), newTailTable(m, betaMiddle(m))
}
