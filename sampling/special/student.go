package special

import (
	"math"

	"proofmass/sampling/portable"
)

// StudentTail is the upper tail of Student's t, a beta tail of nu/(nu+t^2).
type StudentTail struct {
	Nu   float64  // degrees of freedom
	beta BetaTail // shapes nu/2, 1/2
}

// NewStudentTail returns the tail for 1 to 2e5 degrees of freedom.
func NewStudentTail(nu float64) StudentTail { return StudentTail{nu, NewBetaTail(0.5*nu, 0.5)} }

func (s StudentTail) Falls() bool { return true }

// share is nu/(nu+t^2) and its rest t^2/(nu+t^2), each logarithm from what is
// small.
func (s StudentTail) share(t float64) Share {
	ratio := portable.LogPair(t).Times(2).Minus(portable.LogPair(s.Nu)) // ln of t^2/nu
	if r := float64(t / s.Nu * t); r < 1 {
		lx := portable.Pair{Hi: -portable.Log1p(r)}
		return Share{1 / (1 + r), r / (1 + r), lx, lx.Plus(ratio)}
	}
	r := float64(s.Nu / t / t)
	ly := portable.Pair{Hi: -portable.Log1p(r)}
	return Share{r / (1 + r), 1 / (1 + r), ly.Minus(ratio), ly}
}

func (s StudentTail) Chance(t float64) float64 {
	if t <= 0 {
		return 0.5
	}
	return 0.5 * s.beta.Below(s.share(t))
}

func (s StudentTail) Density(t float64) (tf, bend float64) {
	return s.beta.power(s.share(t)), -(s.Nu + 1) * (t / (s.Nu + float64(t*t)))
}

// Peak is the density at 0.
func (s StudentTail) Peak() float64 { return s.peak() }

func (s StudentTail) peak() float64 {
	return float64(s.beta.front*s.beta.offset.Exp()) / math.Sqrt(s.Nu)
}

// Table returns the table of the upper half.
func (s StudentTail) Table() *TailTable { return newTailTable(s, 0) }
