package estimate

import (
	"math"
	"testing"
)

func TestOrderRanks(t *testing.T) {
	for _, row := range table(t, "order_statistics.csv") {
		n, p := whole(t, row[0]), number(t, row[1])
		low, high := orderRanks(n, p, 0.95)
		if low != whole(t, row[2]) || high != whole(t, row[3]) {
			t.Errorf("n=%d p=%g: ranks %d and %d, want %s and %s", n, p, low, high, row[2], row[3])
		}
		covered := binomialCDF(high-1, n, p)
		if low > 0 {
			covered -= binomialCDF(low-1, n, p)
		}
		if math.Abs(covered-number(t, row[4])) > 1e-10 {
			t.Errorf("n=%d p=%g: coverage %.12f, want %s", n, p, covered, row[4])
		}
	}
}

// Closed forms of the t quantile: nu = 1 is Cauchy, nu = 2 is
// (2p-1) sqrt(2/(4p(1-p))); nu = 9 and 15 from the printed table of the NIST
// Engineering Statistics Handbook, 1.3.6.7.2.
func TestQuantiles(t *testing.T) {
	near(t, "t 1", StudentQuantile(0.95, 1), math.Tan(0.475*math.Pi), 1e-12)
	near(t, "t 2", StudentQuantile(0.95, 2), 0.95*math.Sqrt(2/(4*0.975*0.025)), 1e-12)
	near(t, "t 9", StudentQuantile(0.95, 9), 2.262, 3e-4)
	near(t, "t 15", StudentQuantile(0.95, 15), 2.131, 3e-4)
	near(t, "t 1e6", StudentQuantile(0.95, 1_000_000), normalQuantile(0.95), 1e-5)
	for _, level := range []float64{-1, 0, 1, 2, math.NaN()} {
		near(t, "t of no level", StudentQuantile(level, 15), math.NaN(), 0)
	}
	near(t, "t of nothing", StudentQuantile(0.95, 0), math.NaN(), 0)
	near(t, "z", normalQuantile(0.95), 1.959963984540054, 1e-15)
}

// The jackknife of a mean of equal parts is the classical standard error; of a
// ratio it tends to the linearised one, (1/mean d)^2 var(n - S d)/R.
func TestJackknife(t *testing.T) {
	numerators := []float64{10, 12, 9, 11, 13, 8, 10, 11}
	denominators := []float64{20, 23, 19, 22, 25, 17, 20, 21}
	var top, bottom float64
	for r := range numerators {
		top += numerators[r]
		bottom += denominators[r]
	}
	ratio := top / bottom
	var without []float64
	var square float64
	for r, x := range numerators {
		without = append(without, (top-x)/(bottom-denominators[r]))
		d := x - ratio*denominators[r]
		square += d * d
	}
	n := float64(len(numerators))
	se := math.Sqrt(square/(n-1)/n) / (bottom / n)
	i := Jackknife(ratio, without, 0.95)
	near(t, "half-width", (i.High-i.Low)/2, StudentQuantile(0.95, 7)*se, 0.03)
	near(t, "middle", (i.High+i.Low)/2, ratio, 1e-14)
	if one := Jackknife(1, []float64{1}, 0.95); !math.IsNaN(one.Low) {
		t.Errorf("one replicate: %v, want none", one)
	}
	if same := Jackknife(0.1, []float64{0.1, 0.1, 0.1}, 0.95); same != (Interval{0.1, 0.1}) {
		t.Errorf("equal replicates: %v", same)
	}
}
