package estimate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestGivenThatAClaimHolds: X and Y are standard normal with correlation r, and rows count 1 where
// the claim Y <= h holds, else nothing. Mean and variance of X are those of a truncated normal
// variable (r times -phi(h)/Phi(h); Johnson, Kotz and Balakrishnan 1994, Continuous Univariate
// Distributions 1, 13.10.1), percentiles those at which Phi2(x, h; r) / Phi(h), by quadrature,
// is 0.05, 0.5 and 0.95. Intervals are 95 % ones: a value may lie outside by as much again, which
// one of fifteen does with a chance below 0.01.
func TestGivenThatAClaimHolds(t *testing.T) {
	const replicates, each = 16, 3072
	for _, c := range []struct{ r, h, mean, variance, p05, p50, p95 float64 }{
		{0.5, 0, -0.39894228040143267794, 0.84084505690810466423, -1.9163319446876, -0.39351901021575, 1.0999167648437},
		{0.8, -1, -1.2201082209287849673, 0.48742250596502322659, -2.4003778742136, -1.2004743852228, -0.10718203761637},
		{-0.6, -2, 1.4239293196937045204, 0.68114047614906925239, 0.071764145395763, 1.4208969055121, 2.7863876458235},
	} {
		rng := rand.New(rand.NewPCG(12, math.Float64bits(c.r)))
		x, weight, bounds := Values{}, []float64{}, []int{0}
		for range replicates {
			for range each {
				u, v := rng.NormFloat64(), rng.NormFloat64()
				holds := 0.0
				if c.r*u+math.Sqrt(1-c.r*c.r)*v <= c.h {
					holds = 1
				}
				x, weight = append(x, u), append(weight, holds)
			}
			bounds = append(bounds, len(x))
		}
		s, err := DescribeColumn(x, Rows{Bounds: bounds, Weight: weight}, Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []struct {
			name      string
			got, want float64
			in        Interval
		}{{"mean", s.Mean, c.mean, s.MeanInterval}, {"sd", s.SD, math.Sqrt(c.variance), s.SDInterval},
			{"p05", s.P05, c.p05, s.P05Interval}, {"p50", s.P50, c.p50, s.P50Interval}, {"p95", s.P95, c.p95, s.P95Interval}} {
			if width := f.in.High - f.in.Low; !(math.Abs(f.got-f.want) <= width) || width > 0.3 {
				t.Errorf("r %g, h %g: %s %g (%g to %g), want %g", c.r, c.h, f.name, f.got, f.in.Low, f.in.High, f.want)
			}
		}
	}
}
