package marginal

import (
	"fmt"
	"math"
	"proofmass/sampling/special"
)

// leastFreedom keeps the sd finite, and truncated tails integrable in numbers.
const (
	leastFreedom   = 2.1
	largestFreedom = 2e5
)

// student is middle plus scale times Student's t.
type student struct {
	middle, scale float64
	upper         *special.TailTable
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
	return student{middle, scale, special.NewStudentTail(freedom).Table()}
}

func (m student) below(p float64) float64 { return m.middle - float64(m.scale*m.upper.At(p)) }
func (m student) above(q float64) float64 { return m.middle + float64(m.scale*m.upper.At(q)) }

func (m student) Fill(x, u []float64)             { fillBelow(m, x, u) }
func (m student) fillUpper(x, q []float64)        { fillAbove(m, x, q) }
func (m student) Quantile(p float64) float64      { return fromBelow(m, p) }
func (m student) QuantileUpper(q float64) float64 { return fromAbove(m, q) }

func (m student) tail() special.StudentTail { return m.upper.Tail().(special.StudentTail) }

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
		return 1 - m.tail().Chance(t)
	}
	return m.tail().Chance(-t)
}

func (m student) Mean() float64 { return m.middle }

func (m student) SD() float64 {
	nu := m.tail().Nu
	return float64(m.scale * math.Sqrt(nu/(nu-2)))
}

func (m student) Support() (low, high float64) { return math.Inf(-1), math.Inf(1) }
