package estimate_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/sensitivity/estimate"
)

// Weights U^-k have an exact Pareto tail of shape k, and E[w]^2/E[w^2] = (1-2k)/(1-k)^2 for
// k < 1/2. The estimator is known to be low: 0.24, 0.41 and 0.67 for 0.3, 0.5 and 0.7 from
// 948 of 100,000 weights, by the method's published form in another language.
func TestParetoShape(t *testing.T) {
	for _, k := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
		random := rand.New(rand.NewPCG(11, uint64(100*k)))
		w := make([]float64, 100_000)
		for i := range w {
			w[i] = math.Pow(1-random.Float64(), -k)
		}
		h := health(t, w)
		if !(math.Abs(h.ParetoK-k) < 0.12 || k == 0.9 && h.ParetoK > 0.7) {
			t.Errorf("k %g: found %.3f", k, h.ParetoK)
		}
		if h.Poor() != (h.ParetoK > 0.7) {
			t.Errorf("k %g: poor %v with %g, limit %g", k, h.Poor(), h.ParetoK, h.Limit)
		}
		want := (1 - 2*k) / ((1 - k) * (1 - k))
		if share := h.ESS / float64(len(w)); k <= 0.3 && math.Abs(share-want) > 0.03 {
			t.Errorf("k %g: ESS/n %.3f, want %.3f", k, share, want)
		}
	}
}

func TestHealthOfPlainWeights(t *testing.T) {
	w := make([]float64, 1000)
	for i := range w {
		w[i] = 3
	}
	h := health(t, w)
	if h.ESS != 1000 || h.LargestShare != 0.001 || h.ParetoK == h.ParetoK || h.Poor() {
		t.Errorf("equal weights: %+v", h)
	}
	if h := health(t, make([]float64, 1000)); h.ESS != 0 || h.Poor() {
		t.Errorf("no weights: %+v", h)
	}
	w[7] = 1e9
	if h := health(t, w); math.Abs(h.ESS-1) > 0.01 || h.LargestShare < 0.99 {
		t.Errorf("one heavy row: %+v", h)
	}
}

func health(t *testing.T, w []float64) estimate.Health {
	t.Helper()
	h, err := estimate.WeightHealth(estimate.Values(w))
	if err != nil {
		t.Fatal(err)
	}
	return h
}
