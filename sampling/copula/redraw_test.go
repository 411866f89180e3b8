package copula

import (
	"fmt"
	"math"
	"math/rand/v2"
	"proofmass/sampling/marginal"
	"proofmass/sampling/portable"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// latent returns the columns of scores of all inputs for one drawn unit vector a row.
func (d *Dependence) latent() [][]float64 {
	w := make([][]float64, len(d.lead))
	for k, i := range d.free {
		w[i] = make([]float64, len(d.free))
		copy(w[i], d.lower[k])
	}
	for j, i := range d.lead {
		if i != j {
			w[j] = make([]float64, len(d.free))
			d.tie(w, j)
		}
	}
	return w
}

// redrawnLatent applies a redraw to the unit vectors of A and then to those of B: since it
// is linear, all of its law is in the rows, one an input.
func redrawnLatent(d *Dependence, swapped []bool) [][]float64 {
	n := len(d.free)
	w := d.latent()
	a, b, to := make([][]float64, len(w)), make([][]float64, len(w)), make([][]float64, len(w))
	for j := range w {
		a[j], b[j] = append(slices.Clone(w[j]), make([]float64, n)...), append(make([]float64, n), w[j]...)
		to[j] = make([]float64, 2*n)
	}
	d.Redraw(swapped).Fill(to, a, b)
	return to
}

// explained is R_vc R_cc^+ R_cu, the covariance of inputs v and u that those kept
// explain: textbook formula, pseudo-inverse by singular values.
func explained(d *Dependence, swapped []bool) *mat.Dense {
	var kept []int
	for i, s := range swapped {
		if !s {
			kept = append(kept, i)
		}
	}
	n := len(swapped)
	result := mat.NewDense(n, n, nil)
	if len(kept) == 0 {
		return result
	}
	cc, cv := mat.NewDense(len(kept), len(kept), nil), mat.NewDense(len(kept), n, nil)
	for i, p := range kept {
		for j, q := range kept {
			cc.Set(i, j, d.Pearson(p, q))
		}
		for j := range n {
			cv.Set(i, j, d.Pearson(p, j))
		}
	}
	var svd mat.SVD
	svd.Factorize(cc, mat.SVDThin)
	var x mat.Dense
	svd.SolveTo(&x, cv, svd.Rank(1e-9))
	result.Mul(cv.T(), &x)
	return result
}

// checkLaw holds a redraw against the textbook: the joint law is that of A, what is
// kept is A's, and what is redrawn has in common with A only what is kept explains.
func checkLaw(t *testing.T, d *Dependence, swapped []bool, tolerance float64) {
	t.Helper()
	n := len(d.free)
	to, w, common := redrawnLatent(d, swapped), d.latent(), explained(d, swapped)
	for i := range to {
		if !swapped[i] && !slices.Equal(to[i], append(slices.Clone(w[i]), make([]float64, n)...)) {
			t.Errorf("%v: input %d is kept and not A's", swapped, i)
		}
		for j := range to {
			if got := portable.Dot(to[i], to[j]); !(math.Abs(got-d.Pearson(i, j)) <= tolerance) {
				t.Errorf("%v: redrawn inputs %d and %d correlate by %.17g, want %.17g", swapped, i, j, got, d.Pearson(i, j))
			}
			want := d.Pearson(i, j)
			if swapped[i] && swapped[j] {
				want = common.At(i, j)
			}
			if got := portable.Dot(to[i][:n], w[j]); !(math.Abs(got-want) <= tolerance) {
				t.Errorf("%v: redrawn input %d and input %d of A correlate by %.17g, want %.17g", swapped, i, j, got, want)
			}
		}
	}
}

// everySet calls f with all sets of n inputs.
func everySet(n int, f func(swapped []bool)) {
	for m := range 1 << n {
		swapped := make([]bool, n)
		for i := range swapped {
			swapped[i] = m>>i&1 == 1
		}
		f(swapped)
	}
}

// randomDependence ties n inputs whose scores are mixtures of fewer or more normals:
// singular for fewer.
func randomDependence(random *rand.Rand, n, normals int) (*Dependence, error) {
	l := make([][]float64, n)
	for i := range l {
		for range normals {
			l[i] = append(l[i], random.NormFloat64())
		}
		length := math.Sqrt(portable.Dot(l[i], l[i]))
		for k := range l[i] {
			l[i][k] /= length
		}
	}
	s := alike(n, 0)
	for i := range n {
		for j := range i {
			s[i][j] = spearmanOf(portable.Dot(l[i], l[j]))
			s[j][i] = s[i][j]
		}
	}
	return NewDependence(s)
}

// For every set of inputs of many matrices: full rank, singular, tied perfectly, on the edge.
func TestRedrawIsTheConditionalLaw(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for n := 2; n <= 6; n++ {
		for range 5 {
			d, err := randomDependence(random, n, n+2)
			if err != nil {
				t.Fatal(err)
			}
			everySet(n, func(swapped []bool) { checkLaw(t, d, swapped, 1e-12) })
		}
	}
	singular := 0
	for range 40 {
		if d, err := randomDependence(random, 5, 3); err == nil {
			singular++
			everySet(5, func(swapped []bool) { checkLaw(t, d, swapped, 1e-7) })
		}
	}
	if singular < 20 {
		t.Errorf("%d singular matrices were taken, want 20 of 40", singular)
	}
	for _, s := range [][][]float64{
		three(spearmanOf(1-1e-8), 0, spearmanOf(1e-4)), // two almost the same, the third half of what they differ by
		three(1, 0.5, 0.5), three(-1, 0.5, -0.5), three(1, 1, 1), three(-1, 1, -1), three(0, 0, 0),
		{{1, 0.6, -1, 0.2}, {0.6, 1, -0.6, 0.5}, {-1, -0.6, 1, -0.2}, {0.2, 0.5, -0.2, 1}},
		alike(3, spearmanOf(-1.0/2)), alike(4, spearmanOf(-1.0/3)+1e-12), alike(4, spearmanOf(-1.0/3)+1e-9), alike(3, 1-1e-13), alike(5, 1-1e-10),
	} {
		d, err := NewDependence(s)
		if err != nil {
			t.Fatalf("%v: %v", s, err)
		}
		everySet(len(s), func(swapped []bool) { checkLaw(t, d, swapped, 2e-7) })
	}
}

// scores draws n rows of joint normal scores.
func scores(d *Dependence, random *rand.Rand, n int) [][]float64 {
	x := make([][]float64, len(d.lead))
	for j := range x {
		x[j] = make([]float64, n)
		for i := range x[j] {
			x[j][i] = (float64(random.Uint64()>>12) + 0.5) / (1 << 52) // never 0 nor 1
		}
	}
	d.Scores(x)
	return x
}

// What is not tied to anything is swapped; nothing swapped is A, all is B; what is
// kept or fixed by it has the bits of A.
func TestRedrawPlainCases(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	const n = 100
	to := make([][]float64, 4)
	for j := range to {
		to[j] = make([]float64, n)
	}
	for _, c := range []struct {
		s       [][]float64
		swapped []bool
		from    string // of each input: A, B or another value
	}{
		{alike(4, 0.4), []bool{false, false, false, false}, "AAAA"},
		{alike(4, 0.4), []bool{true, true, true, true}, "BBBB"},
		{alike(4, 0.4), []bool{true, false, true, false}, "xAxA"},
		{alike(4, 0), []bool{true, false, true, false}, "BABA"},
		{alike(4, 1), []bool{true, true, false, true}, "AAAA"},
		{alike(4, 1), []bool{true, true, true, true}, "BBBB"},
		{alike(4, spearmanOf(-1.0/3)), []bool{true, false, false, false}, "AAAA"},
		{[][]float64{{1, 0.6, -1, 0}, {0.6, 1, -0.6, 0}, {-1, -0.6, 1, 0}, {0, 0, 0, 1}}, []bool{true, false, true, true}, "xAxB"},
		{[][]float64{{1, 0.6, -1, 0}, {0.6, 1, -0.6, 0}, {-1, -0.6, 1, 0}, {0, 0, 0, 1}}, []bool{false, true, true, false}, "AxAA"},
	} {
		d, err := NewDependence(c.s)
		if err != nil {
			t.Fatal(err)
		}
		a, b := scores(d, random, n), scores(d, random, n)
		r := d.Redraw(c.swapped)
		r.Fill(to, a, b)
		for j, want := range c.from {
			got := 'x'
			switch {
			case slices.Equal(to[j], a[j]):
				got = 'A'
			case slices.Equal(to[j], b[j]):
				got = 'B'
			}
			if got != want || r.Redrawn(j) != (want != 'A') {
				t.Errorf("%v, swapped %v: input %d is from %c, redrawn %v, want %c", c.s, c.swapped, j, got, r.Redrawn(j), want)
			}
		}
	}
}

// A row has the bits of its rows in A and B alone; nothing is allocated. Values of a
// score do not depend on which other columns are there.
func TestRedrawRowByRow(t *testing.T) {
	d, _ := NewDependence(alike(4, 0.3))
	random := rand.New(rand.NewPCG(5, 6))
	const n = 200
	a, b := scores(d, random, n), scores(d, random, n)
	whole, pieces := scores(d, random, n), scores(d, random, n)
	r := d.Redraw([]bool{true, false, true, false})
	r.Fill(whole, a, b)
	cut := func(x [][]float64, from int) [][]float64 {
		c := make([][]float64, len(x))
		for j := range x {
			c[j] = x[j][from:min(n, from+7)]
		}
		return c
	}
	for from := 0; from < n; from += 7 {
		r.Fill(cut(pieces, from), cut(a, from), cut(b, from))
	}
	for j := range whole {
		if !slices.Equal(whole[j], pieces[j]) {
			t.Errorf("input %d differs when filled in pieces", j)
		}
	}
	if allocs := testing.AllocsPerRun(20, func() { r.Fill(whole, a, b) }); allocs > 0 {
		t.Errorf("%v allocations", allocs)
	}
	gamma, _ := marginal.Gamma(2.5, 3, 0)
	m, spare := slices.Repeat([]marginal.Marginal{gamma}, 4), make([]float64, n)
	d.Values(whole, m, spare)
	pieces[1], pieces[3] = nil, pieces[3][:5]
	d.Values(pieces, m, spare)
	if !slices.Equal(pieces[0], whole[0]) || !slices.Equal(pieces[3], whole[3][:5]) {
		t.Error("values differ when other columns are left out")
	}
}

// A block's redraw of half the inputs, a value each; and the preparation of one set.
func BenchmarkRedraw(b *testing.B) {
	const rows = 512
	random := rand.New(rand.NewPCG(9, 9))
	for _, n := range []int{2, 10, 40} {
		d, _ := NewDependence(alike(n, 0.5))
		x, y, to := scores(d, random, rows), scores(d, random, rows), scores(d, random, rows)
		swapped := make([]bool, n)
		for i := range n / 2 {
			swapped[2*i] = true
		}
		r := d.Redraw(swapped)
		b.Run(fmt.Sprintf("fill/inputs=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r.Fill(to, x, y)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows*n), "ns/value")
		})
		b.Run(fmt.Sprintf("prepare/inputs=%d", n), func(b *testing.B) {
			for b.Loop() {
				d.Redraw(swapped)
			}
		})
	}
}
