package sensitivity

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// Every test here draws 16 Latin hypercubes anew in each trial and counts how
// often the stated 95 % interval holds the exact value. falseAlarm is the chance
// that one such count falls below its limit although the interval is right: 0.5 %
// for all 50 counts of a run. With 200 trials the limit is 177, with 2000 it is
// 1862.
const (
	replicates = 16
	falseAlarm = 1e-4
)

// lowerLimit is the least count of n trials that a chance of 0.95 would not fall
// below but with the chance falseAlarm.
func lowerLimit(n int) int {
	chance, sum := math.Pow(0.95, float64(n)), 0.0 // of n hits
	misses := 0
	for sum+chance < 1-falseAlarm {
		sum += chance
		chance *= 0.05 / 0.95 * float64(n-misses) / float64(misses+1)
		misses++
	}
	return n - misses
}

// tally counts hits by name.
type tally map[string]int

func (c tally) add(name string, i estimate.Interval, exact float64) {
	c[name] += 0
	if i.Low <= exact && exact <= i.High {
		c[name]++
	}
}

// check logs every coverage and fails below the limit.
func (c tally) check(t *testing.T, trials int) {
	t.Helper()
	limit := lowerLimit(trials)
	for name, hits := range c {
		t.Logf("%s: %.4f", name, float64(hits)/float64(trials))
		if hits < limit {
			t.Errorf("%s: %d of %d intervals hold the exact value, want at least %d", name, hits, trials, limit)
		}
	}
}

func TestCoverageIndices(t *testing.T) { coverageIndices(t, 200, 2048) }

func coverageIndices(t *testing.T, trials, rows int) {
	for _, fn := range testFunctions() {
		t.Run(fn.name, func(t *testing.T) {
			hits := tally{}
			for trial := range trials {
				for i, pair := range pickFreeze(fn, uint64(trial), rows, replicates).Indices(0.95)[0] {
					input := "x" + string(rune('1'+i))
					hits.add("first "+input, pair.First.Interval, fn.first[i])
					hits.add("total "+input, pair.Total.Interval, fn.total[i])
				}
			}
			hits.check(t, trials)
		})
	}
}

// productCDF is the chance that the product of two uniforms is at most t.
func productCDF(t float64) float64 { return t * (1 - math.Log(t)) }

// productQuantile inverts it.
func productQuantile(p float64) float64 {
	low, high := 0.0, 1.0
	for range 200 {
		if t := (low + high) / 2; productCDF(t) < p {
			low = t
		} else {
			high = t
		}
	}
	return low
}

// sumQuantile is that of the sum of two uniforms, a triangle on (0, 2).
func sumQuantile(p float64) float64 {
	if p <= 0.5 {
		return math.Sqrt(2 * p)
	}
	return 2 - math.Sqrt(2*(1-p))
}

func TestCoverageColumns(t *testing.T) { coverageColumns(t, 200, 16*1024) }

func coverageColumns(t *testing.T, trials, rows int) {
	for _, fn := range []struct {
		name     string
		f        func(u []float64) float64
		mean     float64
		quantile func(p float64) float64
	}{
		{"sum", func(u []float64) float64 { return u[0] + u[1] }, 1, sumQuantile},
		{"product", func(u []float64) float64 { return u[0] * u[1] }, 0.25, productQuantile},
	} {
		t.Run(fn.name, func(t *testing.T) {
			hits, scratch := tally{}, new(estimate.Scratch)
			for trial := range trials {
				y, d := replicated(fn.f, uint64(trial), rows)
				s, err := estimate.Describe(y, d, estimate.Options{}, scratch)
				if err != nil {
					t.Fatal(err)
				}
				hits.add("mean", s.MeanInterval, fn.mean)
				hits.add("p05", s.P05Interval, fn.quantile(0.05))
				hits.add("p50", s.P50Interval, fn.quantile(0.50))
				hits.add("p95", s.P95Interval, fn.quantile(0.95))
				hits.add("chance 0.5", chanceBelow(t, y, fn.quantile(0.5), d), 0.5)
				hits.add("chance 0.2", chanceBelow(t, y, fn.quantile(0.2), d), 0.2)
				hits.add("chance 0.02", chanceBelow(t, y, fn.quantile(0.02), d), 0.02)
			}
			hits.check(t, trials)
		})
	}
}

// replicated draws a column of 16 Latin hypercubes in two inputs.
func replicated(f func([]float64) float64, seed uint64, rows int) ([]float64, estimate.Rows) {
	random := rand.New(rand.NewPCG(seed, 12))
	var y []float64
	bounds := []int{0}
	for range replicates {
		y = append(y, values(f, latin(random, rows/replicates, 2))...)
		bounds = append(bounds, len(y))
	}
	return y, estimate.Rows{Bounds: bounds}
}

// chanceBelow is the interval of the chance that y is at most the limit.
func chanceBelow(t *testing.T, y []float64, limit float64, d estimate.Rows) estimate.Interval {
	holds := make([]float64, len(y))
	for i, v := range y {
		if v <= limit {
			holds[i] = 1
		}
	}
	v, err := claim.Chance(holds, nil, d, estimate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return v.Interval
}
