package marginal

import (
	"math"
	"proofmass/sampling/special"
)

// betaMarginal is low plus span times a beta variable; either half of the
// distribution has a table of the distance from its own end.
type betaMarginal struct {
	low, high, span float64
	lower, upper    *special.TailTable
}

// Beta returns the beta distribution on [low, high] with density proportional to
// t^(a-1) (1-t)^(b-1), t the share of the span: its mean is low + (high-low)
// a/(a+b). low < high, shapes from 0.01 to 1e5.
//
// Draws come from a table made here once. Source of the functions: DLMF 8.17.
func Beta(a, b, low, high float64) (Marginal, error) {
	if err := checkShape("the shape a of a beta distribution", a); err != nil {
		return nil, err
	}
	if err := checkShape("the shape b of a beta distribution", b); err != nil {
		return nil, err
	}
	if err := checkSpan(low, high); err != nil {
		return nil, err
	}
	lower, upper := special.NewBetaTail(a, b).Tables()
	return betaMarginal{low, high, high - low, lower, upper}, nil
}

func (m betaMarginal) below(p float64) float64 {
	return min(m.low+float64(m.span*m.lower.At(p)), m.high)
}

func (m betaMarginal) above(q float64) float64 {
	return max(m.high-float64(m.span*m.upper.At(q)), m.low)
}

func (m betaMarginal) Fill(x, u []float64)             { fillBelow(m, x, u) }
func (m betaMarginal) fillUpper(x, q []float64)        { fillAbove(m, x, q) }
func (m betaMarginal) Quantile(p float64) float64      { return fromBelow(m, p) }
func (m betaMarginal) QuantileUpper(q float64) float64 { return fromAbove(m, q) }

func (m betaMarginal) tail() special.BetaTail { return m.lower.Tail().(special.BetaTail) }

func (m betaMarginal) CDF(x float64) float64 {
	return m.chance(m.tail(), (x-m.low)/m.span, (m.high-x)/m.span)
}

func (m betaMarginal) Survival(x float64) float64 {
	return m.chance(m.tail().Mirror(), (m.high-x)/m.span, (x-m.low)/m.span)
}

// chance takes both shares of the span, so that neither end loses digits.
func (m betaMarginal) chance(d special.BetaTail, t, rest float64) float64 {
	switch {
	case t != t:
		return t
	case t <= 0:
		return 0
	case rest <= 0:
		return 1
	case rest < 0.5:
		return clampUnit(d.Below(special.ShareOf(rest).Mirror()))
	}
	return clampUnit(d.Below(special.ShareOf(t)))
}

func (m betaMarginal) Mean() float64 {
	d := m.tail()
	return m.low + float64(m.span*(d.A/(d.A+d.B)))
}

func (m betaMarginal) SD() float64 {
	d := m.tail()
	s := d.A + d.B
	return float64(m.span * math.Sqrt(d.A/s*(d.B/s)/(s+1)))
}

func (m betaMarginal) Support() (low, high float64) { return m.low, m.high }
