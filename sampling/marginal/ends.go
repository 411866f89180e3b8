package marginal

import (
	"fmt"
	"math"
	"proofmass/sampling/special"
)

// TriangularEnds returns the triangular distribution with that mode of which low
// is the percentile p and high the percentile q, both as shares: 0.05 and 0.95
// say that one in ten lies outside. low <= mode <= high, low < high,
// 0 < p < 0.5 < q < 1.
func TriangularEnds(low, mode, high, p, q float64) (Marginal, error) {
	if err := checkEnds(low, mode, high, p, q); err != nil {
		return nil, err
	}
	l, r := mode-low, high-mode
	// with s the share of the span below the mode, l and r are the span times
	rise := func(s float64) float64 { return s - math.Sqrt(float64(p*s)) }
	fall := func(s float64) float64 { return (1 - s) - math.Sqrt(float64((1-q)*(1-s))) }
	s := bisect(p, q, func(s float64) float64 { return float64(rise(s)*r) - float64(fall(s)*l) })
	span := (l + r) / (rise(s) + fall(s))
	return Triangular(mode-float64(s*span), mode, mode+float64((1-s)*span))
}

// PERTEnds returns the PERT distribution with that mode of which low is the
// percentile p and high the percentile q; conditions as for TriangularEnds.
func PERTEnds(low, mode, high, p, q float64) (Marginal, error) {
	if err := checkEnds(low, mode, high, p, q); err != nil {
		return nil, err
	}
	share := (mode - low) / (high - low)
	ends := func(s float64) (below, above float64) {
		d := special.NewPERTBeta(1+float64(4*s), 1+float64(4*(1-s)))
		return d.Quantile(p), 1 - d.Mirror().Quantile(1-q)
	}
	s := bisect(0, 1, func(s float64) float64 {
		below, above := ends(s)
		return (s-below)/(above-below) - share
	})
	below, above := ends(s)
	span := (high - low) / (above - below)
	return PERT(mode-float64(s*span), mode, mode+float64((1-s)*span))
}

func checkEnds(low, mode, high, p, q float64) error {
	if err := checkMode(low, mode, high); err != nil {
		return err
	}
	if !(p >= 0.001 && p < 0.5 && q > 0.5 && q <= 0.999) {
		return fmt.Errorf("the ends %s and %s must be percentiles from 0.1 %% to 99.9 %% on both sides of 50 %%",
			percent(p), percent(q))
	}
	if math.IsInf(100*(high-low), 0) {
		return fmt.Errorf("the span from low %v to high %v is more than a number can hold", low, high)
	}
	return nil
}

// bisect returns where the rising f crosses 0 in [low, high], to the last bit.
func bisect(low, high float64, f func(float64) float64) float64 {
	for {
		mid := low + 0.5*(high-low)
		if !(mid > low && mid < high) {
			return mid
		}
		if f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
}
