package marginal

import (
	"fmt"
	"math"

	"proofmass/sampling/portable"
)

// Widen returns m with its doubt times factor, more than 0: every quantile as far from the
// median as before, times factor; of LogNormal and LogBetween in the logarithm. Limits of
// Truncate stay and renormalise. OneOf has its weights to the power of 1/factor^2, as the
// density of a normal whose sd is times factor: equal weights stay. A constant stays.
func Widen(m Marginal, factor float64) (Marginal, error) {
	if !(factor > 0) || math.IsInf(factor, 1) {
		return nil, fmt.Errorf("the factor %v of a width must be above 0", factor)
	}
	switch b := m.(type) {
	case constant:
		return b, nil
	case normal:
		return Normal(b.mean, float64(b.sd*factor))
	case logNormal:
		return newLogNormal(b.median, float64(b.s*factor))
	case logBetween:
		middle, half := math.Sqrt(b.low)*math.Sqrt(b.high), float64(b.span*factor)/2
		return LogBetween(middle*portable.Exp(-half), middle*portable.Exp(half))
	case between:
		middle, half := b.low+b.span/2, float64(b.span*factor)/2
		return Between(middle-half, middle+half)
	case *oneOf:
		return b.sharpened(1 / float64(factor*factor))
	case *truncated:
		return b.widened(factor)
	}
	w := scaled{of: m, middle: m.Quantile(0.5), factor: factor}
	for _, p := range []float64{1e-300, 1} {
		if x := w.QuantileUpper(p); math.IsInf(x, 0) && !math.IsInf(m.QuantileUpper(p), 0) || x != x {
			return nil, fmt.Errorf("times %v the distribution goes beyond what a number can hold", factor)
		}
	}
	return w, nil
}

// sharpened has each weight to a power.
func (m *oneOf) sharpened(power float64) (Marginal, error) {
	weights := make([]float64, len(m.weights))
	for k, w := range m.weights {
		weights[k] = portable.Pow(w, power)
	}
	return OneOf(m.values, weights)
}

// widened keeps the limits that cut something; the ends of what was cut are none. Where the
// middle of what was cut lies beyond a limit, the distance is from the middle of what is left.
func (t *truncated) widened(factor float64) (Marginal, error) {
	var base Marginal = scaled{of: t, middle: t.Quantile(0.5), factor: factor}
	if !t.upperTail && !t.lowerTail {
		var err error
		if base, err = Widen(t.base, factor); err != nil {
			return nil, err
		}
	}
	from, to := t.base.Support()
	low, high := t.low, t.high
	if low == from {
		low = math.Inf(-1)
	}
	if high == to {
		high = math.Inf(1)
	}
	return Truncate(base, low, high)
}

// scaled is another marginal with every quantile factor times as far from the middle.
type scaled struct {
	of             Marginal
	middle, factor float64
}

func (s scaled) to(x float64) float64   { return s.middle + float64(s.factor*(x-s.middle)) }
func (s scaled) from(x float64) float64 { return s.middle + (x-s.middle)/s.factor }

func (s scaled) Fill(x, u []float64) {
	s.of.Fill(x, u)
	for i, v := range x {
		x[i] = s.to(v)
	}
}

func (s scaled) fillUpper(x, q []float64) {
	FillUpper(s.of, x, q)
	for i, v := range x {
		x[i] = s.to(v)
	}
}

func (s scaled) Quantile(p float64) float64      { return s.to(s.of.Quantile(p)) }
func (s scaled) QuantileUpper(q float64) float64 { return s.to(s.of.QuantileUpper(q)) }
func (s scaled) CDF(x float64) float64           { return s.of.CDF(s.from(x)) }
func (s scaled) Survival(x float64) float64      { return s.of.Survival(s.from(x)) }
func (s scaled) Mean() float64                   { return s.to(s.of.Mean()) }
func (s scaled) SD() float64                     { return float64(s.factor * s.of.SD()) }

func (s scaled) Support() (low, high float64) {
	low, high = s.of.Support()
	return s.to(low), s.to(high)
}

func (s scaled) kinks() []float64 {
	k, ok := s.of.(kinked)
	if !ok {
		return nil
	}
	var all []float64
	for _, x := range k.kinks() {
		all = append(all, s.to(x))
	}
	return all
}
