package sampling

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
)

// leastFreedom keeps the sd finite, and truncated tails integrable in numbers.
const (
	leastFreedom   = 2.1
	largestFreedom = 2e5
)

// studentTail is the upper tail of Student's t, a beta tail of nu/(nu+t^2).
type studentTail struct {
	nu   float64
	beta betaTail // shapes nu/2, 1/2
}

func newStudentTail(nu float64) studentTail { return studentTail{nu, newBetaTail(0.5*nu, 0.5)} }

func (s studentTail) falls() bool { return true }

// share is nu/(nu+t^2) and its rest t^2/(nu+t^2), each logarithm from what is
// small.
func (s studentTail) share(t float64) share {
	ratio := logOf(t).times(2).minus(logOf(s.nu)) // ln of t^2/nu
	if r := float64(t / s.nu * t); r < 1 {
		lx := pair{-portable.Log1p(r), 0}
		return share{1 / (1 + r), r / (1 + r), lx, lx.plus(ratio)}
	}
	r := float64(s.nu / t / t)
	ly := pair{-portable.Log1p(r), 0}
	return share{r / (1 + r), 1 / (1 + r), ly.minus(ratio), ly}
}

func (s studentTail) chance(t float64) float64 {
	if t <= 0 {
		return 0.5
	}
	return 0.5 * s.beta.below(s.share(t))
}

func (s studentTail) density(t float64) (tf, bend float64) {
	return s.beta.power(s.share(t)), -(s.nu + 1) * (t / (s.nu + float64(t*t)))
}

// peak is the density at 0.
func (s studentTail) peak() float64 {
	return float64(s.beta.front*s.beta.offset.exp()) / math.Sqrt(s.nu)
}

// student is middle plus scale times Student's t.
type student struct {
	middle, scale float64
	upper         *tailTable
}

// Student returns Student's t distribution with that many degrees of freedom,
// moved to middle and stretched by scale > 0. Its sd is scale *
// sqrt(freedom/(freedom-2)), not scale. 2.1 <= freedom <= 2e5.
//
// Draws come from a table made here once. Source: DLMF 8.17, with Abramowitz and
// Stegun (1964), 26.7.1.
func Student(freedom, middle, scale float64) (Marginal, error) {
	if !(freedom >= leastFreedom && freedom <= largestFreedom) {
		return nil, fmt.Errorf("%v degrees of freedom; Student's t takes %g (at 2 and below it has no sd) to %g (a normal serves there)",
			freedom, leastFreedom, largestFreedom)
	}
	if err := checkFinite(parameter{"the middle", middle}); err != nil {
		return nil, err
	}
	if err := checkScale(scale); err != nil {
		return nil, err
	}
	m := newStudent(freedom, middle, scale)
	if far := m.above(1e-300); math.IsInf(far, 0) || math.IsInf(middle-far, 0) {
		return nil, fmt.Errorf("a Student's t with middle %v and scale %v goes beyond what a number can hold", middle, scale)
	}
	return m, nil
}

func newStudent(freedom, middle, scale float64) student {
	return student{middle, scale, newTailTable(newStudentTail(freedom), 0)}
}

func (m student) below(p float64) float64 { return m.middle - float64(m.scale*m.upper.at(p)) }
func (m student) above(q float64) float64 { return m.middle + float64(m.scale*m.upper.at(q)) }

func (m student) Fill(x, u []float64)             { fillBelow(m, x, u) }
func (m student) fillUpper(x, q []float64)        { fillAbove(m, x, q) }
func (m student) Quantile(p float64) float64      { return fromBelow(m, p) }
func (m student) QuantileUpper(q float64) float64 { return fromAbove(m, q) }

func (m student) tail() studentTail { return m.upper.t.(studentTail) }

func (m student) CDF(x float64) float64      { return m.chance((x - m.middle) / m.scale) }
func (m student) Survival(x float64) float64 { return m.chance((m.middle - x) / m.scale) }

// chance returns that of the unit distribution below t.
func (m student) chance(t float64) float64 {
	switch {
	case t != t:
		return t
	case math.IsInf(t, 0):
		return clampUnit(t)
	case t > 0:
		return 1 - m.tail().chance(t)
	}
	return m.tail().chance(-t)
}

func (m student) Mean() float64 { return m.middle }

func (m student) SD() float64 {
	nu := m.tail().nu
	return float64(m.scale * math.Sqrt(nu/(nu-2)))
}

func (m student) Support() (low, high float64) { return math.Inf(-1), math.Inf(1) }
