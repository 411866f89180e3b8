package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// pairs is first, then n pairs of low and high: how the NumAcc sets are made.
func pairs(first, low, high float64, n int) []float64 {
	return append([]float64{first}, slices.Repeat([]float64{low, high}, n)...)
}

// NIST Statistical Reference Datasets, univariate (itl.nist.gov/div898/strd). The
// mean is the certified one. The standard deviation is the exact one of the data
// as float64 holds them, in rational arithmetic: it agrees with the certified
// value as far as the data do (NumAcc4: 8 digits) and tells the error of the
// algorithm from theirs.
func TestMomentsStRD(t *testing.T) {
	sets := []struct {
		name     string
		x        []float64
		mean, sd float64
	}{
		{"Lew", column(t, "strd_lew.txt"), -177.435, 277.33216804431613576},
		{"Lottery", column(t, "strd_lottery.txt"), 518.95871559633027523, 291.69972747096908424},
		{"Mavro", column(t, "strd_mavro.txt"), 2.001856, 0.00042912345400308540929},
		{"Michelso", column(t, "strd_michelso.txt"), 299.8524, 0.079010547819050667151},
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1},
		{"NumAcc2", pairs(1.2, 1.1, 1.3, 500), 1.2, 0.099999999999999977796},
		{"NumAcc3", pairs(1000000.2, 1000000.1, 1000000.3, 500), 1000000.2, 0.10000000003492459655},
		{"NumAcc4", pairs(10000000.2, 10000000.1, 10000000.3, 500), 10000000.2, 0.10000000055879354477},
	}
	for _, set := range sets {
		reversed := slices.Clone(set.x)
		slices.Reverse(reversed)
		for _, parts := range []int{1, 2, 3, 7, 64} {
			if parts > len(set.x) {
				continue
			}
			for _, x := range [][]float64{set.x, reversed} {
				s := mustDescribe(t, x, equal(len(x), parts))
				near(t, set.name+" mean", s.Mean, set.mean, 1e-15)
				near(t, set.name+" sd", s.SD, set.sd, 1e-13)
			}
		}
	}
}

func mustDescribe(t *testing.T, x []float64, d Rows) Summary {
	t.Helper()
	s, err := Describe(x, d, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// near compares with a relative tolerance; NaN equals NaN.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) && math.IsNaN(want) || got == want {
		return
	}
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.17g, want %.17g", what, got, want)
	}
}

// A coin that shows 1 with the chance q has skewness (1-2q)/sqrt(q(1-q)), any
// textbook; neither the unit nor the size of the numbers may matter.
func TestSkewnessOfCoin(t *testing.T) {
	for _, unit := range []float64{1, -1, 1e-150, 1e300, 5e-320} {
		for ones := 1; ones < 10; ones++ {
			x := make([]float64, 10)
			for i := range ones {
				x[i] = unit
			}
			q := float64(ones) / 10
			s := mustDescribe(t, x, Rows{Independent: true})
			tolerance := 1e-13
			if math.Abs(unit) < 1e-300 {
				tolerance = 1e-3 // numbers of few bits
			}
			want := (1 - 2*q) / math.Sqrt(q*(1-q)) * math.Copysign(1, unit)
			if math.Abs(s.Skewness-want) > max(tolerance*math.Abs(want), tolerance) {
				t.Errorf("unit %g, %d ones: skewness %g, want %g", unit, ones, s.Skewness, want)
			}
			near(t, "sd", s.SD, math.Sqrt(q*(1-q)*10/9)*math.Abs(unit), tolerance)
		}
	}
}

// The order of rows changes sums in their last digits only, and nothing that
// hangs on the sorted rows; equal calls give equal bits.
func TestOrderOfRows(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	x := make([]float64, 3000)
	for i := range x {
		x[i] = 2000 + 20*random.NormFloat64()
		if i%17 == 0 {
			x[i] = math.NaN()
		}
	}
	independent := Rows{Independent: true}
	a := mustDescribe(t, x, independent)
	if b := mustDescribe(t, x, independent); a != b {
		t.Error("two equal calls differ")
	}
	random.Shuffle(len(x), func(i, j int) { x[i], x[j] = x[j], x[i] })
	for _, d := range []Rows{independent, equal(len(x), 1), equal(len(x), 16), equal(len(x), 3000/7)} {
		b := mustDescribe(t, x, d)
		near(t, "mean", b.Mean, a.Mean, 1e-15)
		near(t, "sd", b.SD, a.SD, 1e-13)
		near(t, "skewness", b.Skewness, a.Skewness, 1e-11)
		b.Mean, b.SD, b.Skewness, b.Method = a.Mean, a.SD, a.Skewness, a.Method
		b.MeanInterval, b.SDInterval, b.P05Interval, b.P50Interval, b.P95Interval = a.MeanInterval, a.SDInterval, a.P05Interval, a.P50Interval, a.P95Interval
		if a != b {
			t.Errorf("shuffled rows: got %+v, want %+v", b, a)
		}
	}
}
