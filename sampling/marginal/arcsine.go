package marginal

import (
	"math"

	"proofmass/sampling/portable"
)

type arcsine struct{ low, high, span float64 }

// Arcsine returns the distribution on [low, high] of a sine whose phase is
// unknown; it is dense at both ends. low < high. Source: JCGM 101:2008, 6.4.6.
func Arcsine(low, high float64) (Marginal, error) {
	if err := checkSpan(low, high); err != nil {
		return nil, err
	}
	return arcsine{low, high, high - low}, nil
}

// at counts from the nearer end: the share of the span is sin^2(pi p/2).
func (m arcsine) at(p float64) float64 {
	if p > 0.5 {
		return m.high - m.distance(1-p)
	}
	return m.low + m.distance(p)
}

func (m arcsine) upper(q float64) float64 {
	if q > 0.5 {
		return m.low + m.distance(1-q)
	}
	return m.high - m.distance(q)
}

func (m arcsine) distance(p float64) float64 {
	s := portable.SinSmall(float64(0.5 * math.Pi * p))
	return float64(m.span * float64(s*s))
}

func (m arcsine) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m arcsine) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

func (m arcsine) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m arcsine) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

func (m arcsine) CDF(x float64) float64 {
	return arcsineShare((x-m.low)/m.span, (m.high-x)/m.span)
}

func (m arcsine) Survival(x float64) float64 {
	return arcsineShare((m.high-x)/m.span, (x-m.low)/m.span)
}

// arcsineShare is (2/pi) asin(sqrt(t)) with 1-t given apart.
func arcsineShare(t, rest float64) float64 {
	switch {
	case t <= 0:
		return 0
	case rest <= 0:
		return 1
	case t > 0.5:
		return 1 - arcsineShare(rest, t)
	}
	s := math.Sqrt(t) // the angle of which s is the sine, by Newton from its series
	angle := float64(s * (1 + float64(t*(1.0/6+float64(t*(3.0/40+float64(t*(15.0/336))))))))
	for range 3 {
		angle -= (portable.SinSmall(angle) - s) / portable.CosSmall(angle)
	}
	return float64(angle * (2 / math.Pi))
}

func (m arcsine) Mean() float64                { return m.low + 0.5*m.span }
func (m arcsine) SD() float64                  { return float64(m.span * math.Sqrt(0.125)) }
func (m arcsine) Support() (low, high float64) { return m.low, m.high }
