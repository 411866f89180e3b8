package special

import (
	"math"

	"proofmass/sampling/portable"
)

// GammaTail is the gamma distribution of scale 1, seen from 0 (below) or from
// infinity.
type GammaTail struct {
	Shape  float64
	front  float64       // with a the shape, x^a e^-x / Gamma(a) = front * exp(a ln x - x + constant)
	offset portable.Pair // a - a ln a
	upper  bool
}

// NewGammaTail returns the lower tail for a shape from 0.01 to 1e5.
func NewGammaTail(a float64) GammaTail {
	return GammaTail{Shape: a, front: math.Sqrt(a/(2*math.Pi)) / scaledGamma(a), offset: portable.Pair{Hi: a}.Minus(portable.LogPair(a).Times(a))}
}

func (g GammaTail) Falls() bool { return g.upper }

// power returns x^a e^-x / Gamma(a).
func (g GammaTail) power(x float64) float64 {
	return float64(g.front * portable.LogPair(x).Times(g.Shape).Minus(portable.Pair{Hi: x}).Plus(g.offset).Exp())
}

func (g GammaTail) Density(x float64) (xf, bend float64) {
	return g.power(x), (g.Shape-1)/x - 1
}

func (g GammaTail) Chance(x float64) float64 {
	if g.upper {
		return g.Above(x)
	}
	return g.Below(x)
}

// Below returns the regularised P(a, x).
func (g GammaTail) Below(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x < max(g.Shape, 1):
		return float64(g.power(x) / g.Shape * g.series(x))
	}
	return 1 - g.Above(x)
}

// series is 1 + x/(a+1) + x^2/((a+1)(a+2)) + ..., all positive (DLMF 8.7.1).
func (g GammaTail) series(x float64) float64 {
	sum, term := 1.0, 1.0
	for n := 1.0; term > 1e-17*sum; n++ {
		term = float64(term * (x / (g.Shape + n)))
		sum += term
	}
	return sum
}

// Above returns the regularised Q(a, x) = 1 - P(a, x).
func (g GammaTail) Above(x float64) float64 {
	switch {
	case x <= 0:
		return 1
	case x >= max(g.Shape, 1):
		return float64(g.power(x) * g.fraction(x))
	case g.Shape < 1:
		return g.smallShape(x)
	}
	return 1 - g.Below(x)
}

// smallShape is Q for x < 1, a < 1 without the loss of 1-P: the first two terms
// of DLMF 8.7.1 in its alternating form are taken from 1 together.
func (g GammaTail) smallShape(x float64) float64 {
	e := float64(g.Shape*portable.Log(x)) - logGamma1p(g.Shape)
	sum, term := 0.0, 1.0
	for n := 1.0; n < 40; n++ {
		term = float64(-term * x / n)
		sum += float64(g.Shape * term / (g.Shape + n))
	}
	return -portable.Expm1(e) - float64(portable.Exp(e)*sum)
}

// fraction is the continued fraction of DLMF 8.9.2: Lentz's method says how many
// terms it takes, and evaluation from the last one loses the least.
func (g GammaTail) fraction(x float64) float64 {
	term := func(n float64) float64 { return -float64(n * (n - g.Shape)) }
	b := x + 1 - g.Shape
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

// Tables returns the tables of both halves.
func (g GammaTail) Tables() (lower, upper *TailTable) {
	below, above := g, g
	below.upper, above.upper = false, true
	start := g.Shape // near the median, or below it for small shapes
	if g.Shape < 1 {
		start = portable.Pow(0.5, 1/g.Shape)
	}
	middle := tailQuantile(below, 0.5, start)
	return newTailTable(below, middle), newTailTable(above, middle)
}
