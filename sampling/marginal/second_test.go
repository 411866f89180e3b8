package marginal

import (
	"maps"
	"math"
	"proofmass/sampling/design"
	"slices"
	"testing"
)

// secondFamily are marginals whose draws were frozen after those of firstFamily.
func secondFamily(t testing.TB) map[string]Marginal {
	t.Helper()
	all := map[string]Marginal{}
	for _, name := range []string{
		"beta(2;5;0;1)", "beta(0.5;0.5;-1e-6;1e-6)", "beta(80;3;0;1e15)", "beta(400;700;10;20)", "beta(1;1;0;1)",
		"gamma(0.5;1;0)", "gamma(2.5;1e15;0)", "gamma(100;0.5;-20)", "gamma(3000;1e-6;0)",
		"student(5;0;1)", "student(18;50000623;25)", "student(1000;0;1e-6)",
		"weibull(1.5;2;0)", "weibull(0.7;1e15;0)", "weibull(40;1e-6;0)",
		"arcsine(-0.5;0.5)", "arcsine(0;1e15)",
		"trapezoidal(0;1;3;4)", "trapezoidal(-2;-2;0.5;1)", "trapezoidal(0;0;0;1e15)", "trapezoidal(0;1e-6;1e-6;1e-6)",
		"curvilinear(-1;1;0.1)", "curvilinear(10;12;0.999)", "curvilinear(0;1e15;1e12)",
	} {
		all[name] = parseCase(t, name)
	}
	read, err := Readings([]float64{10.1, 10.3, 9.9, 10.0, 10.2, 10.15})
	all["readings"] = must(t, read, err)
	smooth, err := Smoothed([]float64{1, 2, 2, 3, 10}, 0.5)
	all["smoothed"] = must(t, smooth, err)
	ends, err := TriangularEnds(350, 550, 900, 0.05, 0.95)
	all["triangular ends"] = must(t, ends, err)
	pertEnds, err := PERTEnds(350, 550, 900, 0.1, 0.9)
	all["pert ends"] = must(t, pertEnds, err)
	for _, c := range []struct {
		base      string
		low, high float64
	}{
		{"beta(2;5;0;1)", 0.1, 0.4}, {"gamma(2.5;1e15;0)", 1e15, math.Inf(1)}, {"student(5;0;1)", 1, 4}, {"student(5;0;1)", math.Inf(-1), 0.5},
		{"weibull(1.5;2;0)", 0, 3}, {"arcsine(-0.5;0.5)", 0, 1}, {"trapezoidal(0;1;3;4)", 0.5, 3.5}, {"curvilinear(-1;1;0.1)", -0.5, 2},
		{"smoothed", 0, 3.5},
	} {
		m, err := Truncate(all[c.base], c.low, c.high)
		all["truncated "+c.base+boundsText(c.low, c.high)] = must(t, m, err)
	}
	return all
}

// TestSecondRefusals: as TestRefusals, for the constructors that came later.
func TestSecondRefusals(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	try := func(_ Marginal, err error) error { return err }
	data, _ := Resampled([]float64{3, 1, 2})
	for _, c := range []struct {
		got  error
		want string
	}{
		{try(Beta(0, 1, 0, 1)), "the shape a of a beta distribution is 0; it must be at least 0.01 and at most 100000"},
		{try(Beta(1, nan, 0, 1)), "the shape b of a beta distribution is NaN; it must be at least 0.01 and at most 100000"},
		{try(Beta(1, 1, 1, 0)), "low 1 must be below high 0"},
		{try(Gamma(1e6, 1, 0)), "the shape of a gamma distribution is 1e+06; it must be at least 0.01 and at most 100000"},
		{try(Gamma(1, 0, 0)), "the scale 0 must be above 0"},
		{try(Gamma(1, inf, 0)), "the scale is +Inf; it must be a finite number"},
		{try(Gamma(1, 1, nan)), "from is NaN; it must be a finite number"},
		{try(Gamma(1, 1e307, 0)), "a gamma distribution of shape 1 and scale 1e+307 goes beyond what a number can hold"},
		{try(Weibull(0, 1, 0)), "the shape of a Weibull distribution is 0; it must be at least 0.1 and at most 10000"},
		{try(Weibull(0.1, 1e300, 0)), "a Weibull distribution of shape 0.1 and scale 1e+300 goes beyond what a number can hold"},
		{try(Student(2, 0, 1)), "2 degrees of freedom; Student's t takes 2.1 (at 2 and below it has no sd) to 200000 (a normal serves there)"},
		{try(Student(3, inf, 1)), "the middle is +Inf; it must be a finite number"},
		{try(Student(3, 0, -1)), "the scale -1 must be above 0"},
		{try(Student(3, 0, 1e300)), "a Student's t with middle 0 and scale 1e+300 goes beyond what a number can hold"},
		{try(Arcsine(1, 1)), "low and high are both 1; low must be below high, and what is certain is a constant"},
		{try(Trapezoidal(0, 2, 1, 3)), "the four values 0, 2, 1, 3 of a trapezoid must not fall"},
		{try(Trapezoidal(0, nan, 1, 3)), "the four values 0, NaN, 1, 3 of a trapezoid must not fall"},
		{try(CurvilinearTrapezoidal(0, 2, 1)), "the half-width 1 of the limits must be above 0 and below half their distance, 1"},
		{try(CurvilinearTrapezoidal(0, 1, 1e-300)), "the half-width 1e-300 is lost beside low 0 and high 1; between serves there"},
		{try(Readings([]float64{1, 2, 3})), "3 readings; at least 4 are needed, for with fewer Student's t has no sd"},
		{try(Readings([]float64{2, 2, 2, 2})), "all readings are 2; what never varies says nothing of its own uncertainty"},
		{try(Readings([]float64{1, 2, 3, nan})), "a reading is NaN; it must be a finite number"},
		{try(Resampled(nil)), "there is no value; at least one is needed"},
		{try(Resampled([]float64{1, inf})), "a value is +Inf; it must be a finite number"},
		{try(Truncate(data, 1.2, 1.8)), "none of the values lies between min 1.2 and max 1.8"},
		{try(Smoothed([]float64{1}, 0)), "the bandwidth 0 must be above 0; without one the values are resampled as they are"},
		{try(Smoothed([]float64{1e15}, 1e-9)), "the bandwidth 1e-09 is lost beside the values 1e+15 to 1e+15"},
		{try(Smoothed(make([]float64, 100_001), 1)), "100001 values; at most 100000 are allowed"},
		{try(TriangularEnds(1, 2, 3, 0.6, 0.9)), "the ends 60 % and 90 % must be percentiles from 0.1 % to 99.9 % on both sides of 50 %"},
		{try(PERTEnds(1, 4, 3, 0.1, 0.9)), "the mode 4 must lie between low 1 and high 3"},
	} {
		if c.got == nil || c.got.Error() != c.want {
			t.Errorf("got %v\nwant %s", c.got, c.want)
		}
	}
}

// TestResampled: each value comes as often as it stands in the data, from either
// end, and limits leave those between them.
func TestResampled(t *testing.T) {
	made, err := Resampled([]float64{5, 1, 3, 3})
	m := must(t, made, err)
	for p, want := range map[float64]float64{0: 1, 0.2: 1, 0.25: 3, 0.74: 3, 0.75: 5, 1: 5} {
		if got := m.Quantile(p); got != want {
			t.Errorf("quantile(%v) = %v, want %v", p, got, want)
		}
	}
	for q, want := range map[float64]float64{0: 5, 0.1: 5, 0.25: 5, 0.26: 3, 0.75: 3, 0.8: 1, 1: 1} {
		if got := m.QuantileUpper(q); got != want {
			t.Errorf("upper quantile(%v) = %v, want %v", q, got, want)
		}
	}
	if m.CDF(3) != 0.75 || m.CDF(2.9) != 0.25 || m.Survival(3) != 0.25 || m.Mean() != 3 || m.SD() != math.Sqrt2 {
		t.Errorf("CDF %v %v, survival %v, mean %v, sd %v", m.CDF(3), m.CDF(2.9), m.Survival(3), m.Mean(), m.SD())
	}
	cut, err := Truncate(m, 2, 4)
	if got := must(t, cut, err); got.Mean() != 3 || got.SD() != 0 {
		t.Errorf("truncated mean %v, sd %v, want 3 and 0", got.Mean(), got.SD())
	}
}

// TestEndsArePercentiles: beyond low lies the share p, beyond high 1-q.
func TestEndsArePercentiles(t *testing.T) {
	for _, make := range []func(low, mode, high, p, q float64) (Marginal, error){TriangularEnds, PERTEnds} {
		for _, c := range [][5]float64{{1, 2, 4, 0.05, 0.95}, {1, 1, 4, 0.1, 0.75}, {-3, 9, 9, 0.001, 0.999}, {0, 1e-6, 1e9, 0.4, 0.6}} {
			made, err := make(c[0], c[1], c[2], c[3], c[4])
			m := must(t, made, err)
			if below, above := m.CDF(c[0]), m.Survival(c[2]); math.Abs(below-c[3]) > 1e-9 || math.Abs(above-(1-c[4])) > 1e-9 {
				t.Errorf("%v: %v below low, %v above high", c, below, above)
			}
		}
	}
}

// BenchmarkFill draws 4,096 values of each marginal.
func BenchmarkFill(b *testing.B) {
	all := family(b)
	maps.Copy(all, discrete(b))
	values, err := Resampled([]float64{3, 1, 2, 2, 1e15})
	all["resampled"] = must(b, values, err)
	u, x := make([]float64, 4096), make([]float64, 4096)
	design.Random(9).Fill(u, "sample", "x", 0, 0, 0)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		b.Run("of="+name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				all[name].Fill(x, u)
			}
			b.ReportMetric(float64(b.N)*float64(len(u))/b.Elapsed().Seconds()/1e6, "Mrows/s")
		})
	}
}

// BenchmarkMake makes the tables of what is drawn from one.
func BenchmarkMake(b *testing.B) {
	for _, name := range []string{"pert(0;1;3)", "beta(2;5;0;1)", "beta(1e5;1e5;0;1)", "gamma(2.5;3;0)", "gamma(1e5;3;0)", "student(5;0;1)", "student(2e5;0;1)"} {
		b.Run("of="+name, func(b *testing.B) {
			for b.Loop() {
				parseCase(b, name)
			}
		})
	}
}

// TestTailsToTheEnd: from 1e-300 up, the chance of a quantile, by its own pair, is
// the chance asked for within 4 units in the last place and what as many units
// of the value (or of the numbers that it is counted from; of a lognormal's score) bring.
func TestTailsToTheEnd(t *testing.T) {
	worst := 0.0
	for name, m := range family(t) {
		for p := 1e-300; p <= 0.5; p *= 3.7 {
			for _, side := range []struct {
				what              string
				quantile, inverse func(float64) float64
			}{{"below", m.Quantile, m.CDF}, {"above", m.QuantileUpper, m.Survival}} {
				x := side.quantile(p)
				if math.Abs(x) < 1e-290*m.SD() {
					continue // a chance so small has no number for its value
				}
				step := 4*0x1p-52*math.Abs(x) + 4*rounding(m) + 1e-320
				if d, ok := m.(logNormal); ok {
					step += 4 * 0x1p-52 * x * math.Abs(math.Log(x/d.median))
				}
				off := math.Abs(side.inverse(x) - p)
				slack := 4*0x1p-52*p + math.Abs(side.inverse(x+step)-side.inverse(x-step))
				worst = max(worst, off/slack)
				if !(off <= slack) {
					t.Errorf("%s: the chance %s %v is %v, want %v: off by %.2g of what is allowed", name, side.what, x, side.inverse(x), p, off/slack)
				}
			}
		}
	}
	t.Logf("worst %.2f of what is allowed", worst)
}
