package claim

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/sampling/portable"
	"proofmass/sensitivity/estimate"
)

// exactGain is what learning X, or X read with an error of standard deviation e, takes from
// the risk of a wrong word on Y <= h, where X and Y are standard normal with correlation rho:
// min(Phi(h), 1-Phi(h)) - E min(p(X), 1-p(X)), by Simpson's rule on either side of the kink.
func exactGain(rho, h, e float64) float64 {
	rho /= math.Sqrt(1 + e*e)
	risk := min(portable.NormalCDF(h), portable.NormalCDF(-h))
	if rho == 0 {
		return 0
	}
	f := func(x float64) float64 {
		p := portable.NormalCDF((h - rho*x) / math.Sqrt(1-rho*rho))
		return min(p, 1-p) * math.Exp(-x*x/2) / math.Sqrt(2*math.Pi)
	}
	simpson := func(a, b float64) float64 {
		const n = 4000
		sum := f(a) + f(b)
		for i := 1; i < n; i++ {
			sum += f(a+(b-a)*float64(i)/n) * float64(2+2*(i%2))
		}
		return sum * (b - a) / (3 * n)
	}
	kink := min(max(h/rho, -9), 9)
	return risk - simpson(-9, kink) - simpson(kink, 9)
}

// TestExactGain: on an even claim the risk left is 1/2 - asin(rho)/pi (Sheppard 1899, the
// chance of a quadrant), and for rho 0.8 and h -1 it is 0.1147294535633583, from the
// bivariate normal distribution.
func TestExactGain(t *testing.T) {
	for _, rho := range []float64{0.3, 0.5, -0.8} {
		if got, want := exactGain(rho, 0, 0), math.Asin(math.Abs(rho))/math.Pi; math.Abs(got-want) > 1e-12 {
			t.Errorf("%g: %.15g, want %.15g", rho, got, want)
		}
	}
	if got, want := exactGain(0.8, -1, 0), portable.NormalCDF(-1)-0.1147294535633583; math.Abs(got-want) > 1e-12 {
		t.Errorf("%.15g, want %.15g", got, want)
	}
}

func TestWorthCoverage(t *testing.T) { worthCoverage(t, 60, 4096) }

// worthCoverage counts how often the interval of the gain holds its exact value: of a normal
// input learnt exactly or by a gauge with an error of its own, of one that does nothing, and
// of one that acts by its square or in a step. The limit is what a right 95 % interval falls
// below with the chance 1e-4; widths bound what is told, so that no interval is right by
// being endless.
func worthCoverage(t *testing.T, trials, rows int) {
	for _, c := range []struct {
		rho, h, e float64
	}{{0, 0, 0}, {0, -1, 0}, {0.3, 0, 0}, {0.5, 0, 0}, {0.5, 0, 1}, {0.8, 0, 0}, {0.8, -1, 0}, {0.8, -1, 0.5}, {-0.9, 0.5, 0}} {
		want := exactGain(c.rho, c.h, c.e)
		for _, latin := range []bool{true, false} {
			hits, zero, mean, width := 0, 0, 0.0, 0.0
			for trial := range trials {
				x, holds, d := normalClaim(uint64(trial), rows, c.rho, c.h, latin)
				if c.e > 0 {
					rng := rand.New(rand.NewPCG(uint64(trial), 99))
					for i := range x {
						x[i] += c.e * rng.NormFloat64()
					}
				}
				w := worth(t, x, holds, d)
				if w.Gain.Low <= want && want <= w.Gain.High {
					hits++
				}
				if w.Gain.Low == 0 {
					zero++
				}
				mean += w.Gain.Estimate / float64(trials)
				width += (w.Gain.High - w.Gain.Low) / float64(trials)
			}
			t.Logf("%+v latin=%v: %d of %d hold %.4f; mean %.4f, width %.4f, %d begin at 0", c, latin, hits, trials, want, mean, width, zero)
			if limit := lowerLimit(trials); hits < limit || c.rho == 0 && zero < limit || width > 0.08 {
				t.Errorf("%+v latin=%v: %d of %d intervals hold %g, want %d; %d begin at 0; width %g", c, latin, hits, trials, want, limit, zero, width)
			}
			if math.Abs(mean-want) > 0.02 {
				t.Errorf("%+v latin=%v: mean %g, want %g", c, latin, mean, want)
			}
		}
	}
}

func worth(t *testing.T, x, holds []float64, d estimate.Rows) Worth {
	t.Helper()
	l, err := NewLearnt(x, d)
	if err != nil {
		t.Fatal(err)
	}
	w, err := l.Of(holds, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// TestWorthOfShapes: a claim |X| <= 0.6745 is even and wholly known once X is, so that the
// gain is 1/2 less what the classes that the limits cut leave, though X and the claim do not
// correlate; and a claim that holds wherever X lies in one of three values gains by the values.
func TestWorthOfShapes(t *testing.T) {
	const rows = 16 * 1024
	rng := rand.New(rand.NewPCG(3, 4))
	x, holds, list, held := make([]float64, rows), make([]float64, rows), make([]float64, rows), make([]float64, rows)
	for i := range x {
		if x[i] = rng.NormFloat64(); math.Abs(x[i]) <= 0.67448975 {
			holds[i] = 1
		}
		list[i] = float64(rng.IntN(3))
		if rng.Float64() < []float64{0.1, 0.5, 0.9}[int(list[i])] {
			held[i] = 1
		}
	}
	d := estimate.Rows{Bounds: bounds(16, rows/16)}
	if w := worth(t, x, holds, d); w.Gain.Low < 0.48 || w.Gain.High > 0.51 || w.Gain.High < 0.5 || math.Abs(w.Share-1) > 0.05 || !w.Turns {
		t.Errorf("square: %+v", w)
	}
	// one even, two of a tenth: risk 1/2, left (0.1 + 0.5 + 0.1)/3
	if w := worth(t, list, held, d); !(w.Gain.Low <= 0.5-0.7/3 && 0.5-0.7/3 <= w.Gain.High) || math.Abs(w.Share-0.32/0.75) > 0.03 {
		t.Errorf("list: %+v, want %g", w, 0.5-0.7/3)
	}
}

// TestWorthOfAStep: a claim that holds up to a limit of what is learnt is wholly known with it,
// so that the gain is the whole risk, wherever in a class the limit lies.
func TestWorthOfAStep(t *testing.T) {
	for _, rows := range []int{4096, 65536} {
		for _, limit := range []float64{0.012, 0.111, 0.337, 0.5, 0.52, 0.913} {
			rng := rand.New(rand.NewPCG(uint64(rows), math.Float64bits(limit)))
			x, holds := make([]float64, rows), make([]float64, rows)
			for i := range x {
				if x[i] = rng.Float64(); x[i] <= limit {
					holds[i] = 1
				}
			}
			w := worth(t, x, holds, estimate.Rows{Bounds: bounds(16, rows/16)})
			if !(w.Gain.Low <= w.Risk && w.Risk <= w.Gain.High+1e-12) || w.Gain.High-w.Gain.Low > 0.06 || !w.Turns {
				t.Errorf("%d rows, a limit at %g: %+v", rows, limit, w)
			}
		}
	}
}

// TestWorthOfPairs: a claim that holds where exactly one of two even signs is positive is
// known by neither alone and wholly by both.
func TestWorthOfPairs(t *testing.T) {
	const rows = 16 * 512
	rng := rand.New(rand.NewPCG(5, 6))
	x, y, holds := make([]float64, rows), make([]float64, rows), make([]float64, rows)
	for i := range x {
		x[i], y[i] = rng.Float64()-0.5, rng.Float64()-0.5
		if (x[i] > 0) != (y[i] > 0) {
			holds[i] = 1
		}
	}
	d := estimate.Rows{Bounds: bounds(16, rows/16)}
	if w := worth(t, x, holds, d); w.Gain.Low != 0 {
		t.Errorf("one alone: %+v", w)
	}
	l, err := NewLearntPair(x, y, d)
	if err != nil {
		t.Fatal(err)
	}
	if w, err := l.Of(holds, 0.95); err != nil || w.Gain.Low < 0.42 || w.Gain.Estimate > 0.5 {
		t.Errorf("both: %+v, %v", w, err)
	}
}

// TestWorthOfWeights: weights that double the rows of one half are as good as the rows.
func TestWorthOfWeights(t *testing.T) {
	const rows = 16 * 256
	x, holds, d := normalClaim(7, rows, 0.7, 0, true)
	plain := worth(t, x, holds, d)
	same := make([]float64, rows)
	for i := range same {
		same[i] = 3
	}
	if w := worth(t, x, holds, d.Weighted(same)); math.Abs(w.Gain.Estimate-plain.Gain.Estimate) > 1e-12 || math.Abs(w.Share-plain.Share) > 1e-9 {
		t.Errorf("%+v, want %+v", w, plain)
	}
	one := make([]float64, rows) // rows of positive x alone: P(Y <= 0 | X > 0) = 1/2 - asin(0.7)/pi
	for i := range one {
		if x[i] > 0 {
			one[i] = 1
		}
	}
	want := 0.5 - math.Asin(0.7)/math.Pi
	if w := worth(t, x, holds, d.Weighted(one)); math.Abs(w.Risk-want) > 0.02 || w.Turns {
		t.Errorf("%+v, want a risk of %g that nothing turns", w, want)
	}
}

// TestWorthOfTooFew: below 4096 rows there is no figure, and what cannot be is named.
func TestWorthOfTooFew(t *testing.T) {
	x, holds, d := normalClaim(1, 2048, 0.5, 0, true)
	if w := worth(t, x, holds, d); w.Gain.Estimate == w.Gain.Estimate || w.Risk < 0.4 {
		t.Errorf("%+v", w)
	}
	x[5] = math.Inf(1)
	if _, err := NewLearnt(x, d); err == nil {
		t.Error("an infinite row is let through")
	}
	x[5] = math.NaN() // is learnt to be so
	l, err := NewLearnt(x, d)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.Of(holds[1:], 0); err == nil {
		t.Error("rows of another number are let through")
	}
	holds[3] = 0.5
	if _, err := l.Of(holds, 0); err == nil {
		t.Error("half a yes is let through")
	}
}
