package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

var nan, inf = math.NaN(), math.Inf(1)

// filled is n values that are all v.
func filled(n int, v float64) []float64 { return slices.Repeat([]float64{v}, n) }

func TestDescribeSmall(t *testing.T) {
	independent := Rows{Independent: true}
	t.Run("no row", func(t *testing.T) {
		s := mustDescribe(t, nil, independent)
		if s.Rows != 0 || !math.IsNaN(s.Mean) || s.Method != MethodNone {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("one row", func(t *testing.T) {
		s := mustDescribe(t, []float64{7}, independent)
		if s.Mean != 7 || !math.IsNaN(s.SD) || !math.IsNaN(s.MeanInterval.Low) || s.P50 != 7 || s.Min != 7 || s.Max != 7 {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("two rows", func(t *testing.T) {
		s := mustDescribe(t, []float64{3, 1}, independent)
		// t with 1 degree of freedom at 0.975 is tan(0.475 pi), the Cauchy quantile.
		half := math.Tan(0.475 * math.Pi)
		near(t, "low", s.MeanInterval.Low, 2-half, 1e-12)
		near(t, "high", s.MeanInterval.High, 2+half, 1e-12)
		near(t, "sd", s.SD, math.Sqrt2, 1e-15)
		near(t, "p25", s.P25, 1.5, 0)
		if !math.IsNaN(s.P50Interval.Low) || !math.IsNaN(s.P50Interval.High) {
			t.Error("the median of two rows has no order-statistic interval")
		}
	})
	t.Run("all infeasible", func(t *testing.T) {
		s := mustDescribe(t, filled(1024, nan), equal(1024, 16))
		if s.Rows != 1024 || s.Infeasible != 1024 || !math.IsNaN(s.Mean) || !math.IsNaN(s.P50) || s.Method != MethodNone {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("all equal", func(t *testing.T) {
		for _, v := range []float64{0.1, -2000.3, 0, 1e308} {
			s := mustDescribe(t, filled(2048, v), equal(2048, 16))
			want := Interval{v, v}
			if s.Mean != v || s.SD != 0 || !math.IsNaN(s.Skewness) || s.MeanInterval != want || s.P50Interval != want ||
				s.CoverLow != v || s.ShortestHigh != v {
				t.Errorf("%g: got %+v", v, s)
			}
		}
	})
	t.Run("minus zero", func(t *testing.T) {
		zero := math.Copysign(0, -1)
		s := mustDescribe(t, []float64{zero, 0, zero, 0}, independent)
		if s.SD != 0 || math.Signbit(s.Min) || math.Signbit(s.Mean) || math.Signbit(s.P50) {
			t.Errorf("got %+v", s)
		}
	})
}

func TestDescribeRefuses(t *testing.T) {
	independent := Rows{Independent: true}
	for _, c := range []struct {
		name, want string
		x          []float64
		d          Rows
		o          Options
	}{
		{"infinite", "row 1 is +Inf", []float64{1, inf, 2}, independent, Options{}},
		{"minus infinite", "row 2 is -Inf", []float64{1, nan, -inf}, independent, Options{}},
		{"no bounds", "must run from 0", []float64{1, 2}, Rows{}, Options{}},
		{"short bounds", "must run from 0", []float64{1, 2, 3}, Rows{Bounds: []int{0, 2}}, Options{}},
		{"empty replicate", "replicate 1 is empty", []float64{1, 2, 3}, Rows{Bounds: []int{0, 2, 2, 3}}, Options{}},
		{"level", "level 1", []float64{1, 2}, independent, Options{Level: 1}},
		{"level NaN", "level NaN", []float64{1, 2}, independent, Options{Level: nan}},
		{"coverage", "coverage -0.5", []float64{1, 2}, independent, Options{Coverage: -0.5}},
	} {
		if _, err := Describe(c.x, c.d, c.o, nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got error %v, want one with %q", c.name, err, c.want)
		}
	}
}

// Type 7 as in its definition, h = (n-1) p; the rows 1 to 10 by hand.
func TestPercentiles(t *testing.T) {
	s := mustDescribe(t, []float64{7, 1, 10, 4, nan, 2, 9, 3, 8, 5, 6}, Rows{Independent: true})
	for _, c := range []struct{ got, want float64 }{
		{s.P01, 1.09}, {s.P05, 1.45}, {s.P10, 1.9}, {s.P25, 3.25}, {s.P50, 5.5},
		{s.P75, 7.75}, {s.P90, 9.1}, {s.P95, 9.55}, {s.P99, 9.91}, {s.Min, 1}, {s.Max, 10},
	} {
		near(t, "percentile", c.got, c.want, 1e-15)
	}
	if s.P50Interval != (Interval{2, 9}) { // ranks 2 and 9 of 10, testdata/sensitivity/order_statistics.csv
		t.Errorf("median interval %v, want [2 9]", s.P50Interval)
	}
}

// JCGM 101:2008, 7.7, on the quantiles of two distributions whose intervals have
// closed forms: the standard normal, and the sum of two squared normals of mean 0
// and sd 0.005, which is exponential of mean 5e-5 (clause 9.4 with x1 = 0).
func TestCoverageIntervals(t *testing.T) {
	const n = 200_000
	normal, exponential := make([]float64, n), make([]float64, n)
	for i := range normal {
		p := (float64(i) + 0.5) / n
		normal[i] = math.Sqrt2 * math.Erfinv(2*p-1)
		exponential[i] = -5e-5 * math.Log1p(-p)
	}
	s := mustDescribe(t, normal, Rows{Independent: true})
	near(t, "normal low", s.CoverLow, -1.959964, 1e-4)
	near(t, "normal high", s.CoverHigh, 1.959964, 1e-4)
	near(t, "normal shortest", s.ShortestHigh-s.ShortestLow, 2*1.959964, 1e-4)
	s = mustDescribe(t, exponential, Rows{Independent: true})
	near(t, "exponential low", s.CoverLow, -5e-5*math.Log(0.975), 1e-3)
	near(t, "exponential high", s.CoverHigh, -5e-5*math.Log(0.025), 1e-4)
	near(t, "exponential shortest low", s.ShortestLow, exponential[0], 0)
	near(t, "exponential shortest high", s.ShortestHigh, -5e-5*math.Log(0.05), 1e-4)
}

// By hand: of 100 rows q = 95 and r = 3; of 99 q = 94 (94.05), r = 3 (5/2 rounded
// up); of 9 q = 9 (8.55 rounds to 9), which leaves no interval.
func TestCoverageRanks(t *testing.T) {
	for _, c := range []struct {
		n         int
		low, high float64
	}{{100, 3, 98}, {99, 3, 97}, {20, 1, 20}, {9, nan, nan}} {
		x := make([]float64, c.n)
		for i := range x {
			x[i] = float64(i + 1)
		}
		scratch := Scratch{kept: true, ends: []int{0, len(x)}}
		for _, v := range x {
			scratch.keys = append(scratch.keys, keyOf(v))
		}
		low, high := scratch.coverSymmetric(0.95)
		near(t, "low", low, c.low, 0)
		near(t, "high", high, c.high, 0)
	}
}

func TestMethods(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	x := make([]float64, 16_384)
	for i := range x {
		x[i] = random.NormFloat64()
	}
	uneven := slices.Clone(x)
	copy(uneven, filled(1024, nan)) // the first replicate has no feasible row
	for _, c := range []struct {
		name, method string
		x            []float64
		d            Rows
	}{
		{"few rows", MethodNone, x[:511], equal(511, 16)},
		{"few rows in a replicate", MethodOrder, x[:8192], equal(8192, 16)},
		{"enough", MethodReplicates, x, equal(len(x), 16)},
		{"one replicate", MethodNone, x, equal(len(x), 1)},
		{"empty replicate", MethodNone, uneven, equal(len(x), 16)},
		{"independent", MethodIndependent, x[:100], Rows{Independent: true}},
	} {
		s := mustDescribe(t, c.x, c.d)
		if s.Method != c.method {
			t.Errorf("%s: method %q, want %q", c.name, s.Method, c.method)
		}
		known := s.MeanInterval.Low < s.Mean && s.Mean < s.MeanInterval.High &&
			s.P05Interval.Low < s.P05 && s.P05 < s.P05Interval.High && s.P50Interval.Low < s.P50 && s.P95 < s.P95Interval.High
		if known != (c.method != MethodNone) {
			t.Errorf("%s: intervals %v %v %v %v", c.name, s.MeanInterval, s.P05Interval, s.P50Interval, s.P95Interval)
		}
	}
}

// With equal replicates the interval of the mean is that of the R replicate
// means, mean -+ t s/sqrt(R).
func TestMeanIntervalOfReplicates(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	x := make([]float64, 16*64)
	means := make([]float64, 16)
	for i := range x {
		x[i] = 1000 + random.ExpFloat64()
		means[i/64] += x[i] / 64
	}
	of := mustDescribe(t, means, Rows{Independent: true})
	s := mustDescribe(t, x, equal(len(x), 16))
	near(t, "low", s.MeanInterval.Low, of.MeanInterval.Low, 1e-14)
	near(t, "high", s.MeanInterval.High, of.MeanInterval.High, 1e-14)
}

func TestSortKeys(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for _, n := range []int{0, 1, 511, 512, 5000} {
		keys := make([]uint64, n)
		for i := range keys {
			v := math.Ldexp(random.NormFloat64(), random.IntN(2000)-1000)
			keys[i] = keyOf(v)
			if back := valueOf(keys[i]); back != v {
				t.Fatalf("%g comes back as %g", v, back)
			}
		}
		want := slices.Clone(keys)
		slices.SortFunc(want, func(a, b uint64) int {
			if valueOf(a) < valueOf(b) {
				return -1
			}
			return 1
		})
		new(Scratch).sort(keys)
		if !slices.Equal(keys, want) {
			t.Errorf("%d keys are not sorted", n)
		}
	}
}

// What a second column allocates does not grow with its rows.
func TestDescribeAllocatesNothingARow(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	x := make([]float64, 100_000)
	for i := range x {
		x[i] = random.Float64()
	}
	for _, independent := range []bool{false, true} {
		var scratch Scratch
		allocated := func(rows int) float64 {
			d := equal(rows, 16)
			d.Independent = independent
			return testing.AllocsPerRun(3, func() {
				if _, err := Describe(x[:rows], d, Options{}, &scratch); err != nil {
					t.Fatal(err)
				}
			})
		}
		if few, many := allocated(20_000), allocated(100_000); many > few || many > 200 {
			t.Errorf("independent=%v: %g allocations for 20,000 rows, %g for 100,000", independent, few, many)
		}
	}
}

// The yardstick of BenchmarkDescribe, in the same run: a copy of the column sorted
// by the standard library, which is less than Describe does.
func BenchmarkSortedCopy(b *testing.B) {
	random := rand.New(rand.NewPCG(1, 1))
	x := make([]float64, 200_000)
	for i := range x {
		x[i] = 2000 + 20*random.NormFloat64()
	}
	sorted := make([]float64, len(x))
	for b.Loop() {
		copy(sorted, x)
		slices.Sort(sorted)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(x)), "ns/value")
}

func BenchmarkDescribe(b *testing.B) {
	random := rand.New(rand.NewPCG(1, 1))
	for _, c := range []struct {
		name string
		n    int
		d    Rows
	}{
		{"design=replicated/rows=16384", 1 << 14, equal(1<<14, 16)},
		{"design=replicated/rows=200000", 200_000, equal(200_000, 16)},
		{"design=independent/rows=200000", 200_000, Rows{Independent: true}},
	} {
		b.Run(c.name, func(b *testing.B) {
			x := make([]float64, c.n)
			for i := range x {
				x[i] = 2000 + 20*random.NormFloat64()
			}
			var scratch Scratch
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Describe(x, c.d, Options{}, &scratch); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*c.n), "ns/value")
		})
	}
}

// TestNegativeRowsAreCounted: with weights and without, each time anew.
func TestNegativeRowsAreCounted(t *testing.T) {
	x := []float64{-1, 0, math.Copysign(0, -1), 2, math.NaN(), -3e-300, -7, 5}
	weight := []float64{1, 1, 1, 1, 1, 1, 1, 1}
	var scratch Scratch
	for range 2 {
		for _, d := range []Rows{{Independent: true}, {Independent: true, Weight: weight}} {
			s, err := Describe(x, d, Options{}, &scratch)
			if err != nil || s.Negative != 3 {
				t.Errorf("%d rows below nil, %v; want 3", s.Negative, err)
			}
		}
	}
}
