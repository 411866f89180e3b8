package sensitivity

import (
	"math"
	"testing"

	"proofmass/sampling/portable"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

func TestCoverageWeighted(t *testing.T) { coverageWeighted(t, 60) }

// coverageWeighted weighs rows of X, a standard normal, by the likelihood of a value m read
// with an error of sd s: then X is normal of mean m/(1+s^2) and variance s^2/(1+s^2)
// (conjugate normal distributions), and Y = X + Z/2 normal too. How often intervals hold the
// exact values of Y, for Latin hypercubes and for independent rows.
func coverageWeighted(t *testing.T, trials int) {
	for _, c := range []struct {
		m, s float64
		rows int
	}{{0, 0.5, 16 * 128}, {2, 0.5, 16 * 256}, {1, 0.1, 16 * 512}} {
		mean, sd := c.m/(1+c.s*c.s), math.Sqrt(c.s*c.s/(1+c.s*c.s)+0.25)
		quantile := func(p float64) float64 { return mean + sd*portable.NormalQuantile(p) }
		for _, hypercubes := range []bool{true, false} {
			hits, kish := tally{}, 0.0
			for trial := range trials {
				u, d := givenRows(uint64(8000+trial), c.rows, 2, hypercubes)
				d.Weight = make([]float64, c.rows)
				var sum, square float64
				for i, v := range u[0] {
					e := (c.m - normal(v)) / c.s
					d.Weight[i] = portable.Exp(-e * e / 2)
					sum += d.Weight[i]
					square += d.Weight[i] * d.Weight[i]
				}
				kish += sum * sum / square / float64(trials)
				y := values(func(u []float64) float64 { return normal(u[0]) + normal(u[1])/2 }, u)
				s, err := estimate.Describe(y, d, estimate.Options{}, nil)
				if err != nil {
					t.Fatal(err)
				}
				hits.add("mean", s.MeanInterval, mean)
				hits.add("sd", s.SDInterval, sd)
				hits.add("p05", s.P05Interval, quantile(0.05))
				hits.add("p50", s.P50Interval, quantile(0.5))
				hits.add("p95", s.P95Interval, quantile(0.95))
				for _, p := range []float64{0.5, 0.05} {
					hits.add("chance "+map[float64]string{0.5: "0.5", 0.05: "0.05"}[p], chanceBelow(t, y, quantile(p), d), p)
				}
			}
			t.Logf("read %g with sd %g, %d rows, effective %.0f, hypercubes %v", c.m, c.s, c.rows, kish, hypercubes)
			hits.check(t, trials)
		}
	}
}

// Four rows by hand: weights 1, 2, 3, 4 of the values 10, 20, 40, 30 (one more is
// infeasible, one has no weight).
func TestWeightedByHand(t *testing.T) {
	x, nan := []float64{10, 20, 40, 30, math.NaN(), 99}, math.NaN()
	d := estimate.Rows{Bounds: []int{0, 2, 6}, Weight: []float64{1, 2, 3, 4, 5, 0}}
	s, err := estimate.Describe(x, d, estimate.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	// (10 + 40 + 120 + 120)/10; sum w (x-29)^2 = 361 + 162 + 363 + 4 = 890, ESS = 100/30
	if s.Mean != 29 || math.Abs(s.SD-math.Sqrt(89*(100.0/30)/(70.0/30))) > 1e-12 || s.Infeasible != 1 || s.Rows != 6 || s.Max != 40 {
		t.Errorf("%+v", s)
	}
	// A = 50, 240, B = 3, 7: d = (50 - 87)/5, (240 - 203)/5; se = sqrt(2 * 7.4^2 / 2) = 7.4
	if half := (s.MeanInterval.High - s.MeanInterval.Low) / 2; math.Abs(half-7.4*math.Tan(0.475*math.Pi)) > 1e-9 {
		t.Errorf("half-width of the mean %g", half)
	}
	if s.P50 == s.P50 { // ESS 3.3: not known
		t.Errorf("median %g of 3 effective rows", s.P50)
	}
	v, err := claim.Chance([]float64{1, 0, 1, 0, nan, 1}, nil, d, estimate.Options{})
	if err != nil || math.Abs(v.Chance-4.0/15) > 1e-15 || v.Held != 3 || v.Infeasible != 1 {
		t.Errorf("%+v, %v", v, err)
	}
	if _, err := estimate.Describe(x, estimate.Rows{Independent: true, Weight: []float64{1}}, estimate.Options{}, nil); err == nil {
		t.Error("one weight for six rows was taken")
	}
}

// Weights that are all the same are no weights: mean, sd and chance to rounding, percentiles
// to the gap between two rows.
func TestEqualWeights(t *testing.T) {
	for _, hypercubes := range []bool{true, false} {
		u, d := givenRows(9000, 16*256, 2, hypercubes)
		y := values(normalPair(0.6), u)
		weights := make([]float64, len(y))
		for i := range weights {
			weights[i] = 0.25
		}
		plain, err := estimate.Describe(y, d, estimate.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		s, err := estimate.Describe(y, d.Weighted(weights), estimate.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for name, c := range map[string][3]float64{
			"mean": {s.Mean, plain.Mean, 1e-12}, "sd": {s.SD, plain.SD, 1e-12}, "skewness": {s.Skewness, plain.Skewness, 1e-3},
			"p05": {s.P05, plain.P05, 0.005}, "p50": {s.P50, plain.P50, 0.005}, "p95": {s.P95, plain.P95, 0.005}, "p01": {s.P01, plain.P01, 0.05},
			"shortest": {s.ShortestHigh - s.ShortestLow, plain.ShortestHigh - plain.ShortestLow, 0.02}, "cover": {s.CoverLow, plain.CoverLow, 0.01},
		} {
			if !(math.Abs(c[0]-c[1]) <= c[2]) {
				t.Errorf("hypercubes %v, %s: %g with weights, %g without", hypercubes, name, c[0], c[1])
			}
		}
		holds := make([]float64, len(y))
		for i, v := range y {
			if v < 0.3 {
				holds[i] = 1
			}
		}
		with, err := claim.Chance(holds, y, d.Weighted(weights), estimate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		without, err := claim.Chance(holds, y, d, estimate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(with.Chance-without.Chance) > 1e-12 || hypercubes && math.Abs(with.EffectiveRows/without.EffectiveRows-1) > 1e-9 || with.Method != estimate.MethodReplicates {
			t.Errorf("hypercubes %v: %+v with weights, %+v without", hypercubes, with, without)
		}
	}
}

// TestClassesOfEqualWeight: classes hold about equal weight, not equal numbers of rows.
func TestClassesOfEqualWeight(t *testing.T) {
	const rows = 4096
	x, weight, total := make([]float64, rows), make([]float64, rows), 0.0
	for i := range x {
		x[i], weight[i] = float64(i), 1
		if i >= rows/2 {
			weight[i] = 7
		}
		total += weight[i]
	}
	c := classesOf(t, x, weight, estimate.Rows{Independent: true})
	held := make([]float64, c.n)
	for i, k := range c.class {
		held[k] += weight[i]
	}
	for k, w := range held {
		if math.Abs(w-total/float64(c.n)) > 7 {
			t.Errorf("class %d of %d holds %g of %g", k, c.n, w, total)
		}
	}
}
