package likelihood_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"proofmass/sampling/likelihood"
)

func must(t *testing.T, l likelihood.Likelihood, err error) *likelihood.Likelihood {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return &l
}

func logAt(l *likelihood.Likelihood, x float64) float64 {
	sum := []float64{0}
	l.AddLog(sum, []float64{x})
	return sum[0]
}

// Against gonum's densities, which are another implementation.
func TestDensities(t *testing.T) {
	normal, err := likelihood.Normal(7, 0.3)
	n := must(t, normal, err)
	student, err := likelihood.Student(4, 7, 0.3)
	s := must(t, student, err)
	uniform, err := likelihood.Between(6.5, 7.5)
	u := must(t, uniform, err)
	for _, x := range []float64{3, 6.6, 7, 7.2, 7.5, 40} {
		for name, pair := range map[string][2]float64{
			"normal":  {logAt(n, x), distuv.Normal{Mu: 7, Sigma: 0.3}.LogProb(x)},
			"student": {logAt(s, x), distuv.StudentsT{Mu: 7, Sigma: 0.3, Nu: 4}.LogProb(x)},
			"between": {logAt(u, x), distuv.Uniform{Min: 6.5, Max: 7.5}.LogProb(x)},
		} {
			if math.IsInf(pair[1], -1) && math.IsInf(pair[0], -1) {
				continue
			}
			if !(math.Abs(pair[0]-pair[1]) < 1e-11*(1+math.Abs(pair[1]))) {
				t.Errorf("%s at %g: %.15g, want %.15g", name, x, pair[0], pair[1])
			}
		}
		if got, want := n.Below(x), (distuv.Normal{Mu: x, Sigma: 0.3}).CDF(7); math.Abs(got-want) > 1e-13 {
			t.Errorf("normal below at %g: %g, want %g", x, got, want)
		}
		if got, want := s.Below(x), (distuv.StudentsT{Mu: x, Sigma: 0.3, Nu: 4}).CDF(7); math.Abs(got-want) > 1e-10 {
			t.Errorf("student below at %g: %g, want %g", x, got, want)
		}
	}
}

// A rounded reading has the integral of the density over its step, and is the density times
// the step where that is narrow.
func TestRounded(t *testing.T) {
	rounded, err := likelihood.Rounded(7, 0.3, 1)
	r := must(t, rounded, err)
	narrow, err := likelihood.Rounded(7, 0.3, 1e-4)
	thin := must(t, narrow, err)
	normal, err := likelihood.Normal(7, 0.3)
	n := must(t, normal, err)
	for _, x := range []float64{5, 6.4, 7, 7.9, 9} {
		want := quad.Fixed(distuv.Normal{Mu: x, Sigma: 0.3}.Prob, 6.5, 7.5, 200, nil, 0)
		if got := math.Exp(logAt(r, x)); math.Abs(got-want) > 1e-10*want {
			t.Errorf("rounded at %g: %g, want %g", x, got, want)
		}
		if got, want := logAt(thin, x)-math.Log(1e-4), logAt(n, x); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("narrow step at %g: %g, want %g", x, got, want)
		}
	}
	if got, want := r.Greatest(), logAt(r, 7); got != want {
		t.Errorf("greatest %g, want %g", got, want)
	}
	if got := logAt(r, 100); !math.IsInf(got, -1) {
		t.Errorf("far off %g, want -Inf", got)
	}
	if got := logAt(n, math.NaN()); !math.IsInf(got, -1) {
		t.Errorf("infeasible %g, want -Inf", got)
	}
}

func TestRefused(t *testing.T) {
	for name, err := range map[string]error{
		"no error":       second(likelihood.Normal(1, 0)),
		"no value":       second(likelihood.Normal(math.NaN(), 1)),
		"backwards":      second(likelihood.Between(2, 1)),
		"no step":        second(likelihood.Rounded(1, 1, 0)),
		"no freedom":     second(likelihood.Student(0, 1, 1)),
		"infinite error": second(likelihood.Normal(1, math.Inf(1))),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func second(_ likelihood.Likelihood, err error) error { return err }

// However narrow the step is, a rounded reading is the density times the step.
func TestNarrowSteps(t *testing.T) {
	normal, err := likelihood.Normal(7, 0.3)
	n := must(t, normal, err)
	for _, step := range []float64{1e-5, 1e-9, 1e-13, 1e-18, 1e-300} {
		rounded, err := likelihood.Rounded(7, 0.3, step)
		r := must(t, rounded, err)
		for _, x := range []float64{6, 7, 7.2, 9} {
			if got, want := logAt(r, x), logAt(n, x)+math.Log(step); !(math.Abs(got-want) < 1e-8) {
				t.Errorf("step %g at %g: %.12g, want %.12g", step, x, got, want)
			}
		}
		if got, want := r.Greatest(), n.Greatest()+math.Log(step); !(math.Abs(got-want) < 1e-8) {
			t.Errorf("step %g: greatest %.12g, want %.12g", step, got, want)
		}
	}
}
