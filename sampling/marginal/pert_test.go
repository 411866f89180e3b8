package marginal

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// TestPERTAgainstGonum: the beta quantile of gonum v0.17.0, good to 1e-13 there.
func TestPERTAgainstGonum(t *testing.T) {
	m, err := PERT(10, 13, 20)
	pertM := must(t, m, err)
	ref := distuv.Beta{Alpha: 2.2, Beta: 3.8}
	for p := 0.001; p < 1; p += 0.0173 {
		if got, want := pertM.Quantile(p), 10+10*ref.Quantile(p); math.Abs(got-want) > 1e-11 {
			t.Errorf("quantile(%v) = %v, want %v", p, got, want)
		}
	}
}

// TestParameters: shapes of a PERT (found from its moments) and the parameters of a
// lognormal's logarithm, from their definitions with mpmath at 60 digits.
func TestParameters(t *testing.T) {
	for name, want := range map[string]float64{"pert(0.225;0.235;0.25)": 2.6, "pert(0;0.9;1)": 4.6} {
		m := parseCase(t, name)
		low, high := m.Support()
		mean, sd := (m.Mean()-low)/(high-low), m.SD()/(high-low)
		if a := mean * (mean*(1-mean)/(sd*sd) - 1); math.Abs(a-want) > 1e-13*want || math.Abs(a/mean-6) > 1e-12 {
			t.Errorf("%s: shapes %v and %v, want %v and %v", name, a, a/mean-a, want, 6-want)
		}
	}
	d := parseCase(t, "lognormal_mean_sd(100;15)").(logNormal)
	if sigma, mu := d.s, math.Log(d.median); math.Abs(sigma-0.14916638004195100411) > 1e-16 || math.Abs(mu-4.5940448815206814886) > 1e-15 {
		t.Errorf("lognormal: sigma %v, mu %v of the logarithm", sigma, mu)
	}
}
