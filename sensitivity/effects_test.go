package sensitivity

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// screened runs elementary effects of a function: replicates Latin hypercubes of
// rows/replicates rows in 2d columns.
func screened(fn testFunction, seed uint64, rows, replicates int) *Effects {
	d := len(fn.first)
	random := rand.New(rand.NewPCG(seed, 17))
	e := NewEffects(d, 1, replicates)
	for r := range replicates {
		u := latin(random, rows/replicates, 2*d)
		a, b := u[:d], u[d:]
		fA := values(fn.f, a)
		s := e.NewSums()
		for i := range d {
			s.Add(i, 0, a[i], b[i], fA, values(fn.f, swapped(a, b, i)))
		}
		e.Join(r, s)
	}
	return e
}

// The effects of a linear function are its coefficients, everywhere.
func TestEffectsOfLinear(t *testing.T) {
	ranges := []float64{4, -4, 0.5, 1.5}
	for i, e := range screened(linear("linear", ranges...), 1, 256, replicates).Results(0)[0] {
		size := math.Abs(ranges[i])
		if math.Abs(e.Mean-ranges[i]) > 1e-13 || math.Abs(e.MeanAbsolute.Estimate-size) > 1e-13 || e.SD > 1e-13 ||
			math.Abs(e.MeanAbsolute.Low-size) > 1e-12 || math.Abs(e.MeanAbsolute.High-size) > 1e-12 {
			t.Errorf("input %d: %+v, want mean %g and nothing else", i, e, ranges[i])
		}
		// A pair is at least 0.05 apart with the chance 0.95^2, and inside with 0.99^2 or so.
		if e.Rows < 200 || e.Rows > 246 {
			t.Errorf("input %d: %d of 256 rows have an effect", i, e.Rows)
		}
	}
}

// repeated is column j of estimates.csv, as described in reference.py.
func repeated(j int) []float64 {
	const rows = 1440
	u, s := make([]float64, rows), uint64(j+1)
	for k := range rows + 10 {
		s = 6364136223846793005*s + 1442695040888963407
		if k >= 10 {
			u[k-10] = (float64(s>>11) + 0.5) / (1 << 53)
		}
	}
	return u
}

// estimatedFunction is the one of estimates.csv.
func estimatedFunction(u []float64) float64 {
	return u[0] + 2*float64(u[1]*u[1]) + 3*float64(u[0]*u[2])
}

// Effects and pick-freeze against the same estimators in numpy on the same columns.
func TestEstimatesOfColumns(t *testing.T) {
	const d = 4
	columns := make([][]float64, 2*d)
	for j := range columns {
		columns[j] = repeated(j)
	}
	a, b := columns[:d], columns[d:]
	fA, fB := values(estimatedFunction, a), values(estimatedFunction, b)
	e, p := NewEffects(d, 1, 16), NewPickFreeze(d, 1)
	for r := range 16 {
		from, to := 90*r, 90*(r+1)
		es, ps := e.NewSums(), p.NewSums()
		ps.AddBase(0, fA[from:to], fB[from:to])
		for i := range d {
			fAB, fBA := values(estimatedFunction, swapped(a, b, i)), values(estimatedFunction, swapped(b, a, i))
			es.Add(i, 0, a[i][from:to], b[i][from:to], fA[from:to], fAB[from:to])
			ps.AddSwapped(i, 0, fA[from:to], fB[from:to], fAB[from:to], fBA[from:to])
		}
		e.Join(r, es)
		p.Join(r, ps)
	}
	got := map[string]float64{}
	for i, f := range e.Results(0)[0] {
		input := "x" + string(rune('1'+i)) + " "
		got[input+"EE rows"], got[input+"EE mean"] = float64(f.Rows), f.Mean
		got[input+"EE mean absolute"], got[input+"EE sd"] = f.MeanAbsolute.Estimate, f.SD
		got[input+"ST Jansen, V of A (n-1)"] = f.Total.Estimate
		pair := p.Indices(0)[0][i]
		got[input+"S four runs"], got[input+"ST four runs"] = pair.First.Estimate, pair.Total.Estimate
	}
	checked := 0
	for _, r := range references(t, "estimates.csv") {
		if g, ok := got[r.parameters+" "+r.quantity]; ok {
			checked++
			if !(math.Abs(g-r.value) <= 1e-12*max(1, math.Abs(r.value))) {
				t.Errorf("%s %s: %.17g, want %.17g", r.parameters, r.quantity, g, r.value)
			}
		}
	}
	if checked != 7*d {
		t.Errorf("%d rows checked, want %d", checked, 7*d)
	}
}

// What Morris (1991, from memory) reads from his figures: inputs 1 to 10 stand apart
// from 11 to 20; of them 8, 9 and 10 have a large mean and a small deviation, 1 to 7 a
// deviation as great as their mean. One fixed seed; gaps are wide at 2048 rows.
func TestEffectsOfMorris(t *testing.T) {
	e := screened(morris(), 1991, 2048, replicates).Results(0.95)[0]
	for i := range 10 {
		for j := 10; j < 20; j++ {
			if e[i].MeanAbsolute.Low <= 2*e[j].MeanAbsolute.High {
				t.Errorf("input %d: mu* %v, input %d: %v", i+1, e[i].MeanAbsolute, j+1, e[j].MeanAbsolute)
			}
		}
		linear := i >= 7
		if ratio := e[i].SD / e[i].MeanAbsolute.Estimate; linear != (ratio < 0.3) || !linear && ratio < 0.6 {
			t.Errorf("input %d: sigma/mu* is %.2f", i+1, ratio)
		}
		if linear && math.Abs(math.Abs(e[i].Mean)-e[i].MeanAbsolute.Estimate) > 1e-9 {
			t.Errorf("input %d: mu %g, mu* %g", i+1, e[i].Mean, e[i].MeanAbsolute.Estimate)
		}
	}
}

// Infeasible rows count as if never drawn; outputs out of reach and constant ones.
func TestEffectsEdges(t *testing.T) {
	nan := math.NaN()
	random := newRandom(9)
	u := independent(random, 320, 2)
	a, b := u[0], u[1]
	fA, fAB := make([]float64, 320), make([]float64, 320)
	for k := range fA {
		fA[k], fAB[k] = a[k]*a[k], b[k]*b[k]
	}
	seven := slices.Repeat([]float64{7.1}, 320)
	fill := func(to int, fA, fAB []float64) *Effects {
		e := NewEffects(2, 3, 16)
		for r := range 16 {
			s := e.NewSums()
			for from := 20 * r; from < min(20*r+20, 20*r+to); from += 5 { // four slices
				k := min(from+5, 20*r+to)
				s.Add(0, 0, a[from:k], b[from:k], fA[from:k], fAB[from:k])
				s.Add(0, 1, a[from:k], b[from:k], seven[from:k], seven[from:k])
				s.Add(1, 1, a[from:k], b[from:k], seven[from:k], fAB[from:k])
				s.Add(1, 0, a[from:k], b[from:k], slices.Repeat([]float64{nan}, k-from), fAB[from:k])
			}
			e.Join(r, s)
		}
		return e
	}
	want := fill(18, fA, fAB).Results(0.95)
	holedA, holedAB := slices.Clone(fA), slices.Clone(fAB)
	for r := range 16 {
		holedA[20*r+18], holedAB[20*r+19] = nan, math.Inf(1)
	}
	e := fill(20, holedA, holedAB)
	got := e.Results(0.95)
	if got[0][0] != want[0][0] || !(got[0][0].Total.Estimate > 0.5) {
		t.Errorf("holes: %+v, want %+v", got[0][0], want[0][0])
	}
	if c := got[1][0]; c.Mean != 0 || !math.IsNaN(c.Total.Estimate) || !math.IsNaN(c.Total.High) {
		t.Errorf("constant output: %+v", c)
	}
	if c := got[1][1]; !math.IsNaN(c.Total.High) || c.Rows == 0 {
		t.Errorf("constant in A alone: %+v", c)
	}
	if c := got[0][1]; c.Rows != 0 || !math.IsNaN(c.Mean) || !math.IsNaN(c.MeanAbsolute.Estimate) || !math.IsNaN(c.Total.High) {
		t.Errorf("never feasible: %+v", c)
	}
	if c := e.Results(1.5)[0][0]; !math.IsNaN(c.Total.High) || !math.IsNaN(c.MeanAbsolute.Low) || e.Negligible(2, 1.5)[0] {
		t.Errorf("level 1.5: %+v", c)
	}
	if got[2][0] != (Effect{}) {
		t.Errorf("out of reach: %+v", got[2][0])
	}
	if small := e.Negligible(2, 0.95); !small[0] || small[1] {
		t.Errorf("negligible: %v, want the first alone", small)
	}
}

// A dead input is negligible, also beside a constant output; one replicate or no
// output decides nothing.
func TestNegligibleEdges(t *testing.T) {
	run := func(replicates int, fAB []float64) []bool {
		e := NewEffects(1, 2, replicates)
		fA := []float64{1, 2, 4}
		for r := range replicates {
			s := e.NewSums()
			s.Add(0, 0, []float64{0.1, 0.5, 0.9}, []float64{0.6, 0.2, 0.3}, fA, fAB)
			s.Add(0, 1, []float64{0.1}, []float64{0.6}, fA[:1], fA[:1])
			e.Join(r, s)
		}
		return e.Negligible(0.01, 0.95)
	}
	if !run(16, []float64{1, 2, 4})[0] || run(1, []float64{1, 2, 4.001})[0] || run(16, []float64{2, 1, 4})[0] {
		t.Error("a dead input is negligible, one of unknown limit or of much effect is not")
	}
	if NewEffects(1, 0, 16).Negligible(0.01, 0.95)[0] {
		t.Error("negligible without an output")
	}
}

func BenchmarkEffects(b *testing.B) {
	const n = 1024
	u := independent(newRandom(1), n, 4)
	sums := NewEffects(1, 1, 16).NewSums()
	b.Run("sums=rows", func(b *testing.B) {
		for b.Loop() {
			sums.Add(0, 0, u[0], u[1], u[2], u[3])
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/value")
	})
	b.Run("negligible=500x10", func(b *testing.B) {
		e := NewEffects(500, 10, 16)
		for r := range 16 {
			s := e.NewSums()
			for i := range 500 {
				for j := range 10 {
					s.Add(i, j, u[0][:8], u[1][:8], u[2][:8], u[2][1:9])
				}
			}
			e.Join(r, s)
		}
		for b.Loop() {
			e.Negligible(100, 0.95)
		}
	})
}

// What asks the distribution sets aside what the limit of Results would.
func TestNegligibleIsTheLimit(t *testing.T) {
	for _, fn := range []testFunction{linear("linear", 4, -4, 0.5, 1.5), sparse()} {
		compared := 0
		for trial := range uint64(2) {
			e := screened(fn, trial, 64, replicates)
			for i, found := range e.Results(0.9)[0] {
				high := found.Total.High
				if !(high > 0) || i >= 12 && i%61 != 0 { // what acts, and some of what hardly does
					continue
				}
				compared++
				if e.Negligible(high*(1-1e-9), 0.9)[i] || !e.Negligible(high*(1+1e-9), 0.9)[i] {
					t.Errorf("%s, input %d: the limit is %g, and Negligible differs there", fn.name, i, high)
				}
			}
		}
		if compared < 6 {
			t.Errorf("%s: only %d limits were compared", fn.name, compared)
		}
	}
}
