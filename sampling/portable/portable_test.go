package portable

import (
	"bufio"
	"fmt"
	"hash/fnv"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// reference is a row of testdata/sampling/portable.csv: mpmath at 60 digits.
type reference struct {
	function string
	x, y     float64
	value    *big.Float
}

func readReferences(t *testing.T) []reference {
	t.Helper()
	f, err := os.Open("../../testdata/sampling/portable.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows []reference
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		w := strings.Split(lines.Text(), ",")
		if strings.HasPrefix(lines.Text(), "#") || w[0] == "function" {
			continue
		}
		x, errX := strconv.ParseFloat(w[1], 64)
		y, errY := strconv.ParseFloat(w[2], 64)
		v, _, errV := big.ParseFloat(w[3], 10, 120, big.ToNearestEven)
		if errX != nil || errY != nil || errV != nil {
			t.Fatalf("bad row %q", lines.Text())
		}
		rows = append(rows, reference{w[0], x, y, v})
	}
	return rows
}

// ulps is the distance of got from want in units of the last place of want.
func ulps(got float64, want *big.Float) float64 {
	near, _ := want.Float64()
	near = math.Abs(near)
	unit := math.Nextafter(near, math.Inf(1)) - near
	d := new(big.Float).SetPrec(120).SetFloat64(got)
	d.Sub(d, want)
	off, _ := d.Quo(d, new(big.Float).SetFloat64(unit)).Float64()
	return math.Abs(off)
}

var functions = map[string]struct {
	f     func(x, y float64) float64
	limit float64 // ulp
}{
	"exp":            {func(x, _ float64) float64 { return Exp(x) }, 1},
	"expm1":          {func(x, _ float64) float64 { return Expm1(x) }, 1},
	"log":            {func(x, _ float64) float64 { return Log(x) }, 1},
	"log1p":          {func(x, _ float64) float64 { return Log1p(x) }, 1},
	"pow":            {Pow, 1},
	"normalcdf":      {func(x, _ float64) float64 { return NormalCDF(x) }, 3},
	"normalquantile": {func(x, _ float64) float64 { return NormalQuantile(x) }, 2},
	"sin":            {func(x, _ float64) float64 { return SinSmall(x) }, 1},
	"cos":            {func(x, _ float64) float64 { return CosSmall(x) }, 1},
	"sinall":         {func(x, _ float64) float64 { return Sin(x) }, 1},
	"cosall":         {func(x, _ float64) float64 { return Cos(x) }, 1},
	"tan":            {func(x, _ float64) float64 { return Tan(x) }, 2},
	"asin":           {func(x, _ float64) float64 { return Asin(x) }, 1},
	"acos":           {func(x, _ float64) float64 { return Acos(x) }, 1},
	"atan":           {func(x, _ float64) float64 { return Atan(x) }, 1},
	"atan2":          {Atan2, 2}, // y, x
}

func TestReferences(t *testing.T) {
	worst, count := map[string]float64{}, map[string]int{}
	for _, r := range readReferences(t) {
		fn, ok := functions[r.function]
		if !ok {
			t.Fatalf("unknown function %q in the table", r.function)
		}
		count[r.function]++
		got := fn.f(r.x, r.y)
		off := ulps(got, r.value)
		worst[r.function] = max(worst[r.function], off)
		if !(off <= fn.limit) {
			t.Errorf("%s(%v, %v) = %v, want %.20g: %.2f ulp, allowed %g", r.function, r.x, r.y, got, r.value, off, fn.limit)
		}
	}
	for name := range functions {
		if count[name] < 100 {
			t.Errorf("%s has %d references, want at least 100", name, count[name])
		}
		t.Logf("%-15s %4d references, worst %.3f ulp", name, count[name], worst[name])
	}
}

func TestSpecialCases(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"exp(0)", Exp(0), 1}, {"exp(inf)", Exp(inf), inf}, {"exp(-inf)", Exp(-inf), 0}, {"exp(710)", Exp(710), inf},
		{"exp(-746)", Exp(-746), 0}, {"exp(nan)", Exp(nan), nan}, {"exp(-745)", Exp(-745), 5e-324},
		{"expm1(inf)", Expm1(inf), inf}, {"expm1(-inf)", Expm1(-inf), -1}, {"expm1(nan)", Expm1(nan), nan}, {"expm1(710)", Expm1(710), inf},
		{"log(0)", Log(0), -inf}, {"log(-1)", Log(-1), nan}, {"log(inf)", Log(inf), inf}, {"log(nan)", Log(nan), nan}, {"log(1)", Log(1), 0}, {"log(-inf)", Log(-inf), nan},
		{"log1p(-1)", Log1p(-1), -inf}, {"log1p(-2)", Log1p(-2), nan}, {"log1p(inf)", Log1p(inf), inf}, {"log1p(nan)", Log1p(nan), nan},
		{"pow(0,2)", Pow(0, 2), 0}, {"pow(0,-2)", Pow(0, -2), inf}, {"pow(-1,2)", Pow(-1, 2), nan}, {"pow(nan,0)", Pow(nan, 0), 1},
		{"pow(2,nan)", Pow(2, nan), nan}, {"pow(inf,-1)", Pow(inf, -1), 0}, {"pow(inf,1)", Pow(inf, 1), inf}, {"pow(0.5,-inf)", Pow(0.5, -inf), inf},
		{"pow(0.5,inf)", Pow(0.5, inf), 0}, {"pow(10,400)", Pow(10, 400), inf}, {"pow(10,-400)", Pow(10, -400), 0}, {"pow(3,4)", Pow(3, 4), 81},
		{"cdf(-inf)", NormalCDF(-inf), 0}, {"cdf(inf)", NormalCDF(inf), 1}, {"cdf(nan)", NormalCDF(nan), nan}, {"survival(inf)", NormalSurvival(inf), 0},
		{"quantile(0)", NormalQuantile(0), -inf}, {"quantile(1)", NormalQuantile(1), inf}, {"quantile(0.5)", NormalQuantile(0.5), 0},
		{"quantile(-1)", NormalQuantile(-1), nan}, {"quantile(2)", NormalQuantile(2), nan}, {"quantile(nan)", NormalQuantile(nan), nan},
		{"upper(0)", NormalQuantileUpper(0), inf}, {"upper(1)", NormalQuantileUpper(1), -inf},
		{"sin(0)", SinSmall(0), 0}, {"cos(0)", CosSmall(0), 1},
		{"Sin(0)", Sin(0), 0}, {"Sin(inf)", Sin(inf), nan}, {"Cos(-inf)", Cos(-inf), nan}, {"Tan(inf)", Tan(inf), nan}, {"Tan(nan)", Tan(nan), nan}, {"Sin(nan)", Sin(nan), nan},
		{"asin(1)", Asin(1), math.Pi / 2}, {"asin(-1)", Asin(-1), -math.Pi / 2}, {"asin(1+)", Asin(math.Nextafter(1, 2)), nan}, {"asin(nan)", Asin(nan), nan},
		{"acos(1)", Acos(1), 0}, {"acos(-1)", Acos(-1), math.Pi}, {"acos(-1-)", Acos(math.Nextafter(-1, -2)), nan}, {"acos(nan)", Acos(nan), nan},
		{"atan(inf)", Atan(inf), math.Pi / 2}, {"atan(-inf)", Atan(-inf), -math.Pi / 2}, {"atan(nan)", Atan(nan), nan},
		{"atan2(0,1)", Atan2(0, 1), 0}, {"atan2(0,-1)", Atan2(0, -1), math.Pi}, {"atan2(1,0)", Atan2(1, 0), math.Pi / 2}, {"atan2(-1,0)", Atan2(-1, 0), -math.Pi / 2}, {"atan2(1,-0)", Atan2(1, math.Copysign(0, -1)), math.Pi / 2},
		{"atan2(inf,-inf)", Atan2(inf, -inf), 3 * math.Pi / 4}, {"atan2(1,inf)", Atan2(1, inf), 0}, {"atan2(nan,1)", Atan2(nan, 1), nan}, {"atan2(1,nan)", Atan2(1, nan), nan},
	} {
		if c.got != c.want && (c.got == c.got || c.want == c.want) {
			t.Errorf("%s = %v, want %v", c.name, c.got, c.want)
		}
	}
}

// goldenTrig was taken on amd64, as goldenBits was.
const goldenTrig = "758db8167373b874"

// TestGoldenTrig is TestGoldenBits of the trigonometric functions, whose arguments
// here reach from 0 to the largest number.
func TestGoldenTrig(t *testing.T) {
	h := fnv.New64a()
	state := uint64(1)
	for range 20000 {
		state = state*6364136223846793005 + 1442695040888963407
		u := (float64(state>>12) + 0.5) / (1 << 52)
		small, any, unit := float64(20*u)-10, math.Ldexp(u, int(state%2000)-976), float64(2*u)-1
		for _, v := range []float64{Sin(small), Cos(small), Tan(small), Sin(any), Cos(any), Tan(any),
			Asin(unit), Acos(unit), Atan(small), Atan(any), Atan2(small, unit), Atan2(unit, small)} {
			fmt.Fprintf(h, "%016x", math.Float64bits(v))
		}
	}
	if got := fmt.Sprintf("%016x", h.Sum64()); got != goldenTrig {
		t.Errorf("bits %s, want %s", got, goldenTrig)
	}
}

// TestMirror: the upper tail is the lower one, bit for bit.
func TestMirror(t *testing.T) {
	for x := -38.0; x < 38; x += 0.37 {
		if NormalSurvival(x) != NormalCDF(-x) {
			t.Errorf("survival(%v) = %v, want %v", x, NormalSurvival(x), NormalCDF(-x))
		}
	}
	for p := 1e-300; p < 0.5; p *= 7.3 {
		if NormalQuantileUpper(p) != -NormalQuantile(p) {
			t.Errorf("upper quantile of %v = %v, want %v", p, NormalQuantileUpper(p), -NormalQuantile(p))
		}
	}
}

// TestMonotone: neighbouring arguments never reverse a distribution function
// by more than its rounding, also where the forms change.
func TestMonotone(t *testing.T) {
	for _, join := range []float64{-8, -3, -0.65, 0.65, 3, 8} {
		x := join - 1e-9
		for range 2000 {
			next := x + 1e-12
			if a, b := NormalCDF(x), NormalCDF(next); b < a*(1-1e-15) {
				t.Fatalf("cdf falls from %v at %v to %v at %v", a, x, b, next)
			}
			x = next
		}
	}
}

// goldenBits was taken on amd64; qemu-user runs the same test as arm64.
const goldenBits = "5568cf725e4c887d"

// TestGoldenBits holds the bits of every function over a wide sweep: they must
// be the same on every machine and never change.
func TestGoldenBits(t *testing.T) {
	h := fnv.New64a()
	put := func(v float64) {
		b := math.Float64bits(v)
		h.Write([]byte{byte(b), byte(b >> 8), byte(b >> 16), byte(b >> 24), byte(b >> 32), byte(b >> 40), byte(b >> 48), byte(b >> 56)})
	}
	state := uint64(1)
	for range 20000 {
		state = state*6364136223846793005 + 1442695040888963407
		u := (float64(state>>12) + 0.5) / (1 << 52)
		put(Exp(float64(1400*u) - 700))
		put(Expm1(float64(8*u) - 4))
		put(Log(u))
		put(Log(math.Ldexp(u, int(state%2000)-1000)))
		put(Log1p(float64(3*u) - 0.9))
		put(Pow(u+0.5, float64(40*u)-20))
		put(NormalCDF(float64(80*u) - 40))
		put(NormalSurvival(float64(8*u) - 4))
		put(NormalQuantile(u))
		put(NormalQuantileUpper(math.Ldexp(u, -int(state%1000))))
		put(SinSmall(float64(1.57*u) - 0.785))
		put(CosSmall(float64(1.57*u) - 0.785))
	}
	if got := fmt.Sprintf("%016x", h.Sum64()); got != goldenBits {
		t.Errorf("bits %s, want %s", got, goldenBits)
	}
}

var sink float64

// BenchmarkFunctions sets each function beside the standard library's, in one
// run: "ratio" is ours over theirs.
func BenchmarkFunctions(b *testing.B) {
	var u [1024]float64
	for i := range u {
		u[i] = (float64(i*389%1024) + 0.5) / 1024
	}
	for _, c := range []struct {
		name       string
		ours, lib  func(float64) float64
		scale, off float64
	}{
		{"exp", Exp, math.Exp, 20, -10},
		{"expm1", Expm1, math.Expm1, 4, -2},
		{"log", Log, math.Log, 100, 0},
		{"log1p", Log1p, math.Log1p, 3, -0.9},
		{"pow5.25588", func(x float64) float64 { return Pow(x, 5.25588) }, func(x float64) float64 { return math.Pow(x, 5.25588) }, 0.5, 0.6},
		{"normalcdf", NormalCDF, func(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }, 8, -4},
		{"normalquantile", NormalQuantile, func(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }, 1, 0},
		{"sin", SinSmall, math.Sin, 1.57, -0.785},
		{"cos", CosSmall, math.Cos, 1.57, -0.785},
		{"sinall", Sin, math.Sin, 20, -10},
		{"cosall", Cos, math.Cos, 20, -10},
		{"sinlarge", Sin, math.Sin, 1e12, 1e10},
		{"tan", Tan, math.Tan, 20, -10},
		{"asin", Asin, math.Asin, 2, -1},
		{"acos", Acos, math.Acos, 2, -1},
		{"atan", Atan, math.Atan, 20, -10},
		{"atan2", func(y float64) float64 { return Atan2(y, -1.3) }, func(y float64) float64 { return math.Atan2(y, -1.3) }, 20, -10},
	} {
		b.Run("function="+c.name, func(b *testing.B) {
			var x [1024]float64
			for i := range x {
				x[i] = c.scale*u[i] + c.off
			}
			sweep := func(f func(float64) float64) {
				for _, v := range x {
					sink += f(v)
				}
			}
			var ours, lib int64
			for b.Loop() {
				t0 := nanotime()
				sweep(c.ours)
				t1 := nanotime()
				sweep(c.lib)
				ours, lib = ours+t1-t0, lib+nanotime()-t1
			}
			b.ReportMetric(float64(ours)/float64(b.N)/1024, "ns/value")
			b.ReportMetric(float64(ours)/float64(lib), "ratio")
		})
	}
}

var start = time.Now()

func nanotime() int64 { return int64(time.Since(start)) }
