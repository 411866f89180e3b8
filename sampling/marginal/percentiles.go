package marginal

import (
	"fmt"
	"math"
	"slices"

	"proofmass/sampling/portable"
)

// percentiles is a monotone cubic H through (z_k, x_k), z the normal score of
// the percentiles: piece k lies between knots k and k+1, beyond the ends H is a
// straight line in z.
type percentiles struct {
	z, x, slope []float64
	mean, sd    float64
}

// Percentiles returns a distribution with these percentiles: the chance below
// x[k] is p[k]. There are two to nine, 0 < p < 1, both p and x increasing.
//
// The value is a monotone cubic of the normal score Phi^-1(p) with the slopes
// of Fritsch and Butland (1984), SIAM J. Sci. Stat. Comput. 5, 300-304, and
// straight beyond the ends, whose slopes are those of the outer chords: tails
// are normal. Points on a normal give that normal. The density has kinks at
// the given points. The slices are not kept.
func Percentiles(p, x []float64) (Marginal, error) {
	if err := checkPercentiles(p, x); err != nil {
		return nil, err
	}
	m := &percentiles{z: make([]float64, len(p)), x: slices.Clone(x), slope: make([]float64, len(p))}
	for k := range p {
		m.z[k] = portable.NormalQuantile(p[k])
		if k > 0 && !(m.z[k] > m.z[k-1]) {
			return nil, fmt.Errorf("the percentiles %v and %v are too close", percent(p[k-1]), percent(p[k]))
		}
	}
	m.setSlopes()
	for _, v := range []float64{m.at(-farScore), m.at(farScore)} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("the tails of these percentiles go beyond what a number can hold")
		}
	}
	m.mean, m.sd = moments(m)
	return m, nil
}

func percent(p float64) string { return fmt.Sprintf("%.6g %%", 100*p) }

func checkPercentiles(p, x []float64) error {
	if len(p) != len(x) {
		return fmt.Errorf("got %d percentiles and %d values; each needs one", len(p), len(x))
	}
	if len(p) < 2 || len(p) > 9 {
		return fmt.Errorf("got %d percentiles; two to nine are allowed", len(p))
	}
	for k := range p {
		if !(p[k] > 0 && p[k] < 1) {
			return fmt.Errorf("the percentile %s must lie between 0 %% and 100 %%, both excluded", percent(p[k]))
		}
		if err := checkFinite(parameter{"the value at " + percent(p[k]), x[k]}); err != nil {
			return err
		}
		if k == 0 {
			continue
		}
		if p[k] <= p[k-1] {
			return fmt.Errorf("the percentiles must increase, but %s follows %s", percent(p[k]), percent(p[k-1]))
		}
		if x[k] <= x[k-1] {
			return fmt.Errorf("the value %v at %s must be above the value %v at %s", x[k], percent(p[k]), x[k-1], percent(p[k-1]))
		}
	}
	return nil
}

func (m *percentiles) setSlopes() {
	last := len(m.x) - 1
	chord := func(k int) (h, s float64) {
		h = m.z[k+1] - m.z[k]
		return h, (m.x[k+1] - m.x[k]) / h
	}
	_, m.slope[0] = chord(0)
	_, m.slope[last] = chord(last - 1)
	for k := 1; k < last; k++ {
		h0, s0 := chord(k - 1)
		h1, s1 := chord(k)
		m.slope[k] = 3 * (h0 + h1) / ((float64(2*h1)+h0)/s0 + (h1+float64(2*h0))/s1)
	}
}

// at returns the value at the normal score z.
func (m *percentiles) at(z float64) float64 {
	last := len(m.z) - 1
	switch {
	case z < m.z[0]:
		return m.x[0] + float64(m.slope[0]*(z-m.z[0]))
	case z >= m.z[last]:
		return m.x[last] + float64(m.slope[last]*(z-m.z[last]))
	}
	k := 0
	for k < last-1 && z >= m.z[k+1] {
		k++
	}
	v, _ := m.piece(k, (z-m.z[k])/(m.z[k+1]-m.z[k]))
	return v
}

// piece returns value and slope of piece k at t in [0, 1].
func (m *percentiles) piece(k int, t float64) (value, slope float64) {
	h := m.z[k+1] - m.z[k]
	d := m.x[k+1] - m.x[k]
	a, b := float64(h*m.slope[k]), float64(h*m.slope[k+1])
	c2 := float64(3*d) - float64(2*a) - b
	c3 := a + b - float64(2*d)
	value = m.x[k] + float64(t*(a+float64(t*(c2+float64(t*c3)))))
	slope = a + float64(t*(float64(2*c2)+float64(3*t*c3)))
	return min(value, m.x[k+1]), slope
}

func (m *percentiles) Fill(x, u []float64) {
	for i, p := range u {
		x[i] = m.at(portable.NormalQuantile(p))
	}
}

func (m *percentiles) fillUpper(x, q []float64) {
	for i, p := range q {
		x[i] = m.at(portable.NormalQuantileUpper(p))
	}
}

func (m *percentiles) Quantile(p float64) float64 { return m.at(portable.NormalQuantile(p)) }

func (m *percentiles) QuantileUpper(q float64) float64 {
	return m.at(portable.NormalQuantileUpper(q))
}

// score returns the z whose value is x.
func (m *percentiles) score(x float64) float64 {
	last := len(m.x) - 1
	switch {
	case x < m.x[0]:
		return m.z[0] + (x-m.x[0])/m.slope[0]
	case x >= m.x[last]:
		return m.z[last] + (x-m.x[last])/m.slope[last]
	case x != x:
		return x
	}
	k := 0
	for k < last-1 && x >= m.x[k+1] {
		k++
	}
	return m.z[k] + float64(m.inPiece(k, x)*(m.z[k+1]-m.z[k]))
}

// inPiece solves piece(k, t) = x for t: Newton steps, halved into the bracket
// where they leave it.
func (m *percentiles) inPiece(k int, x float64) float64 {
	lo, hi, t := 0.0, 1.0, 0.5
	for range 80 {
		v, slope := m.piece(k, t)
		if v < x {
			lo = t
		} else {
			hi = t
		}
		next := t - (v-x)/slope
		if !(next >= lo && next <= hi) {
			next = lo + 0.5*(hi-lo)
		}
		if math.Abs(next-t) < 1e-17 || next == t {
			return next
		}
		t = next
	}
	return t
}

func (m *percentiles) CDF(x float64) float64      { return portable.NormalCDF(m.score(x)) }
func (m *percentiles) Survival(x float64) float64 { return portable.NormalSurvival(m.score(x)) }
func (m *percentiles) Mean() float64              { return m.mean }
func (m *percentiles) SD() float64                { return m.sd }

func (m *percentiles) Support() (low, high float64) { return math.Inf(-1), math.Inf(1) }
func (m *percentiles) kinks() []float64             { return m.x }
