package marginal

import (
	"math"
	"testing"
)

// TestWidenClosedForms: families that stay themselves, in figures.
func TestWidenClosedForms(t *testing.T) {
	one, err := OneOf([]float64{1, 2, 3}, []float64{0.5, 0.25, 0.25})
	must(t, one, err)
	for _, c := range []struct {
		from, to string
		factor   float64
	}{
		{"normal(10;2)", "normal(10;4)", 2}, {"normal(10;2)", "normal(10;1)", 0.5},
		{"lognormal(1.5;1.25)", "lognormal(1.5;1.5625)", 2}, {"between(2;4)", "between(1;5)", 2},
		{"between(2;4)", "between(2.5;3.5)", 0.5}, {"log_between(1;16)", "log_between(2;8)", 0.5},
		{"triangular(0;1;2)", "triangular(-1;1;3)", 2}, {"likely(450;36)", "likely(450;18)", 0.5},
	} {
		m, err := Widen(parseCase(t, c.from), c.factor)
		got, want := must(t, m, err), parseCase(t, c.to)
		for _, p := range []float64{1e-6, 0.05, 0.3, 0.5, 0.95} {
			if a, b := got.Quantile(p), want.Quantile(p); math.Abs(a-b) > 1e-12*(math.Abs(b)+1) {
				t.Errorf("%s times %g at %g: %v, want %v", c.from, c.factor, p, a, b)
			}
		}
		if math.Abs(got.SD()-want.SD()) > 1e-9*want.SD() || math.Abs(got.Mean()-want.Mean()) > 1e-9*(math.Abs(want.Mean())+want.SD()) {
			t.Errorf("%s times %g: mean %v, sd %v", c.from, c.factor, got.Mean(), got.SD())
		}
	}
	half, err := Widen(one, 0.5)
	must(t, half, err)
	if got, want := half.CDF(1), 16.0/18; math.Abs(got-want) > 1e-15 { // weights 16 : 1 : 1
		t.Errorf("one_of halved: %v, want %v", got, want)
	}
	double, err := Widen(one, 2)
	must(t, double, err)
	if got, want := double.CDF(1), math.Pow(2, 0.25)/(math.Pow(2, 0.25)+2); math.Abs(got-want) > 1e-15 {
		t.Errorf("one_of doubled: %v, want %v", got, want)
	}
	if _, err := Widen(one, 0); err == nil {
		t.Error("a factor of 0 is taken")
	}
}

// TestWidenEveryFamily: limits stay, what is drawn stays a distribution, halving undoes
// doubling where nothing is cut.
func TestWidenEveryFamily(t *testing.T) {
	for name, m := range family(t) {
		for _, factor := range []float64{0.5, 2} {
			w, err := Widen(m, factor)
			if err != nil {
				t.Errorf("%s times %g: %v", name, factor, err)
				continue
			}
			low, high := w.Support()
			if cut, is := m.(*truncated); is {
				from, to := cut.base.Support()
				if cut.low != from && low < cut.low || cut.high != to && high > cut.high {
					t.Errorf("%s times %g lies from %v to %v", name, factor, low, high)
				}
			}
			last := math.Inf(-1)
			for _, p := range []float64{1e-9, 0.01, 0.2, 0.5, 0.8, 0.99, 1 - 1e-9} {
				x := w.Quantile(p)
				if x < last || x < low || x > high {
					t.Errorf("%s times %g at %g: %v after %v", name, factor, p, x, last)
				}
				if back := w.CDF(x); !Discrete(w) && math.Abs(back-p) > 1e-5 && math.Abs(x) < 1e14 {
					t.Errorf("%s times %g: CDF of quantile %g is %g", name, factor, p, back)
				}
				last = x
			}
			var two [2]float64
			w.Fill(two[:], []float64{0.25, 0.75})
			if two[0] != w.Quantile(0.25) || two[1] != w.Quantile(0.75) {
				t.Errorf("%s times %g: Fill differs from Quantile", name, factor)
			}
			if again, err := Widen(w, 1/factor); err == nil {
				if _, cut := m.(*truncated); !cut && !Discrete(m) {
					if a, b := again.Quantile(0.1), m.Quantile(0.1); math.Abs(a-b) > 1e-6*m.SD() {
						t.Errorf("%s times %g and back: %v, want %v", name, factor, a, b)
					}
				}
			}
		}
	}
}
