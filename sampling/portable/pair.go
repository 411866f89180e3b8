package portable

import "math"

// A Pair is an unevaluated sum of two numbers, Hi carrying the value and Lo what its
// rounding lost. Exponents of tails are kept so: a rounded exponent of 700 alone would
// cost 350 units in the last place. Sums are Knuth's (TAOCP 2, section 4.2.2).
type Pair struct{ Hi, Lo float64 }

// Sum returns a+b without a loss.
func Sum(a, b float64) Pair {
	s := a + b
	v := s - a
	return Pair{s, (a - (s - v)) + (b - v)}
}

// Plus returns p+q.
func (p Pair) Plus(q Pair) Pair {
	s := Sum(p.Hi, q.Hi)
	return Sum(s.Hi, s.Lo+(p.Lo+q.Lo))
}

// Minus returns p-q.
func (p Pair) Minus(q Pair) Pair { return p.Plus(Pair{-q.Hi, -q.Lo}) }

// Times returns c*p.
func (p Pair) Times(c float64) Pair {
	h := float64(c * p.Hi)
	return Pair{h, math.FMA(c, p.Hi, -h) + float64(c*p.Lo)}
}

// Product returns p*q.
func (p Pair) Product(q Pair) Pair {
	h := p.Times(q.Hi)
	return Sum(h.Hi, h.Lo+float64(p.Hi*q.Lo))
}

// Log returns ln p, p > 0 and finite, with a relative error near 2^-65.
func (p Pair) Log() Pair {
	hi, lo := logPair(p.Hi)
	return Pair{hi, lo + p.Lo/p.Hi}
}

// LogPair returns ln x, x > 0 and finite, as a sum of two numbers.
func LogPair(x float64) Pair { return Pair{x, 0}.Log() }

// Exp returns e^p.
func (p Pair) Exp() float64 {
	if math.Abs(p.Lo) > 1e-9 { // Hi is far beyond what has a finite exponential
		return Exp(p.Hi)
	}
	return expSum(p.Hi, p.Lo)
}
