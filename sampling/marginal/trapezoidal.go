package marginal

import (
	"fmt"
	"math"
)

// trapezoidal counts from the nearer end: up the rise, along the flat top, down
// the fall. rise and fall are the chances of the slopes.
type trapezoidal struct {
	a, b, c, d float64
	top        float64 // the density of the flat top
	rise, fall float64
}

// Trapezoidal returns the distribution whose density rises from a to b, is flat
// to c and falls to d; a <= b <= c <= d, a < d. It need not be symmetric. Source:
// JCGM 101:2008, 6.4.4, which has the symmetric one.
func Trapezoidal(a, b, c, d float64) (Marginal, error) {
	if err := checkSpan(a, d); err != nil {
		return nil, err
	}
	if !(b >= a && c >= b && d >= c) {
		return nil, fmt.Errorf("the four values %v, %v, %v, %v of a trapezoid must not fall", a, b, c, d)
	}
	m := trapezoidal{a: a, b: b, c: c, d: d}
	width := 0.5*(b-a) + (c - b) + 0.5*(d-c)
	m.top = 1 / width
	m.rise, m.fall = 0.5*(b-a)/width, 0.5*(d-c)/width
	if math.IsInf(m.top, 0) {
		return nil, fmt.Errorf("the span from %v to %v is too narrow", a, d)
	}
	return m, nil
}

func (m trapezoidal) at(p float64) float64 {
	switch {
	case p <= m.rise && m.rise > 0:
		return min(m.a+float64((m.b-m.a)*math.Sqrt(p/m.rise)), m.b)
	case 1-p < m.fall:
		return max(m.d-float64((m.d-m.c)*math.Sqrt((1-p)/m.fall)), m.c)
	}
	return min(m.b+(p-m.rise)/m.top, m.c)
}

func (m trapezoidal) upper(q float64) float64 {
	switch {
	case q <= m.fall && m.fall > 0:
		return max(m.d-float64((m.d-m.c)*math.Sqrt(q/m.fall)), m.c)
	case 1-q < m.rise:
		return min(m.a+float64((m.b-m.a)*math.Sqrt((1-q)/m.rise)), m.b)
	}
	return max(m.c-(q-m.fall)/m.top, m.b)
}

func (m trapezoidal) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m trapezoidal) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

func (m trapezoidal) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m trapezoidal) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

func (m trapezoidal) CDF(x float64) float64 {
	switch {
	case x != x:
		return x
	case x <= m.a:
		return 0
	case x >= m.d:
		return 1
	case x < m.b:
		s := (x - m.a) / (m.b - m.a)
		return float64(m.rise * float64(s*s))
	case x <= m.c:
		return m.rise + float64(m.top*(x-m.b))
	}
	return 1 - m.Survival(x)
}

func (m trapezoidal) Survival(x float64) float64 {
	switch {
	case x != x:
		return x
	case x <= m.a:
		return 1
	case x >= m.d:
		return 0
	case x > m.c:
		s := (m.d - x) / (m.d - m.c)
		return float64(m.fall * float64(s*s))
	case x >= m.b:
		return m.fall + float64(m.top*(m.c-x))
	}
	return 1 - m.CDF(x)
}

// pieces calls f with the chance of each part, and its mean counted from a and
// its variance in units of the span, in which no square overflows.
func (m trapezoidal) pieces(f func(weight, mean, variance float64)) {
	span := m.d - m.a
	r, t, s := (m.b-m.a)/span, (m.c-m.b)/span, (m.d-m.c)/span
	f(m.rise, 2*r/3, float64(r*r)/18)
	f(max(1-m.rise-m.fall, 0), r+0.5*t, float64(t*t)/12)
	f(m.fall, r+t+s/3, float64(s*s)/18)
}

func (m trapezoidal) centre() float64 {
	sum := 0.0
	m.pieces(func(w, mean, _ float64) { sum += float64(w * mean) })
	return sum
}

func (m trapezoidal) Mean() float64 { return m.a + float64((m.d-m.a)*m.centre()) }

func (m trapezoidal) SD() float64 {
	centre, sum := m.centre(), 0.0
	m.pieces(func(w, mean, variance float64) {
		d := mean - centre
		sum += float64(w * (float64(d*d) + variance))
	})
	return float64((m.d - m.a) * math.Sqrt(sum))
}

func (m trapezoidal) Support() (low, high float64) { return m.a, m.d }
func (m trapezoidal) kinks() []float64             { return []float64{m.b, m.c} }
