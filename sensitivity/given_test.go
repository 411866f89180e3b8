package sensitivity

import (
	"math"
	"slices"
	"testing"
)

// A givenCase is a function and the exact index of some of its inputs.
type givenCase struct {
	name  string
	f     func(u []float64) float64
	d     int
	exact []float64
}

// normalPair is rho X + sqrt(1-rho^2) Z of two normals: S = rho^2.
func normalPair(rho float64) func(u []float64) float64 {
	return func(u []float64) float64 { return rho*normal(u[0]) + math.Sqrt(1-rho*rho)*normal(u[1]) }
}

// heldClaim is 1 where that is at most h.
func heldClaim(rho, h float64) func(u []float64) float64 {
	pair := normalPair(rho)
	return func(u []float64) float64 {
		if pair(u) <= h {
			return 1
		}
		return 0
	}
}

// givenCases have exact first-order indices. Those of a claim are
// (Phi2(h, h; rho^2) - p^2)/(p (1-p)), evaluated elsewhere with 20 digits; for h = 0
// they are (2/pi) asin(rho^2) (Sheppard 1899).
func givenCases() []givenCase {
	var cases []givenCase
	for _, fn := range append(testFunctions(), product(), paired()) {
		cases = append(cases, givenCase{fn.name, fn.f, len(fn.first) + 1, append(slices.Clone(fn.first), 0)}) // the last input does nothing
	}
	for _, rho := range []float64{0.1, 0.3, 0.5, 0.7, 0.9, 0.99} {
		cases = append(cases, givenCase{"pair", normalPair(rho), 2, []float64{rho * rho, 1 - rho*rho}})
	}
	for _, c := range []struct{ rho, h, exact float64 }{
		{0.3, 0, 0.057373412120515314018},
		{0.5, 0, 0.16086124651033248754},
		{0.8, 0, 0.44213132777285811537},
		{0.5, -1, 0.12367107625823926873},
		{0.8, -2, 0.25501741017334440727},
		{0.9, 1, 0.55442478150016269668},
	} {
		cases = append(cases, givenCase{"claim", heldClaim(c.rho, c.h), 2, []float64{c.exact}})
	}
	return cases
}

// TestFirst: exact values lie within twice the interval, which for a Student's t of 15
// degrees of freedom fails once in 1500; 98 checks at fixed seeds.
func TestFirst(t *testing.T) {
	for k, c := range givenCases() {
		for _, hypercubes := range []bool{false, true} {
			u, d := givenRows(uint64(100+k), 16*2048, c.d, hypercubes)
			y := values(c.f, u)
			for i, exact := range c.exact {
				s := classesOf(t, u[i], nil, d).Of(y).First(0.95)
				if half := (s.High - s.Low) / 2; !(math.Abs(s.Estimate-exact) <= 2*half) || half > 0.04 {
					t.Errorf("%s %d, hypercubes %v, x%d: %v, exact %.4f", c.name, k, hypercubes, i+1, s, exact)
				}
			}
		}
	}
}

// TestFirstOfInertInput: its mean over 400 trials is 0 within 4 standard errors, which
// fails once in 16,000, where the uncorrected index would be (classes-1)/rows, 0.04.
func TestFirstOfInertInput(t *testing.T) {
	for _, hypercubes := range []bool{false, true} {
		var sum, square float64
		const trials = 400
		for trial := range trials {
			u, d := givenRows(uint64(trial), 1024, 4, hypercubes)
			s := classesOf(t, u[3], nil, d).Of(values(ishigami().f, u)).First(0).Estimate
			sum += s
			square += s * s
		}
		mean := sum / trials
		if se := math.Sqrt((square/trials - mean*mean) / trials); math.Abs(mean) > 4*se || se > 0.001 {
			t.Errorf("hypercubes %v: mean %.5f, standard error %.5f", hypercubes, mean, se)
		}
	}
}

// A sample drawn from another law and weighted to the right one gives its index: u^2 is
// drawn with the density 1/(2 sqrt(u)), so that the weight is 2 sqrt(u).
func TestFirstWeighted(t *testing.T) {
	u, d := givenRows(8, 16*4096, 3, true)
	weight := make([]float64, len(u[0]))
	for i, v := range u[0] {
		u[0][i], weight[i] = v*v, 2*v
	}
	y := values(ishigami().f, u)
	for i, exact := range ishigami().first {
		s := classesOf(t, u[i], weight, d).Of(y).First(0.95)
		if half := (s.High - s.Low) / 2; !(math.Abs(s.Estimate-exact) <= 2*half) || half > 0.03 {
			t.Errorf("x%d: %v, exact %.4f", i+1, s, exact)
		}
	}
}

// With infeasible rows the index is that of the feasible part: here u_3 < 0.8, where x_1
// and x_2 keep their laws. With c = pi(2*0.8 - 1), E[x3^4] over (-pi, c) is
// (c^5 + pi^5)/(5 (c + pi)).
func TestFirstInfeasible(t *testing.T) {
	u, d := givenRows(9, 16*4096, 3, true)
	y := values(ishigami().f, u)
	for i, v := range u[2] {
		if v >= 0.8 {
			y[i] = math.NaN()
		}
	}
	c := math.Pi * 0.6
	moment := func(n float64) float64 {
		return (math.Pow(c, n+1) + math.Pow(math.Pi, n+1)) / ((n + 1) * (c + math.Pi))
	}
	one := 1 + 0.1*moment(4)
	two := 1 + 0.2*moment(4) + 0.01*moment(8)
	variance := two/2 + 49.0/8
	for i, exact := range []float64{one * one / 2 / variance, 49.0 / 8 / variance, 0} {
		s := classesOf(t, u[i], nil, d).Of(y).First(0.95)
		if half := (s.High - s.Low) / 2; !(math.Abs(s.Estimate-exact) <= 2*half) || half > 0.03 {
			t.Errorf("x%d: %v, exact %.4f", i+1, s, exact)
		}
	}
}

// A discrete input of values 0, 1, 2 with chances 1/2, 1/4, 1/4, and noise of variance 1:
// Var of the value is 11/16.
func TestFirstDiscrete(t *testing.T) {
	u, d := givenRows(10, 16*2048, 2, true)
	y := make([]float64, len(u[0]))
	for i, v := range u[0] {
		u[0][i] = max(0, math.Floor(4*v)-1)
		y[i] = u[0][i] + normal(u[1][i])
	}
	s := classesOf(t, u[0], nil, d).Of(y).First(0.95)
	exact := 11.0 / 16 / (1 + 11.0/16)
	if half := (s.High - s.Low) / 2; !(math.Abs(s.Estimate-exact) <= 2*half) || half > 0.02 {
		t.Errorf("%v, exact %.4f", s, exact)
	}
}

// Few rows: nothing breaks, and an output that is a step of the input is known to be
// its own as soon as there are rows to compare.
func TestFirstOfFewRows(t *testing.T) {
	for n := 1; n <= 40; n++ {
		u, d := givenRows(11, 16*n, 2, false)
		x := u[0][:n]
		step := make([]float64, n)
		for i, v := range x {
			x[i] = math.Floor(2 * v)
			step[i] = 3 * x[i]
		}
		s := classesOf(t, x, nil, d).Of(step).First(0.95).Estimate
		if s == s && math.Abs(s-1) > 1e-12 {
			t.Errorf("%d rows: %g, want 1", n, s)
		}
		if s != s && n >= 20 {
			t.Errorf("%d rows: no index", n)
		}
	}
}
