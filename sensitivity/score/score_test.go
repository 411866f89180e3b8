package score

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/sampling/portable"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.17g, want %.17g", what, got, want)
	}
}

// Closed forms of Gneiting and Raftery 2007, equation 21, worked out at 60 digits; the sample
// of four in fractions.
func TestNormalCRPS(t *testing.T) {
	for _, c := range []struct{ mean, sd, y, crps, place float64 }{
		{0, 1, 0, 0.23369497725510906893, 0.5},
		{0, 1, 1, 0.60244135762761630982, 0.84134474606854294859},
		{480, 6, 470, 6.8527811187701523137, 0.047790352272814707859},
		{0, 1, -3, 2.4365747250863391602, 0.0013498980316300945267},
		{10, 0.5, 10.2, 0.14834404517357483096, 0.65542174161032416674},
	} {
		near(t, "normal", Normal(c.mean, c.sd, c.y), c.crps, 1e-12)
		const n = 100_000 // a sample at even chances comes near, with an error of the order 1/n
		x := make([]float64, n)
		for i := range x {
			x[n-1-i] = c.mean + c.sd*portable.NormalQuantile((float64(i)+0.5)/n)
		}
		f := New(x, nil)
		near(t, "sample", f.CRPS(c.y), c.crps, 1e-4*c.sd)
		near(t, "place", f.Place(c.y), c.place, 1e-5)
		near(t, "percentile", f.Percentile(0.05), c.mean-1.6448536269514722*c.sd, 1e-4*c.sd)
	}
	near(t, "one value", Normal(3, 0, 5), 2, 0)
}

func TestCRPSOfSample(t *testing.T) {
	f := New([]float64{8, 1, math.NaN(), 4, 2}, nil)
	near(t, "CRPS at 3", f.CRPS(3), 13.0/16, 1e-15)
	near(t, "CRPS at 10", f.CRPS(10), 77.0/16, 1e-15)
	near(t, "one value", New([]float64{5, 5, 5}, nil).CRPS(3), 2, 1e-15)
	near(t, "place of a tie", New([]float64{1, 2, 2, 3}, nil).Place(2), 0.5, 1e-15)
	weighed := New([]float64{4, 1, 8, 2, 99}, []float64{2, 1, 3, 1, 0})
	same := New([]float64{1, 2, 4, 4, 8, 8, 8}, nil)
	for _, y := range []float64{0, 3, 4, 9} {
		near(t, "weights as counts", weighed.CRPS(y), same.CRPS(y), 1e-14)
		near(t, "place by weights", weighed.Place(y), same.Place(y), 1e-14)
	}
	const n = 200_000
	x := make([]float64, n)
	for i := range x {
		x[i] = (float64(i) + 0.5) / n
	}
	near(t, "uniform at 0.3", New(x, nil).CRPS(0.3), 0.12333333333333333333, 1e-6)
	near(t, "uniform at 1.5", New(x, nil).CRPS(1.5), 0.83333333333333333333, 1e-6)
	if none := New(nil, nil); !math.IsNaN(none.CRPS(1)) || !math.IsNaN(none.Place(1)) || !math.IsNaN(none.Percentile(0.5)) {
		t.Error("no draws have a score")
	}
}

// The example of six cases is worked in fractions.
func TestBrier(t *testing.T) {
	b := BrierOf([]Said{{0.9, true}, {0.1, true}, {0.5, true}, {0.9, true}, {0.5, false}, {0.1, false}})
	near(t, "score", b.Score, 67.0/300, 1e-15)
	near(t, "reliability", b.Reliability, 17.0/300, 1e-15)
	near(t, "resolution", b.Resolution, 1.0/18, 1e-15)
	near(t, "uncertainty", b.Uncertainty, 2.0/9, 1e-15)
	near(t, "sum", b.Reliability-b.Resolution+b.Uncertainty, b.Score, 1e-15)
	near(t, "interval", Interval(470, 490, 0.9, 495), 120, 1e-9)
	near(t, "interval inside", Interval(470, 490, 0.9, 480), 20, 0)
}

// TestProper: of normal forecasts with the right mean and several widths the true one has the
// least mean score, whatever the score: 4000 outcomes, the others lie 5 and more standard
// errors of the difference off.
func TestProper(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	var crps, interval [3]float64
	widths := [3]float64{0.5, 1, 2}
	for range 4000 {
		y := rng.NormFloat64()
		for i, sd := range widths {
			crps[i] += Normal(0, sd, y)
			interval[i] += Interval(-1.645*sd, 1.645*sd, 0.9, y)
		}
	}
	if crps[1] >= crps[0] || crps[1] >= crps[2] || interval[1] >= interval[0] || interval[1] >= interval[2] {
		t.Errorf("crps %v, interval %v of widths %v", crps, interval, widths)
	}
}

// TestUneven: of places that are uniform the limit is passed in 5 % of 4000 cases, within 4
// standard errors (a false alarm in 16,000); of places of forecasts half as wide as they should
// be in most.
func TestUneven(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 2))
	passed, found := 0, 0
	for range 4000 {
		fair, narrow := make([]float64, 40), make([]float64, 40)
		for i := range fair {
			fair[i], narrow[i] = rng.Float64(), portable.NormalCDF(2*rng.NormFloat64())
		}
		if Uneven(fair) > UnevenLimit {
			passed++
		}
		if Uneven(narrow) > UnevenLimit {
			found++
		}
	}
	if passed < 145 || passed > 255 || found < 2600 {
		t.Errorf("passed by %d fair ones and %d narrow ones of 4000", passed, found)
	}
}

// TestBand: counts of the binomial distribution, summed one by one in whole numbers; so many
// that the chance of the first is too small for a float64 among them.
func TestBand(t *testing.T) {
	for _, c := range []struct {
		n         int
		chance    float64
		low, high int
	}{{1, 0.9, 0, 1}, {10, 0.9, 7, 10}, {60, 0.9, 49, 58}, {400, 0.9, 348, 371}, {2000, 0.9, 1773, 1826}, {10, 1, 10, 10}, {10, 0, 0, 0}, {0, 0.9, 0, 0}} {
		if low, high := Band(c.n, c.chance); low != c.low || high != c.high {
			t.Errorf("of %d: %d to %d, want %d to %d", c.n, low, high, c.low, c.high)
		}
	}
}
