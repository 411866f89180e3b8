//go:build long

package sensitivity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// runs are the outputs of one trial, and what estimators make of them.
type runs struct {
	a, b, ab, ba []float64 // outputs around the mean of A and B
	v, cov       float64   // variance of A and B together, covariance of A and B
}

func meanProduct(x, y []float64) float64 {
	s := 0.0
	for k := range x {
		s += x[k] * y[k]
	}
	return s / float64(len(x))
}

// halfSquare is half the mean square of the differences.
func halfSquare(x, y []float64) float64 {
	s := 0.0
	for k := range x {
		s += (x[k] - y[k]) * (x[k] - y[k])
	}
	return s / float64(2*len(x))
}

func correlation(x, y []float64) float64 {
	ones := make([]float64, len(x))
	for k := range ones {
		ones[k] = 1
	}
	mx, my := meanProduct(x, ones), meanProduct(y, ones)
	return (meanProduct(x, y) - mx*my) / math.Sqrt((meanProduct(x, x)-mx*mx)*(meanProduct(y, y)-my*my))
}

// An estimator needs perInput runs for each input and row, beside two for the row.
type estimator struct {
	name     string
	perInput int
	of       func(r runs) float64
}

// Published estimators of the first-order index, formulas from memory but for the
// first three.
var firstEstimators = []estimator{
	{"Saltelli et al. 2010 (b)", 1, func(r runs) float64 { return (meanProduct(r.b, r.ab) - r.cov) / r.v }},
	{"Jansen 1999", 1, func(r runs) float64 { return 1 - halfSquare(r.b, r.ab)/r.v }},
	{"Janon et al. 2014", 1, func(r runs) float64 {
		m := 0.0
		for k := range r.b {
			m += (r.b[k] + r.ab[k]) / float64(2*len(r.b))
		}
		return (meanProduct(r.b, r.ab) - m*m) / ((meanProduct(r.b, r.b)+meanProduct(r.ab, r.ab))/2 - m*m)
	}},
	{"Martinez 2011", 1, func(r runs) float64 { return correlation(r.b, r.ab) }},
	{"Glen and Isaacs 2012", 1, func(r runs) float64 {
		return correlation(r.b, r.ab) - correlation(r.a, r.b)*correlation(r.a, r.ab)
	}},
	{inUse, 2, func(r runs) float64 {
		s := 0.0
		for k := range r.a {
			s += (r.ba[k] - r.b[k]) * (r.a[k] - r.ab[k])
		}
		return s / float64(len(r.a)) / (halfSquare(r.a, r.b) + halfSquare(r.ba, r.ab))
	}},
}

var totalEstimators = []estimator{
	{"Jansen 1999", 1, func(r runs) float64 { return halfSquare(r.a, r.ab) / r.v }},
	{"Sobol' 2001", 1, func(r runs) float64 { return (meanProduct(r.a, r.a) - meanProduct(r.a, r.ab)) / r.v }},
	{"Homma and Saltelli 1996", 1, func(r runs) float64 { return 1 - meanProduct(r.a, r.ab)/r.v }},
	{"Martinez 2011", 1, func(r runs) float64 { return 1 - correlation(r.a, r.ab) }},
	{"Glen and Isaacs 2012", 1, func(r runs) float64 {
		return 1 - correlation(r.a, r.ab) + correlation(r.a, r.b)*correlation(r.b, r.ab)
	}},
	{inUse, 2, func(r runs) float64 {
		return (halfSquare(r.a, r.ab) + halfSquare(r.b, r.ba)) / (halfSquare(r.a, r.b) + halfSquare(r.ba, r.ab))
	}},
}

const inUse = "Azzini et al. 2021 (in use)"

// The estimators in use have the least mean square error for a run of the model,
// averaged over the inputs, on each function: 400 trials of 16 x 64 rows.
func TestEstimatorsCompared(t *testing.T) {
	for _, fn := range append(testFunctions(), gFunction("g20", 0, 0, 1, 1, 4.5, 9, 9, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99)) {
		compare(t, fn, "first", firstEstimators, fn.first)
		compare(t, fn, "total", totalEstimators, fn.total)
	}
}

func compare(t *testing.T, fn testFunction, what string, estimators []estimator, exact []float64) {
	const trials = 400
	d := len(exact)
	cost := make([]float64, len(estimators))
	for trial := range trials {
		for i, r := range trialRuns(fn, uint64(trial)) {
			for k, e := range estimators {
				miss := e.of(r) - exact[i]
				cost[k] += miss * miss * float64(len(r.a)*(2+e.perInput*d)) / float64(trials*d)
			}
		}
	}
	line := ""
	for k, e := range estimators {
		line += fmt.Sprintf("  %s %.2f", e.name, cost[k])
		if cost[k] < cost[len(cost)-1] {
			t.Errorf("%s, %s: %s has %.3g, less than the one in use", fn.name, what, e.name, cost[k])
		}
	}
	t.Logf("%-8s %s, mean square error times model runs:%s", fn.name, what, line)
}

// trialRuns draws the runs for each input.
func trialRuns(fn testFunction, seed uint64) []runs {
	const rows = 64
	random, d := rand.New(rand.NewPCG(seed, 77)), len(fn.first)
	all := make([]runs, d)
	var a, b []float64
	for range replicates {
		u := latin(random, rows, 2*d)
		x, y := u[:d], u[d:]
		a, b = append(a, values(fn.f, x)...), append(b, values(fn.f, y)...)
		for i := range d {
			all[i].ab = append(all[i].ab, values(fn.f, swapped(x, y, i))...)
			all[i].ba = append(all[i].ba, values(fn.f, swapped(y, x, i))...)
		}
	}
	mean := 0.0
	for k := range a {
		mean += (a[k] + b[k]) / float64(2*len(a))
	}
	around(mean, a, b)
	for i := range all {
		around(mean, all[i].ab, all[i].ba)
		all[i].a, all[i].b = a, b
		all[i].v = (meanProduct(a, a) + meanProduct(b, b)) / 2
		all[i].cov = meanProduct(a, b)
	}
	return all
}

func around(mean float64, columns ...[]float64) {
	for _, c := range columns {
		for k := range c {
			c[k] -= mean
		}
	}
}
