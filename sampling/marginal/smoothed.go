package marginal

import (
	"fmt"
	"math"
	"proofmass/sampling/portable"
	"slices"
)

// smoothed is a density of straight pieces between knots.
type smoothed struct {
	knots    []knot
	w        float64 // half-width of a triangle
	mean, sd float64
}

// knot holds place and density, and the chances below and above, each summed
// from its own end.
type knot struct{ x, density, below, above float64 }

// Smoothed returns the values' distribution, each value spread by a symmetric
// triangle whose sd is the bandwidth: draws reach sqrt(6) = 2.45 bandwidths
// beyond the data and no farther, and the sd grows to sqrt(s^2 + bandwidth^2).
// bandwidth > 0; at most 100,000 values. The slice is not kept.
//
// It is a kernel density estimate with a triangle for kernel, since its quantile
// is exact. Source: Silverman (1986), Density Estimation, 2.4.
func Smoothed(values []float64, bandwidth float64) (Marginal, error) {
	if err := checkValues(values, mostSmoothed); err != nil {
		return nil, err
	}
	if err := checkFinite(parameter{"the bandwidth", bandwidth}); err != nil {
		return nil, err
	}
	low, high, w := slices.Min(values), slices.Max(values), float64(math.Sqrt(6)*bandwidth)
	switch {
	case bandwidth <= 0:
		return nil, fmt.Errorf("the bandwidth %v must be above 0; without one the values are resampled as they are", bandwidth)
	case math.IsInf(high-low+2*w, 0):
		return nil, fmt.Errorf("values from %v to %v with a bandwidth of %v are more than a number can hold", low, high, bandwidth)
	case low-float64(1e-6*w) == low || high+float64(1e-6*w) == high:
		return nil, fmt.Errorf("the bandwidth %v is lost beside the values %v to %v", bandwidth, low, high)
	}
	m := &smoothed{w: w}
	m.setKnots(values)
	data := resampled{slices.Clone(values)}
	slices.Sort(data.x)
	m.mean, m.sd = data.Mean(), math.Hypot(data.SD(), bandwidth)
	return m, nil
}

// turn is a place where the slope of the density changes, in units of 1/(n w^2).
type turn struct {
	x     float64
	slope int
}

// setKnots adds up the slopes, which are whole numbers and so never drift.
func (m *smoothed) setKnots(values []float64) {
	turns := make([]turn, 0, 3*len(values))
	for _, v := range values {
		turns = append(turns, turn{v - m.w, 1}, turn{v, -2}, turn{v + m.w, 1})
	}
	slices.SortFunc(turns, func(a, b turn) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return 0
	})
	joined := turns[:0]
	for _, t := range turns {
		if last := len(joined) - 1; last >= 0 && joined[last].x == t.x {
			joined[last].slope += t.slope
		} else {
			joined = append(joined, t)
		}
	}
	m.integrate(joined, float64(len(values)))
}

// integrate makes densities and chances; in units of w the height of a triangle
// is 1/n.
func (m *smoothed) integrate(turns []turn, n float64) {
	m.knots = make([]knot, len(turns))
	slope, density, chance := 0, portable.Pair{}, portable.Pair{}
	for i, t := range turns {
		if i > 0 {
			h := (t.x - turns[i-1].x) / m.w
			rise := float64(float64(slope)*h) / n
			chance = chance.Plus(density.Plus(portable.Pair{Hi: 0.5 * rise}).Times(h))
			density = density.Plus(portable.Pair{Hi: rise})
		}
		slope += t.slope
		m.knots[i] = knot{x: t.x, density: max(density.Hi, 0) / m.w, below: max(chance.Hi, 0)}
	}
	total := chance.Hi
	last := len(turns) - 1
	m.knots[last].density, m.knots[last].below = 0, total
	above := portable.Pair{}
	for i := last; i >= 0; i-- {
		k := &m.knots[i]
		if i < last {
			next := m.knots[i+1]
			above = above.Plus(portable.Pair{Hi: float64(0.5 * (k.density + next.density) * (next.x - k.x))})
		}
		k.above = min(above.Hi, 1)
		k.below = min(k.below/total, 1)
	}
	m.knots[0].above = 1
}

// at returns the value below which the chance is p, counted from the nearer end.
func (m *smoothed) at(p float64) float64 {
	if p > 0.5 {
		return m.fromAbove(1 - p)
	}
	return m.fromBelow(p)
}

func (m *smoothed) upper(q float64) float64 {
	if q > 0.5 {
		return m.fromBelow(1 - q)
	}
	return m.fromAbove(q)
}

func (m *smoothed) fromBelow(p float64) float64 {
	lo, hi := 0, len(m.knots)-1 // below of lo is at most p, that of hi above it
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; m.knots[mid].below <= p {
			lo = mid
		} else {
			hi = mid
		}
	}
	a, b := &m.knots[lo], &m.knots[hi]
	return min(a.x+straightShare(p-a.below, a.density, b.density, b.x-a.x), b.x)
}

func (m *smoothed) fromAbove(q float64) float64 {
	lo, hi := 0, len(m.knots)-1 // above of hi is at most q, that of lo above it
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; m.knots[mid].above <= q {
			hi = mid
		} else {
			lo = mid
		}
	}
	a, b := &m.knots[lo], &m.knots[hi]
	return max(b.x-straightShare(q-b.above, b.density, a.density, b.x-a.x), a.x)
}

// straightShare is the distance t from where the density is f, becoming g over
// the width h, within which the chance is c: f t + (g-f)/(2h) t^2 = c.
func straightShare(c, f, g, h float64) float64 {
	if !(c > 0) {
		return 0
	}
	root := math.Sqrt(max(float64(f*f)+float64(2*c*((g-f)/h)), 0))
	if f+root == 0 {
		return h
	}
	return min(2*c/(f+root), h)
}

func (m *smoothed) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(p)
	}
}

func (m *smoothed) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.upper(p)
	}
}

func (m *smoothed) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	return m.at(p)
}

func (m *smoothed) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	return m.upper(q)
}

// piece returns the knots about x, which lies between the ends.
func (m *smoothed) piece(x float64) (a, b *knot) {
	k, _ := slices.BinarySearchFunc(m.knots, x, func(k knot, x float64) int {
		if k.x <= x {
			return -1
		}
		return 1
	})
	k = min(max(k, 1), len(m.knots)-1)
	return &m.knots[k-1], &m.knots[k]
}

func (m *smoothed) CDF(x float64) float64 {
	switch low, high := m.Support(); {
	case x != x:
		return x
	case x <= low:
		return 0
	case x >= high:
		return 1
	}
	a, b := m.piece(x)
	t := x - a.x
	return min(a.below+float64(t*(a.density+float64(0.5*(b.density-a.density)*(t/(b.x-a.x))))), 1)
}

func (m *smoothed) Survival(x float64) float64 {
	switch low, high := m.Support(); {
	case x != x:
		return x
	case x <= low:
		return 1
	case x >= high:
		return 0
	}
	a, b := m.piece(x)
	t := b.x - x
	return min(b.above+float64(t*(b.density+float64(0.5*(a.density-b.density)*(t/(b.x-a.x))))), 1)
}

func (m *smoothed) Mean() float64 { return m.mean }
func (m *smoothed) SD() float64   { return m.sd }

func (m *smoothed) Support() (low, high float64) {
	return m.knots[0].x, m.knots[len(m.knots)-1].x
}

// mostKinks bounds the panels of a truncated mean.
const mostKinks = 3000

func (m *smoothed) kinks() []float64 {
	if len(m.knots) > mostKinks {
		return nil
	}
	var x []float64
	for _, k := range m.knots {
		x = append(x, k.x)
	}
	return x
}
