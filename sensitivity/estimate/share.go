package estimate

import (
	"fmt"
	"math"
)

// A Share is one of several that add up to 1, with its interval.
type Share struct {
	Value float64
	Interval
}

// Shares are the shares of several sums in their total: sums[i][r] is that of replicate r. The
// intervals are those of a ratio over replicates, with t of R-1 degrees of freedom, on the logit,
// so that they stay within 0 and 1:
//
//	d_r = (A_r - p B_r) / mean B,  se^2 = sum d_r^2 / (R ),  logit p -+ t se / (p (1-p)).
//
// A share of exactly 0 or 1 has none, nor has any with fewer than 2 replicates.
func Shares(sums [][]float64, level float64) ([]Share, error) {
	o, err := Options{Level: level}.withDefaults()
	if err != nil {
		return nil, err
	}
	if len(sums) == 0 {
		return nil, nil
	}
	replicates := len(sums[0])
	total, all := make([]float64, replicates), 0.0
	for i, of := range sums {
		if len(of) != replicates {
			return nil, fmt.Errorf("estimate: %d replicates of sum %d, %d of the first", len(of), i, replicates)
		}
		for r, x := range of {
			if !(x >= 0) || math.IsInf(x, 0) {
				return nil, fmt.Errorf("estimate: sum %d of replicate %d is %g, want 0 or more", i, r, x)
			}
			total[r] += x
			all += x
		}
	}
	shares := make([]Share, len(sums))
	n := float64(replicates)
	for i, of := range sums {
		own, square := 0.0, 0.0
		for _, x := range of {
			own += x
		}
		p := own / all
		shares[i] = Share{p, None()}
		if replicates < 2 || !(p > 0 && p < 1) {
			continue
		}
		for r, x := range of {
			d := (x - float64(p*total[r])) / (all / n)
			square += float64(d * d)
		}
		half := StudentQuantile(o.Level, replicates-1) * math.Sqrt(square/(n*(n-1))) / (p * (1 - p))
		at := math.Log(p / (1 - p))
		shares[i].Interval = Interval{1 / (1 + math.Exp(half-at)), 1 / (1 + math.Exp(-half-at))}
	}
	return shares, nil
}
