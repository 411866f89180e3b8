package marginal

import (
	"fmt"
	"math"
)

// leastKept is the share of a distribution that limits must leave: fewer are
// almost surely a slip of a unit.
const leastKept = 1e-12

// truncated is base within [low, high]. All chances are base's: below is that
// under low, above that over high, kept what lies between.
type truncated struct {
	base               Marginal
	low, high          float64
	below, above, kept float64
	// upperTail: low lies above the median, so counting goes down from the
	// chance above low. lowerTail: high lies below the median.
	upperTail, lowerTail bool
	aboveLow, belowHigh  float64
	mean, sd             float64
}

// Truncate returns m given that it lies in [low, high]; -Inf and +Inf stand for
// no limit. Chances are renormalised, values are never moved to a limit. The
// mean and sd returned are those after truncation.
//
// Chances are counted from the tail in which the limits lie, so a far tail
// keeps its digits; limits that leave less than 1e-12 of the chance, or nothing,
// are refused. A narrow window in the middle that keeps a share s resolves
// values to 1e-16/s of its width. Limits that cut nothing give m itself.
func Truncate(m Marginal, low, high float64) (Marginal, error) {
	if err := checkLimits(m, low, high); err != nil {
		return nil, err
	}
	switch b := m.(type) {
	case constant:
		return b, nil // it lies within, by checkLimits
	case *oneOf:
		if kept := b.within(low, high); kept != nil {
			return kept, nil
		}
		return nil, fmt.Errorf("none of the values lies between min %v and max %v", low, high)
	case *resampled:
		if kept := b.within(low, high); kept != nil {
			return kept, nil
		}
		return nil, fmt.Errorf("none of the values lies between min %v and max %v", low, high)
	case *truncated:
		return Truncate(b.base, max(low, b.low), min(high, b.high))
	}
	from, to := m.Support()
	if low <= from && high >= to {
		return m, nil
	}
	t := newTruncated(m, max(low, from), min(high, to))
	if !(t.kept >= leastKept) {
		return nil, fmt.Errorf("min %v and max %v keep only %.1g of the distribution: they contradict it", low, high, max(t.kept, 0))
	}
	t.mean, t.sd = moments(t)
	return t, nil
}

func checkLimits(m Marginal, low, high float64) error {
	if low != low || high != high {
		return fmt.Errorf("min and max must be numbers, got %v and %v", low, high)
	}
	from, to := m.Support()
	switch {
	case low > high || low == high && from != to:
		return fmt.Errorf("min %v must be below max %v", low, high)
	case low > to:
		return fmt.Errorf("min %v lies above the largest value, %v", low, to)
	case high < from:
		return fmt.Errorf("max %v lies below the smallest value, %v", high, from)
	}
	return nil
}

func newTruncated(m Marginal, low, high float64) *truncated {
	t := &truncated{base: m, low: low, high: high, below: m.CDF(low), above: m.Survival(high), aboveLow: m.Survival(low), belowHigh: m.CDF(high)}
	t.upperTail, t.lowerTail = t.below > 0.5, t.belowHigh <= 0.5
	switch {
	case t.upperTail:
		t.kept = t.aboveLow - t.above
	case t.lowerTail:
		t.kept = t.belowHigh - t.below
	default:
		t.kept = 1 - t.below - t.above
	}
	return t
}

// Fill turns u into chances of base, in x, and lets base fill from them.
func (t *truncated) Fill(x, u []float64) {
	if !t.upperTail {
		for i, p := range u {
			x[i] = t.below + float64(p*t.kept)
		}
		t.base.Fill(x, x)
	} else {
		for i, p := range u {
			x[i] = t.aboveLow - float64(p*t.kept)
		}
		FillUpper(t.base, x, x)
	}
	t.clamp(x)
}

func (t *truncated) fillUpper(x, q []float64) {
	if t.lowerTail {
		for i, p := range q {
			x[i] = t.belowHigh - float64(p*t.kept)
		}
		t.base.Fill(x, x)
	} else {
		for i, p := range q {
			x[i] = t.above + float64(p*t.kept)
		}
		FillUpper(t.base, x, x)
	}
	t.clamp(x)
}

// clamp undoes the rounding of values at the very limits.
func (t *truncated) clamp(x []float64) {
	for i, v := range x {
		x[i] = min(max(v, t.low), t.high)
	}
}

// FillUpper sets x[i] = m.QuantileUpper(q[i]), bit for bit; conditions as for Fill.
func FillUpper(m Marginal, x, q []float64) {
	if f, ok := m.(upperFiller); ok {
		f.fillUpper(x, q)
		return
	}
	for i, p := range q { // a marginal of the caller's own
		x[i] = m.QuantileUpper(p)
	}
}

func (t *truncated) Quantile(p float64) float64 {
	if outside(p) {
		return math.NaN()
	}
	x := [1]float64{p}
	t.Fill(x[:], x[:])
	return x[0]
}

func (t *truncated) QuantileUpper(q float64) float64 {
	if outside(q) {
		return math.NaN()
	}
	x := [1]float64{q}
	t.fillUpper(x[:], x[:])
	return x[0]
}

func (t *truncated) CDF(x float64) float64 {
	if t.upperTail {
		return clampUnit((t.aboveLow - t.base.Survival(x)) / t.kept)
	}
	return clampUnit((t.base.CDF(x) - t.below) / t.kept)
}

func (t *truncated) Survival(x float64) float64 {
	if t.lowerTail {
		return clampUnit((t.belowHigh - t.base.CDF(x)) / t.kept)
	}
	return clampUnit((t.base.Survival(x) - t.above) / t.kept)
}

func (t *truncated) Mean() float64 { return t.mean }
func (t *truncated) SD() float64   { return t.sd }

func (t *truncated) Support() (low, high float64) { return t.low, t.high }

func (t *truncated) kinks() []float64 {
	if k, ok := t.base.(kinked); ok {
		return k.kinks()
	}
	return nil
}
