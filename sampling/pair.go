package sampling

import (
	"math"

	"proofmass/sampling/portable"
)

// pair is an unevaluated sum of two numbers, hi carrying the value and lo what
// its rounding lost. Exponents of tails are kept so: a rounded exponent of 700
// alone would cost 350 units in the last place.
type pair struct{ hi, lo float64 }

// sumOf returns a+b without a loss (Knuth).
func sumOf(a, b float64) pair {
	s := a + b
	v := s - a
	return pair{s, (a - (s - v)) + (b - v)}
}

func (p pair) plus(q pair) pair {
	s := sumOf(p.hi, q.hi)
	return sumOf(s.hi, s.lo+(p.lo+q.lo))
}

func (p pair) minus(q pair) pair { return p.plus(pair{-q.hi, -q.lo}) }

// times returns c*p.
func (p pair) times(c float64) pair {
	h := float64(c * p.hi)
	return pair{h, math.FMA(c, p.hi, -h) + float64(c*p.lo)}
}

// log returns ln p, p > 0.
func (p pair) log() pair {
	hi, lo := portable.LogSum(p.hi)
	return pair{hi, lo + p.lo/p.hi}
}

func logOf(x float64) pair { return pair{x, 0}.log() }

// exp returns e^p.
func (p pair) exp() float64 {
	if math.Abs(p.lo) > 1e-9 { // hi is far beyond what has a finite exponential
		return portable.Exp(p.hi)
	}
	return portable.ExpSum(p.hi, p.lo)
}
