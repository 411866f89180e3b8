package sensitivity

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"

	"proofmass/sensitivity/estimate"
)

// givenRows are 16 replicates: Latin hypercubes, or independent rows.
func givenRows(seed uint64, rows, d int, hypercubes bool) ([][]float64, estimate.Rows) {
	random, x := newRandom(seed), make([][]float64, d)
	bounds := []int{0}
	for range replicates {
		draw := independent
		if hypercubes {
			draw = latin
		}
		for j, c := range draw(random, rows/replicates, d) {
			x[j] = append(x[j], c...)
		}
		bounds = append(bounds, len(x[0]))
	}
	if !hypercubes {
		return x, estimate.Rows{Independent: true}
	}
	return x, estimate.Rows{Bounds: bounds}
}

func classesOf(t testing.TB, x, weight []float64, d estimate.Rows) *Classes {
	t.Helper()
	c, err := NewClasses(x, d.Weighted(weight))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestClassSizes: classes are of equal size, never split a value, and between n^(1/3)
// and n^(1/2) in number from 400 rows on.
func TestClassSizes(t *testing.T) {
	for _, n := range []int{1, 2, 3, 39, 40, 400, 1024, 4096, 16384, 100_000, 300_000} {
		x, _ := givenRows(1, 16*n, 1, false)
		c := classesOf(t, x[0][:n], nil, estimate.Rows{Independent: true})
		if k := float64(c.n); n >= 400 && (k < math.Cbrt(float64(n)) || k > math.Sqrt(float64(n))) {
			t.Errorf("%d rows: %d classes", n, c.n)
		}
		counts := make([]int, c.n)
		for _, k := range c.class {
			counts[k]++
		}
		if len(counts) > 0 && slices.Max(counts) > slices.Min(counts)+1 {
			t.Errorf("%d rows: classes of %v rows", n, counts)
		}
	}
}

func TestTiesAreNotSplit(t *testing.T) {
	for _, values := range []int{2, 7, 100} {
		x, d := givenRows(2, 4096, 1, true)
		for i, u := range x[0] {
			x[0][i] = math.Floor(u * u * float64(values))
		}
		c := classesOf(t, x[0], nil, d)
		class := map[float64]uint16{}
		for row, v := range x[0] {
			if k, ok := class[v]; ok && k != c.class[row] {
				t.Fatalf("%d values: %g lies in classes %d and %d", values, v, k, c.class[row])
			}
			class[v] = c.class[row]
		}
		if values < 10 && c.n != values {
			t.Errorf("%d values in %d classes", values, c.n)
		}
	}
}

func TestClassErrors(t *testing.T) {
	x := make([]float64, 4)
	free := estimate.Rows{Independent: true}
	for name, c := range map[string]struct {
		weight []float64
		d      estimate.Rows
	}{
		"too few weights":  {[]float64{1}, free},
		"negative weight":  {[]float64{1, 1, -1, 1}, free},
		"weight NaN":       {[]float64{1, 1, math.NaN(), 1}, free},
		"infinite weight":  {[]float64{1, 1, math.Inf(1), 1}, free},
		"no bounds":        {nil, estimate.Rows{}},
		"wrong last bound": {nil, estimate.Rows{Bounds: []int{0, 3}}},
	} {
		if _, err := NewClasses(x, c.d.Weighted(c.weight)); err == nil {
			t.Errorf("%s: no error", name)
		}
		if _, err := Regress([][]float64{x}, nil, c.d.Weighted(c.weight), 0); err == nil {
			t.Errorf("%s: no error of Regress", name)
		}
	}
	if _, err := Regress([][]float64{x}, [][]float64{x[:3]}, free, 0); err == nil {
		t.Error("unequal columns: no error")
	}
}

// isUnknown tells that neither the estimate nor its interval says anything.
func isUnknown(i Index) bool {
	return math.IsNaN(i.Estimate) && math.IsNaN(i.Low) && math.IsNaN(i.High)
}

// Columns about which nothing can be said.
func TestNothingToSay(t *testing.T) {
	u, d := givenRows(3, 1024, 2, true)
	x, y := u[0], u[1]
	nan := slices.Repeat([]float64{math.NaN()}, len(x))
	same := slices.Repeat([]float64{0.1}, len(x))
	one := append([]float64{1}, nan[1:]...)
	one2 := estimate.Rows{Independent: true}
	for name, c := range map[string]struct {
		x, y []float64
		d    estimate.Rows
	}{
		"constant output": {x, same, d}, "constant input": {same, y, d},
		"all infeasible": {x, nan, d}, "input NaN": {nan, y, d},
		"one feasible row": {x, one, d}, "another length": {x, y[1:], d},
		"one row": {x[:1], y[:1], one2}, "no row": {nil, nil, one2},
	} {
		classes := classesOf(t, c.x, nil, c.d)
		if s := classes.Of(c.y).First(0.95); !isUnknown(s) {
			t.Errorf("%s: First is %v", name, s)
		}
		if s := classes.Of(c.y).Distance(0.95); !isUnknown(s.KS) || !isUnknown(s.Delta) || !math.IsNaN(s.Floor) {
			t.Errorf("%s: Distance is %v", name, s)
		}
		if p := classes.Of(c.y).Curve(0.95); len(p) != 0 {
			t.Errorf("%s: Curve is %v", name, p)
		}
		low, high := classes.Of(c.y).Ends(0.95)
		if low.Mean == low.Mean || high.Mean == high.Mean {
			t.Errorf("%s: Ends are %v, %v", name, low, high)
		}
	}
}

// everything is what is said of one output, as numbers.
func everything(c *Classes, y []float64) []float64 {
	var v []float64
	index := func(i Index) { v = append(v, i.Estimate, i.Low, i.High) }
	index(c.Of(y).First(0.9))
	d := c.Of(y).Distance(0.9)
	index(d.KS)
	index(d.Delta)
	v = append(v, d.Floor)
	low, high := c.Of(y).Ends(0.9)
	for _, p := range append(c.Of(y).Curve(0.9), low, high) {
		v = append(v, p.InputLow, p.InputHigh, p.Input, p.Mean, p.Low, p.High)
	}
	return v
}

// Rows of weight 0, and of an input that is NaN, are as if they were not there.
func TestAbsentRows(t *testing.T) {
	u, _ := givenRows(4, 4096, 3, false)
	y := values(ishigami().f, u)
	var x, weight, z, kept []float64
	for i, v := range u[0] {
		if i%3 == 0 {
			x, weight, z = append(x, u[1][i]), append(weight, 0), append(z, 1e9)
		}
		x, weight, z = append(x, v), append(weight, 1), append(z, y[i])
		kept = append(kept, 1)
	}
	free := estimate.Rows{Independent: true}
	want := everything(classesOf(t, u[0], kept, free), y)
	if got := everything(classesOf(t, x, weight, free), z); !equalBits(got, want) {
		t.Errorf("with rows of weight 0: %v, want %v", got, want)
	}
	for i, w := range weight {
		if w == 0 {
			x[i] = math.NaN()
		}
	}
	if got := everything(classesOf(t, x, nil, free), z); !equalBits(got, want) {
		t.Errorf("with rows without an input: %v, want %v", got, want)
	}
	if got := everything(classesOf(t, u[0], nil, free), y); !equalBits(got, want) {
		t.Errorf("weights of 1 are not as none: %v, want %v", got, want)
	}
}

func equalBits(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) || x != x && y != y })
}

// A second output does not change what the first said: buffers are cleared.
func TestBuffersUsedAgain(t *testing.T) {
	u, d := givenRows(5, 4096, 3, true)
	y, z := values(ishigami().f, u), values(gFunction("g3", 0, 0, 0).f, u)
	c := classesOf(t, u[0], nil, d)
	want := everything(c, y)
	everything(c, z)
	if got := everything(c, y); !equalBits(got, want) {
		t.Errorf("after another output: %v, want %v", got, want)
	}
}

// A mean that is far beside the spread costs no digits, and neither does a unit.
func TestFarMean(t *testing.T) {
	u, d := givenRows(6, 4096, 3, true)
	y := values(ishigami().f, u)
	c := classesOf(t, u[0], nil, d)
	want := c.Of(y).First(0)
	far, tiny := make([]float64, len(y)), make([]float64, len(y))
	for i, v := range y {
		far[i], tiny[i] = 2000+v*0x1p-14, v*0x1p-900
	}
	for name, z := range map[string][]float64{"far": far, "tiny": tiny} {
		got := c.Of(z).First(0)
		if math.Abs(got.Estimate-want.Estimate) > 1e-9 || math.Abs(got.Low-want.Low) > 1e-9 {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

// FuzzGiven: no column makes anything panic, and an interval holds its estimate.
func FuzzGiven(f *testing.F) {
	f.Add([]byte{}, uint8(0), false)
	f.Add([]byte("0123456789abcdef0123456789abcdef0123456789abcdef"), uint8(2), true)
	f.Fuzz(func(t *testing.T, bytes []byte, blocks uint8, weighted bool) {
		var columns [3][]float64
		for i := 0; i+24 <= len(bytes); i += 24 {
			for j := range columns {
				columns[j] = append(columns[j], math.Float64frombits(binary.LittleEndian.Uint64(bytes[i+8*j:])))
			}
		}
		x, y, weight := columns[0], columns[1], columns[2]
		if !weighted {
			weight = nil
		}
		d := estimate.Rows{Independent: true}
		if n := int(blocks); n > 1 && len(x) >= n {
			d = estimate.Rows{Bounds: []int{0}}
			for r := range n {
				d.Bounds = append(d.Bounds, len(x)*(r+1)/n)
			}
		}
		if c, err := NewClasses(x, d.Weighted(weight)); err == nil {
			everything(c, y)
			if s := c.Of(y).First(0); s.Low > s.Estimate || s.Estimate > s.High {
				t.Errorf("First is %v", s)
			}
		}
		_, _ = Regress([][]float64{x, columns[2]}, [][]float64{y, x}, d.Weighted(weight), 0)
	})
}

// BenchmarkGiven tells the cost a row of each step for one input and one output, and of
// Regress for 10 inputs and 3 outputs.
func BenchmarkGiven(b *testing.B) {
	const n = 16 * 6250
	u, d := givenRows(7, n, 10, true)
	y := values(gFunction("g", 0, 1, 4.5, 9, 99, 99, 99, 99, 9, 9).f, u)
	c := classesOf(b, u[0], nil, d)
	perRow := func(b *testing.B) {
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/row")
	}
	for name, step := range map[string]func(){
		"NewClasses": func() { classesOf(b, u[0], nil, d) },
		"First":      func() { c.Of(y).First(0) },
		"Distance":   func() { c.Of(y).Distance(0) },
		"Curve":      func() { c.Of(y).Curve(0) },
		"Regress": func() {
			if _, err := Regress(u, [][]float64{y, u[0], u[1]}, d, 0); err != nil {
				b.Fatal(err)
			}
		},
	} {
		b.Run("step="+name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				step()
			}
			perRow(b)
		})
	}
}
