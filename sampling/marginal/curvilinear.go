package marginal

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
)

// curvilinear is symmetric about middle. Counted from there as r, its density is
// flat up to reach-2d and then ln(reach/r) / (4d).
type curvilinear struct {
	low, high, middle float64 // the outermost limits
	reach, d          float64 // (high-low)/2 + d, half-width of the limits
	flat              float64 // density of the flat part
	corner            float64 // chance beyond it, on one side
}

// CurvilinearTrapezoidal returns the distribution of what lies anywhere between
// two limits that are themselves uncertain by +-halfWidth: low and high are the
// limits as stated, so values reach from low-halfWidth to high+halfWidth.
// low < high, 0 < halfWidth < (high-low)/2.
//
// It is one monotone function of one uniform number; the guide draws it from two.
// Source: JCGM 101:2008, 6.4.3.
func CurvilinearTrapezoidal(low, high, halfWidth float64) (Marginal, error) {
	if err := checkSpan(low, high); err != nil {
		return nil, err
	}
	half := 0.5 * (high - low)
	if !(halfWidth > 0 && halfWidth < half) {
		return nil, fmt.Errorf("the half-width %v of the limits must be above 0 and below half their distance, %v", halfWidth, half)
	}
	if math.IsInf(high-low+2*halfWidth, 0) {
		return nil, fmt.Errorf("the span from low %v to high %v is more than a number can hold", low, high)
	}
	m := curvilinear{low: low - halfWidth, high: high + halfWidth, middle: low + half, reach: half + halfWidth, d: halfWidth}
	v := 2 * (halfWidth / m.reach)
	m.flat = -portable.Log1p(-v) / (4 * halfWidth)
	m.corner = float64(m.scale() * bendChance(min(v, 1)))
	if math.IsInf(m.flat, 0) || m.low == low || m.high == high {
		return nil, fmt.Errorf("the half-width %v is lost beside low %v and high %v; between serves there", halfWidth, low, high)
	}
	return m, nil
}

// scale turns bendChance into a chance.
func (m curvilinear) scale() float64 { return m.reach / m.d * 0.25 }

// bendChance is v + (1-v) ln(1-v): 4d/reach times the chance of the outermost
// share v of the reach.
func bendChance(v float64) float64 {
	if v < 0.25 { // sum of v^k / (k (k-1)), without the loss of the difference
		sum := 0.0
		for k := 30.0; k >= 2; k-- {
			sum = float64(sum*v) + 1/(k*(k-1))
		}
		return float64(v * v * sum)
	}
	if v == 1 {
		return 1
	}
	return v + float64((1-v)*portable.Log1p(-v))
}

// bendShare is the inverse of bendChance, by Newton from its series in sqrt(2c).
func bendShare(c float64) float64 {
	if !(c > 0) {
		return 0
	}
	s := math.Sqrt(2 * c)
	v := min(float64(s*(1-float64(s*(1.0/6+s/72)))), 0.999)
	for range 40 {
		step := (bendChance(v) - c) / -portable.Log1p(-v)
		next := v - step
		if !(next < 1) {
			next = 0.5 * (1 + v)
		}
		v = next
		if math.Abs(step) < 1e-9*v { // what is left is its square
			break
		}
	}
	return v
}

// outer is the distance from an end at which the chance beyond is q <= corner.
func (m curvilinear) outer(q float64) float64 {
	return float64(m.reach * bendShare(q/m.scale()))
}

func (m curvilinear) at(p float64) float64 {
	switch {
	case p < m.corner:
		return m.low + m.outer(p)
	case 1-p < m.corner:
		return m.high - m.outer(1-p)
	}
	return m.middle + (p-0.5)/m.flat
}

func (m curvilinear) upper(q float64) float64 {
	switch {
	case q < m.corner:
		return m.high - m.outer(q)
	case 1-q < m.corner:
		return m.low + m.outer(1-q)
	}
	return m.middle + (0.5-q)/m.flat
}

func (m curvilinear) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m curvilinear) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

func (m curvilinear) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m curvilinear) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

func (m curvilinear) CDF(x float64) float64      { return m.below(x-m.low, x-m.middle) }
func (m curvilinear) Survival(x float64) float64 { return m.below(m.high-x, m.middle-x) }

// below takes the distances from the near end and beyond the middle.
func (m curvilinear) below(fromEnd, beyond float64) float64 {
	switch {
	case fromEnd != fromEnd:
		return fromEnd
	case fromEnd <= 0:
		return 0
	case math.Abs(beyond) <= m.reach-2*m.d:
		return 0.5 + float64(beyond*m.flat)
	case beyond < 0:
		return float64(m.scale() * bendChance(min(fromEnd/m.reach, 1)))
	}
	return 1 - float64(m.scale()*bendChance(clampUnit((m.reach-beyond)/m.reach)))
}

func (m curvilinear) Mean() float64 { return m.middle }

// SD is the root of (high-low)^2/12 + halfWidth^2/9.
func (m curvilinear) SD() float64 {
	half := (m.reach - m.d) / m.reach
	d := m.d / m.reach
	return float64(m.reach * math.Sqrt(float64(half*half)/3+float64(d*d)/9))
}

func (m curvilinear) Support() (low, high float64) { return m.low, m.high }

func (m curvilinear) kinks() []float64 {
	r := m.reach - 2*m.d
	return []float64{m.middle - r, m.middle + r}
}
