package design

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

func numbers(t *testing.T, text string) []float64 {
	t.Helper()
	var x []float64
	for _, w := range strings.Fields(text) {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil {
			t.Fatal(err)
		}
		x = append(x, v)
	}
	return x
}

// TestSobolPoints: unscrambled points of the numbers of Joe and Kuo (2008) as SciPy
// 1.10.1 gives them (qmc.Sobol(scramble=False, bits=32)), in Gray-code order, where
// point i is point i^(i>>1) of natural order; the last four rows in natural order.
func TestSobolPoints(t *testing.T) {
	gray := func(i uint32) uint32 { return i ^ i>>1 }
	for _, c := range []struct {
		index uint32
		first int // dimension
		want  string
	}{
		{gray(0), 1, "0 0 0 0 0 0 0 0"},
		{gray(1), 1, "0.5 0.5 0.5 0.5 0.5 0.5 0.5 0.5"},
		{gray(2), 1, "0.75 0.25 0.25 0.25 0.75 0.75 0.25 0.75"},
		{gray(3), 1, "0.25 0.75 0.75 0.75 0.25 0.25 0.75 0.25"},
		{gray(4), 1, "0.375 0.375 0.625 0.875 0.375 0.125 0.375 0.875"},
		{gray(5), 1, "0.875 0.875 0.125 0.375 0.875 0.625 0.875 0.375"},
		{gray(6), 1, "0.625 0.125 0.875 0.625 0.625 0.875 0.125 0.125"},
		{gray(7), 1, "0.125 0.625 0.375 0.125 0.125 0.375 0.625 0.625"},
		{gray(100), 1, "0.4140625 0.2578125 0.7734375 0.7265625 0.8828125 0.7421875"},
		{gray(1023), 1, "0.0009765625 0.7529296875 0.6123046875 0.1455078125 0.1865234375 0.4384765625"},
		{gray(4095), 1, "0.000244140625 0.941162109375 0.334228515625 0.901611328125 0.940185546875 0.078857421875"},
		{gray(5), 37, "0.125 0.375 0.875 0.375"},
		{gray(77), 37, "0.5546875 0.8984375 0.1328125 0.2734375"},
		{1, 1, "0.5 0.5 0.5 0.5 0.5 0.5"},
		{2, 1, "0.25 0.75 0.75 0.75 0.25 0.25"},
		{3, 1, "0.75 0.25 0.25 0.25 0.75 0.75"},
		{5, 1, "0.625 0.125 0.875 0.625 0.625 0.875"},
	} {
		for j, want := range numbers(t, c.want) {
			if got := float64(sobolTable()[c.first-1+j].point(c.index)) / (1 << 32); got != want {
				t.Errorf("point %d, dimension %d: %v, want %v", c.index, c.first+j, got, want)
			}
		}
	}
}

// TestSobolDirections: direction integers m_k = 2^k v_k, as above.
func TestSobolDirections(t *testing.T) {
	for dimension, want := range map[int]string{
		2: "1 3 5 15 17 51 85 255", 3: "1 3 3 9 29 23 71 197", 4: "1 3 1 5 31 29 81 147", 5: "1 1 1 11 31 55 61 157", 10: "1 1 7 11 19 37 69 91",
	} {
		sums := sobolTable()[dimension-1]
		for k, m := range numbers(t, want) {
			v := sums[k]
			if k > 0 {
				v ^= sums[k-1]
			}
			if float64(v>>(31-k)) != m || v<<(k+1) != 0 {
				t.Errorf("dimension %d: m_%d is %d, want %v", dimension, k+1, v>>(31-k), m)
			}
		}
	}
	for j, sums := range sobolTable() {
		for k := range sums {
			if sums[k]>>(31-k)&1 == 0 {
				t.Errorf("dimension %d: direction %d is even", j+1, k+1)
			}
		}
	}
}

// TestNet: the first two dimensions of Sobol's sequence are a (0,2)-sequence in base
// 2 (Sobol', 1967, USSR Comput. Math. Math. Phys. 7, 86-112), and Owen's scrambling
// keeps it: of 2^m points, every box of 2^-a by 2^-(m-a) has exactly one.
func TestNet(t *testing.T) {
	for _, m := range []int{4, 7, 10} {
		n := 1 << m
		d := newDesign(t, "sobol", 13, 16*n, "x", "y")
		for r := range 16 {
			x, y := fill(d, n, "sample", "x", 0, r, 0), fill(d, n, "sample", "y", 0, r, 0)
			for a := range m + 1 {
				wide, high := float64(int(1)<<a), float64(int(1)<<(m-a))
				seen := make([]bool, n)
				for i := range x {
					cell := int(x[i]*wide)<<(m-a) + int(y[i]*high)
					if seen[cell] {
						t.Fatalf("2^%d points, replicate %d: a box of 2^-%d by 2^-%d has two", m, r, a, m-a)
					}
					seen[cell] = true
				}
			}
		}
	}
}

// TestHaltonDigits: with all digits left alone the points would be the radical
// inverses (Halton, 1960): two rows part at the same digit as they do, whatever the
// scrambling. 100 in base 2, 3, 5, 7 is 19/128, 100/243, 4/125, 100/343.
func TestHaltonDigits(t *testing.T) {
	for base, want := range map[uint64]float64{2: 19. / 128, 3: 100. / 243, 5: 4. / 125, 7: 100. / 343} {
		if got := radicalInverse(100, base); math.Abs(got-want) > 1e-15 {
			t.Errorf("100 in base %d: %v, want %v", base, got, want)
		}
	}
	const n = 256
	d := newDesign(t, "halton", 14, 16*n, names(5)...)
	for j, base := range firstPrimes(5) {
		u := fill(d, n, "sample", names(5)[j], 0, 3, 0)
		for a := range n {
			for b := range a {
				if got, want := sharedDigits(u[a], u[b], base), sharedDigits(radicalInverse(a, base), radicalInverse(b, base), base); got != want {
					t.Fatalf("base %d: rows %d and %d share %d digits, want %d", base, a, b, got, want)
				}
			}
		}
	}
}

func radicalInverse(i int, base uint64) float64 {
	x, f := 0.0, 1/float64(base)
	for ; i > 0; i /= int(base) {
		x += f * float64(i%int(base))
		f /= float64(base)
	}
	return x
}

func sharedDigits(u, v float64, base uint64) int {
	count, cells := 0, float64(base)
	for int(u*cells+1e-9) == int(v*cells+1e-9) {
		count, cells = count+1, cells*float64(base)
	}
	return count
}

// TestDigitPairs: over keys, two different digits go to each pair of different
// digits alike often: chi-square of 20 pairs in base 5 with 19 degrees of freedom,
// limit 64.4, false alarm 1e-6 (two positions: 2e-6).
func TestDigitPairs(t *testing.T) {
	const keys = 20000
	r := newRadix(5, 5)
	for _, pair := range [][2]uint64{{0, 1}, {2, 4}} {
		var count [5][5]float64
		for k := range keys {
			key := NewKey(uint64(k), "pairs")
			count[int(5*r.point(key, pair[0]))][int(5*r.point(key, pair[1]))]++
		}
		chi := 0.0
		for a := range 5 {
			for b := range 5 {
				if a != b {
					chi += math.Pow(count[a][b]-keys/20, 2) / (keys / 20)
				}
			}
			if count[a][a] != 0 {
				t.Errorf("two digits became one")
			}
		}
		if chi > 64.4 {
			t.Errorf("digits %v: chi-square %.1f", pair, chi)
		}
	}
}

// TestLowCorrelation: the largest rank correlation of 20 columns, beside that of
// latin, whose 190 pairs have sd 1/sqrt(n-1) each; and the columns keep their strata
// (TestContractStrata).
func TestLowCorrelation(t *testing.T) {
	const n, d = 125, 20
	for r := range 16 {
		worst := map[string]float64{}
		for _, name := range []string{"latin", "latin_low_correlation"} {
			design := newDesign(t, name, 15, 16*n, names(d)...)
			var strata [][]uint16
			for _, column := range names(d) {
				strata = append(strata, ranks(fill(design, n, "sample", column, 0, r, 0)))
			}
			worst[name] = largestCorrelation(strata)
		}
		if !(worst["latin_low_correlation"] < 0.12 && worst["latin"] > 0.2) {
			t.Errorf("replicate %d: largest correlation %.3f, latin has %.3f", r, worst["latin_low_correlation"], worst["latin"])
		}
	}
}

func largestCorrelation(strata [][]uint16) float64 {
	worst := 0.0
	for j, a := range strata {
		for _, b := range strata[:j] {
			mid, sum, square := float64(len(a)-1)/2, 0.0, 0.0
			for i := range a {
				sum += (float64(a[i]) - mid) * (float64(b[i]) - mid)
				square += (float64(a[i]) - mid) * (float64(a[i]) - mid)
			}
			worst = max(worst, math.Abs(sum/square))
		}
	}
	return worst
}

// smooth are functions of 4 columns, each less its mean, 1 and (1-1/e)^4.
var smooth = map[string]func(x []float64) float64{
	"product": func(x []float64) float64 { return (0.5+x[0])*(0.5+x[1])*(0.5+x[2])*(0.5+x[3]) - 1 },
	"exp":     func(x []float64) float64 { return math.Exp(-x[0]-x[1]-x[2]-x[3]) - math.Pow(-math.Expm1(-1), 4) },
}

// TestSlopes: the root-mean-square error of the mean of two smooth functions falls
// as a power of the rows n of a replicate. Measured over 64 replicates:
//
//	design  function   n = 64   n = 4096   slope
//	random  product    0.0684   0.0104     -0.45
//	        exp        0.0117   0.00158    -0.48
//	latin   product    0.0232   0.0034     -0.46   (what interacts; what adds up is gone)
//	        exp        0.00374  0.000559   -0.46
//	halton  product    0.0129   0.000189   -1.02
//	        exp        0.00199  0.0000348  -0.97
//	sobol   product    0.00444  0.0000212  -1.29   (-1.5 for large n: Owen, 1997, Ann. Stat. 25)
//	        exp        0.000601 0.00000399 -1.21
//
// The rms of 64 has a relative se of 0.09, so a slope over a factor of 64 one of
// 0.03; the limits leave 5 of them around what is expected of random and latin.
func TestSlopes(t *testing.T) {
	for _, c := range []struct {
		design    string
		low, high float64
	}{{"random", -0.65, -0.35}, {"latin", -0.65, -0.35}, {"halton", -1.25, -0.85}, {"sobol", -1.55, -1.15}} {
		for _, name := range []string{"product", "exp"} {
			few, many := rmsOfMean(t, c.design, 64, smooth[name]), rmsOfMean(t, c.design, 4096, smooth[name])
			slope := math.Log(many/few) / math.Log(64)
			t.Logf("%-7s %-7s rms %.3g at n = 64, %.3g at 4096, slope %.2f", c.design, name, few, many, slope)
			if !(slope >= c.low && slope <= c.high) {
				t.Errorf("%s, %s: slope %.2f, want %g to %g", c.design, name, slope, c.low, c.high)
			}
		}
	}
}

// rmsOfMean is the root-mean-square, over 64 replicates of n rows, of the mean of f.
func rmsOfMean(t *testing.T, design string, n int, f func(x []float64) float64) float64 {
	d := newDesign(t, design, 16, 16*n, names(4)...)
	total := 0.0
	for i := range 64 {
		var u [4][]float64
		for j, column := range names(4) {
			u[j] = fill(d, n, "sample", column, i/16, i%16, 0)
		}
		sum := 0.0
		for k := range n {
			sum += f([]float64{u[0][k], u[1][k], u[2][k], u[3][k]})
		}
		total += sum * sum / float64(n*n)
	}
	return math.Sqrt(total / 64)
}

// BenchmarkDesigns gives ns a row of one column of each design, in one run.
func BenchmarkDesigns(b *testing.B) {
	u := make([]float64, 512)
	for _, name := range Names() {
		for _, column := range []int{0, 19} {
			n := 8192
			if name == "latin_low_correlation" {
				n = 125
			}
			d, list := newDesign(b, name, 1, 16*n, names(20)...), names(20)
			part := u[:min(n, len(u))]
			b.Run("design="+name+"/column="+strconv.Itoa(column+1), func(b *testing.B) {
				from := 0
				for b.Loop() {
					d.Fill(part, "sample", list[column], 0, 0, from)
					if from += len(part); from >= n {
						from = 0
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(part)), "ns/row")
			})
		}
	}
}
