package design

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

func newLatin(t testing.TB, seed uint64, rows int) Design {
	t.Helper()
	d, err := Latin(seed, rows)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func fill(d Design, n int, purpose, column string, round, replicate, from int) []float64 {
	u := make([]float64, n)
	d.Fill(u, purpose, column, round, replicate, from)
	return u
}

var sizes = []int{1, 2, 3, 16, 100, 255, 256, 257, 1000, 4096, 5001}

// TestLatinStrata: in every replicate each stratum [j/n, (j+1)/n) holds exactly
// one row.
func TestLatinStrata(t *testing.T) {
	for _, n := range sizes {
		d := newLatin(t, 42, 16*n)
		for r := range d.Replicates() {
			u := fill(d, n, "sample", "mass", 0, r, 0)
			slices.Sort(u)
			for j, v := range u {
				if !(v > 0 && v < 1 && v >= float64(j)/float64(n) && v < float64(j+1)/float64(n)) {
					t.Fatalf("n=%d replicate %d: ordered row %d is %v, outside its stratum", n, r, j, v)
				}
			}
		}
	}
}

// TestInStratumAtTheTop: the largest jitter never reaches the next stratum,
// where plain (j+v)/n often does.
func TestInStratumAtTheTop(t *testing.T) {
	lifted := 0
	for _, n := range []float64{1, 3, 10, 1000, 8192, 12500, 1 << 20, 3e7} {
		for i := range 2000 {
			j := math.Floor(float64(i) / 2000 * n)
			for _, v := range []float64{1 - 0x1p-53, 1 - 0x1p-50, 1 - 0x1p-30, 0x1p-53} {
				u := inStratum(uint64(j), v, n)
				if !(u >= j/n && u < (j+1)/n && u > 0) {
					t.Fatalf("(%v + %v)/%v gives %v", j, v, n, u)
				}
				if (j+v)/n >= (j+1)/n {
					lifted++
				}
			}
		}
	}
	if lifted == 0 {
		t.Error("no case where rounding would have lifted a value: the test tests nothing")
	}
}

func designs(t testing.TB) map[string]Design {
	return map[string]Design{"latin short": newLatin(t, 7, 16*200), "latin long": newLatin(t, 7, 16*3000), "random": Random(7)}
}

// TestSlices: rows are the same from any slicing, in any order.
func TestSlices(t *testing.T) {
	for name, d := range designs(t) {
		whole := fill(d, 200, "sample", "mass", 3, 1, 0)
		for _, size := range []int{1, 7, 64} {
			for from := (199 / size) * size; from >= 0; from -= size {
				part := fill(d, min(size, 200-from), "sample", "mass", 3, 1, from)
				if !slices.Equal(part, whole[from:from+len(part)]) {
					t.Fatalf("%s: rows from %d differ when made alone", name, from)
				}
			}
		}
	}
}

// TestBeyondTheEnd: rows that a replicate doesn't have are NaN.
func TestBeyondTheEnd(t *testing.T) {
	d := newLatin(t, 1, 160)
	u := fill(d, 12, "sample", "mass", 0, 0, 5)
	for i, v := range u {
		if (v != v) != (i >= 5) {
			t.Errorf("row %d is %v", 5+i, v)
		}
	}
	if v := fill(d, 1, "sample", "mass", 0, 0, 500)[0]; v == v {
		t.Errorf("row 500 of 10 is %v, want NaN", v)
	}
}

// TestStreamsUnrelated: whatever tells two columns apart (seed, purpose, name,
// round, replicate) makes them independent. For 2000 rows the correlation has
// sd 1/sqrt(2000) or less; 5.5 sd over 5 pairs and 3 designs give a false alarm
// rate below 1e-6. That adding an input leaves the others alone needs no test:
// Fill sees one name only.
func TestStreamsUnrelated(t *testing.T) {
	const n = 2000
	for _, name := range []string{"latin", "random"} {
		make1 := func(seed uint64) Design {
			if name == "random" {
				return Random(seed)
			}
			return newLatin(t, seed, 16*n)
		}
		base := fill(make1(7), n, "sample", "mass", 0, 0, 0)
		for what, other := range map[string][]float64{
			"seed":      fill(make1(8), n, "sample", "mass", 0, 0, 0),
			"purpose":   fill(make1(7), n, "index", "mass", 0, 0, 0),
			"column":    fill(make1(7), n, "sample", "area", 0, 0, 0),
			"round":     fill(make1(7), n, "sample", "mass", 1, 0, 0),
			"replicate": fill(make1(7), n, "sample", "mass", 0, 1, 0),
		} {
			if c := 12 * covariance(base, other); math.Abs(c) > 5.5/math.Sqrt(n) {
				t.Errorf("%s: another %s correlates by %.3f", name, what, c)
			}
		}
	}
	if slices.Equal(fill(Random(7), 100, "s", "a", 0, 0, 0), fill(Random(7), 100, "s", "a", 0, 1, 0)) {
		t.Error("replicates repeat")
	}
}

func covariance(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += (a[i] - 0.5) * (b[i] - 0.5)
	}
	return sum / float64(len(a))
}

// TestUniformMargins: distance of Kolmogorov and Smirnov of 20000 values from
// the uniform distribution, limit 2.75/sqrt(n): false alarm 2 exp(-2 2.75^2) =
// 5.4e-7 a column. For latin it is the jitter within the strata that is tested.
func TestUniformMargins(t *testing.T) {
	const n = 20000
	for _, column := range []string{"mass", "drag_coefficient", "x"} {
		random := fill(Random(1), n, "sample", column, 0, 0, 0)
		jitter := fill(newLatin(t, 1, 16*n), n, "sample", column, 0, 5, 0)
		for i, u := range jitter {
			jitter[i] = u*n - math.Floor(u*n)
		}
		for name, u := range map[string][]float64{"random": random, "latin jitter": jitter} {
			slices.Sort(u)
			worst := 0.0
			for i, v := range u {
				worst = max(worst, math.Abs(v-float64(i)/n), math.Abs(v-float64(i+1)/n))
			}
			if worst > 2.75/math.Sqrt(n) {
				t.Errorf("%s of %s: distance %.4f from uniform, limit %.4f", name, column, worst, 2.75/math.Sqrt(n))
			}
		}
	}
}

// TestErrorOfTheMean: root-mean-square error of the mean over 320 designs of
// 1024 rows. Ishigami and Homma (1990) with a=7, b=0.1 has V = 13.8446 and
// first-order indices that add up to 0.7562 (closed forms: Saltelli et al.,
// 2000, Sensitivity Analysis, Wiley), so random gives sqrt(V/1024) = 0.1163 and
// Latin sqrt(0.2438) of it, 0.0574 (Stein, 1987, Technometrics 29). The relative
// se of an rms over 320 is 4 %; 5 se give a false alarm below 1e-6.
func TestErrorOfTheMean(t *testing.T) {
	const n, designs = 1024, 320
	ishigami := func(x []float64) float64 {
		a, b, c := (2*x[0]-1)*math.Pi, (2*x[1]-1)*math.Pi, (2*x[2]-1)*math.Pi
		return math.Sin(a) + 7*math.Sin(b)*math.Sin(b) + 0.1*c*c*c*c*math.Sin(a)
	}
	rms := func(at func(i int, column string) []float64) float64 {
		total := 0.0
		for i := range designs {
			x1, x2, x3 := at(i, "x1"), at(i, "x2"), at(i, "x3")
			sum := 0.0
			for j := range x1 {
				sum += ishigami([]float64{x1[j], x2[j], x3[j]})
			}
			e := sum/n - 3.5
			total += e * e
		}
		return math.Sqrt(total / designs)
	}
	random := rms(func(i int, column string) []float64 { return fill(Random(uint64(i)), n, "sample", column, 0, 0, 0) })
	latin := rms(func(i int, column string) []float64 {
		return fill(newLatin(t, uint64(i/16), 16*n), n, "sample", column, 0, i%16, 0)
	})
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"random", random, 0.1163}, {"latin", latin, 0.0574}} {
		if math.Abs(c.got/c.want-1) > 0.2 {
			t.Errorf("%s: error of the mean %.4f, want %.4f within 20 %%", c.name, c.got, c.want)
		}
	}
}

func TestFillDoesNotAllocate(t *testing.T) {
	u := make([]float64, 100)
	for name, d := range designs(t) {
		if n := testing.AllocsPerRun(10, func() { d.Fill(u, "sample", "mass", 0, 0, 50) }); n != 0 {
			t.Errorf("%s: Fill allocates %v times", name, n)
		}
	}
}

// BenchmarkDesign gives ns a row; 8192 rows a replicate is the default study's.
func BenchmarkDesign(b *testing.B) {
	u := make([]float64, 1024)
	for _, n := range []int{256, 8192, 16384, 12500} {
		d := newLatin(b, 1, 16*n)
		part := u[:min(n, len(u))]
		b.Run(fmt.Sprintf("design=latin/replicate=%d", n), func(b *testing.B) {
			for b.Loop() {
				d.Fill(part, "sample", "mass", 0, 0, 0)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(part)), "ns/row")
		})
	}
	b.Run("design=random", func(b *testing.B) {
		d := Random(1)
		for b.Loop() {
			d.Fill(u, "sample", "mass", 0, 0, 0)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(u)), "ns/row")
	})
}

func TestDesignRefusals(t *testing.T) {
	latinError := func(rows int) error { _, err := Latin(1, rows); return err }
	roundError := func(name string, rows int) error { _, err := RoundRows(name, rows); return err }
	for _, c := range []struct {
		got  error
		want string
	}{
		{latinError(0), "got 0 rows; a latin design takes a multiple of 16, at most 1099511627776"},
		{latinError(40), "got 40 rows; a latin design takes a multiple of 16, at most 1099511627776"},
		{roundError("latin", 0), "got 0 rows; 1 to 1099511627776 are allowed"},
		{roundError("sobel", 10), `no design is called "sobel"; there are latin, random, sobol, halton and latin_low_correlation`},
	} {
		if c.got == nil || c.got.Error() != c.want {
			t.Errorf("got %v\nwant %s", c.got, c.want)
		}
	}
	for _, c := range []struct {
		design     string
		rows, want int
	}{{"latin", 1, 16}, {"latin", 16, 16}, {"latin", 17, 32}, {"latin", 200_000, 200_000}, {"random", 17, 17}} {
		if got, err := RoundRows(c.design, c.rows); err != nil || got != c.want {
			t.Errorf("RoundRows(%s, %d) = %d, %v, want %d", c.design, c.rows, got, err, c.want)
		}
	}
}
