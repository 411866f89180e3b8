package sensitivity

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"proofmass/sensitivity/estimate"
)

// sparse is a function of 500 inputs of which the first 12 matter: six terms, three
// products of two, of equal and of unequal weight. The other 488 have a slope of 0.001.
func sparse() testFunction {
	fn := testFunction{name: "sparse", first: make([]float64, 500)}
	slope := []float64{3, 3, 2, 2, 2, 1.5}
	fn.f = func(u []float64) float64 {
		var y float64
		for i, s := range slope {
			y += s * u[i]
		}
		y += 8*(u[6]-0.5)*(u[7]-0.5) + 6*(u[8]-0.5)*u[9] + 6*(u[10]-0.5)*u[11]
		for i := 12; i < len(u); i++ {
			y += 0.001 * u[i]
		}
		return y
	}
	return fn
}

// The least of the 12 has a total index of 0.037 and the share is 0.01.
func TestNegligible(t *testing.T) { negligible(t, 6) }

func negligible(t *testing.T, trials int) {
	kept := 0
	for trial := range trials {
		small := screened(sparse(), uint64(trial), 64, replicates).Negligible(0.01, 0.95)
		for i, s := range small {
			if i < 12 && s {
				t.Errorf("trial %d: input %d is called negligible", trial, i+1)
			}
			if i >= 12 && !s {
				kept++
			}
		}
	}
	if kept > 0 {
		t.Errorf("%d inputs of %d that hardly act are not called negligible", kept, 488*trials)
	}
}

// tailed is exp of a sum of normals with deviations 0.8, 0.5, 0.3 and 0.1: an output
// with a coefficient of variation of 1.3.
func tailed() testFunction {
	s := []float64{0.8, 0.5, 0.3, 0.1}
	fn := testFunction{name: "exp of normals"}
	fn.f = func(u []float64) float64 {
		var z float64
		for i, c := range s {
			z += c * normal(u[i])
		}
		return math.Exp(z)
	}
	// E[exp(2 s z)] / E[exp(s z)]^2 = exp(s^2): a product, as the G-function.
	fn.closed = func(u uint32) float64 {
		var v float64
		for i, c := range s {
			if u>>i&1 == 1 {
				v += c * c
			}
		}
		return math.Expm1(v)
	}
	return fn.withIndices(len(s))
}

func TestEffectsLimit(t *testing.T) { effectsLimit(t, 200, 64) }

// effectsLimit counts how often the upper limit of a total index is not below the
// exact one, which shall be 95 % at least (0.975 is meant), and logs how far above it
// usually is. With a long tail it may be less: what a few hundred rows miss of it
// they cannot know.
func effectsLimit(t *testing.T, trials int, rows ...int) {
	for _, fn := range []testFunction{ishigami(), testFunctions()[2], morris(), testFunctions()[3], tailed()} {
		for _, n := range rows {
			high, both, sizes := tally{}, tally{}, []float64{}
			for trial := range trials {
				for i, e := range screened(fn, uint64(trial), n, replicates).Results(0.95)[0] {
					input := fn.name + " x" + strconv.Itoa(i+1)
					high.add(input, estimate.Interval{High: e.Total.High}, fn.total[i])
					both.add(input, e.Total.Interval, fn.total[i])
					sizes = append(sizes, e.Total.High/fn.total[i])
				}
			}
			slices.Sort(sizes)
			where, least := high.least()
			_, leastBoth := both.least()
			t.Logf("%s, %d rows: limit holds %.4f or more, interval %.4f; limit/exact: median %.2f", fn.name, n,
				float64(least)/float64(trials), float64(leastBoth)/float64(trials), sizes[len(sizes)/2])
			if least < lowerLimit(trials) {
				t.Errorf("%s, %d rows: the limit holds in %d of %d trials", where, n, least, trials)
			}
		}
	}
}

// least is the smallest count of a tally.
func (c tally) least() (string, int) {
	where, least := "", math.MaxInt
	for name, hits := range c {
		if hits < least {
			where, least = name, hits
		}
	}
	return where, least
}
