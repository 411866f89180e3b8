package sensitivity

import (
	"math"
	"slices"
	"testing"
)

func TestPredictRows(t *testing.T) {
	// (1.7 * 2.131450 / 0.02)^2 = 32823.7, up to a multiple of 16; t of 15 degrees
	// of freedom as printed in tables.
	if n := PredictRows(0.02, 16); n != 32832 {
		t.Errorf("half-width 0.02: %d rows", n)
	}
	if a, b := PredictRows(0.01, 16), PredictRows(0.02, 16); math.Abs(float64(a)/float64(b)-4) > 0.01 {
		t.Errorf("half the width takes %d rows for %d, want 4 times", a, b)
	}
	if a, b := PredictRows(0.02, 32), PredictRows(0.02, 16); a >= b {
		t.Errorf("32 replicates need %d rows, 16 need %d", a, b)
	}
	for _, w := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 5e-324} {
		for _, r := range []int{-3, 0, 1, 16, 17} {
			if n := PredictRows(w, r); n < 512 || n%max(r, 2) != 0 {
				t.Errorf("half-width %g, %d replicates: %d rows", w, r, n)
			}
		}
	}
}

// outputs are ten functions, as the ten outputs of a study: those of the tests,
// and sums and an exponential with many inputs of which one dominates.
func outputs() []testFunction {
	few := slices.Repeat([]float64{0.1}, 9)
	one := append([]float64{1}, few...)
	scores := func(name string, f func(float64) float64, c ...float64) testFunction {
		l := linear(name, c...)
		l.f = func(u []float64) float64 {
			var y float64
			for i, c := range c {
				y += c * math.Sqrt2 * math.Erfinv(2*u[i]-1)
			}
			return f(y)
		}
		return l
	}
	same := func(x float64) float64 { return x }
	return append(testFunctions(),
		linear("one uniform dominates", one...),
		linear("ten uniforms", slices.Repeat([]float64{1}, 10)...),
		scores("one normal dominates", same, one...),
		scores("two normals dominate", same, append([]float64{1}, one...)...),
		scores("ten normals", same, slices.Repeat([]float64{1}, 10)...),
		scores("lognormal", math.Exp, append([]float64{0.3}, few...)...),
	)
}

// The predicted rows must reach the half-width in at least 85 % of the trials:
// below, if 95 % is the truth, with the chance 3e-3 (40 trials) or 1e-9 (400).
func TestPredictRowsReaches(t *testing.T) { predictReaches(t, 40, 0.1) }

func predictReaches(t *testing.T, trials int, halfWidth float64) {
	n := PredictRows(halfWidth, replicates)
	reached := 0
	for trial := range trials {
		widest := 0.0
		for j, fn := range outputs() {
			for _, p := range pickFreeze(fn, uint64(1000*trial+j), n, replicates).Indices(0.95)[0] {
				widest = max(widest, (p.First.High-p.First.Low)/2, (p.Total.High-p.Total.Low)/2)
			}
		}
		if widest <= halfWidth {
			reached++
		}
	}
	t.Logf("half-width %g, %d rows: reached in %d of %d trials", halfWidth, n, reached, trials)
	if float64(reached) < 0.85*float64(trials) {
		t.Errorf("half-width %g reached in %d of %d trials", halfWidth, reached, trials)
	}
}
