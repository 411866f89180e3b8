package copula

import (
	"errors"
	"math"
	"proofmass/sampling/design"
	"proofmass/sampling/marginal"
	"proofmass/sampling/portable"
	"slices"
	"testing"
)

func alike(n int, s float64) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = slices.Repeat([]float64{s}, n)
		m[i][i] = 1
	}
	return m
}

func three(s12, s13, s23 float64) [][]float64 {
	return [][]float64{{1, s12, s13}, {s12, 1, s23}, {s13, s23, 1}}
}

// 2 sin(pi s/6), computed with 30 digits apart from this program (Pearson, 1907;
// Kruskal, 1958, J. Am. Stat. Assoc. 53, 814-861).
func TestPearsonOfSpearman(t *testing.T) {
	for s, want := range map[float64]float64{-0.9: -0.90798099947909358312, -0.3: -0.31286893008046173802, 0.1: 0.10467191248588766544,
		0.3: 0.31286893008046173802, 0.5: 0.5176380902050415247, 0.8: 0.81347328615160041551, 0.95: 0.9543175205192168301, 1: 1, -1: -1, 0: 0} {
		if got := pearson(s); math.Abs(got-want) > 1e-15 {
			t.Errorf("spearman %g: pearson %.17g, want %.17g", s, got, want)
		}
		if back := spearmanOf(pearson(s)); math.Abs(back-s) > 2e-15 {
			t.Errorf("spearman %g comes back as %.17g", s, back)
		}
	}
}

// Three matrices that are positive definite as Spearman's and not as Pearson's of
// the scores: their smallest eigenvalues were computed apart from this program, to
// 30 digits. The range of one coefficient with the others fixed is, of three inputs,
// r12 r13 -+ sqrt((1-r12^2) (1-r13^2)).
func TestImpossible(t *testing.T) {
	for _, c := range []struct{ s12, s23, eigenvalue float64 }{
		{0.7, -0.01, -0.018867116375414250876}, {0.75, 0.13, -0.016511774473325540504}, {0.8, 0.28, -0.013579778376973465525},
	} {
		s := three(c.s12, c.s12, c.s23)
		_, err := NewDependence(s)
		var e *Impossible
		if !errors.As(err, &e) {
			t.Errorf("%v: error is %v", s, err)
			continue
		}
		if math.Abs(e.Eigenvalue-c.eigenvalue) > 1e-12 || !slices.Equal(e.Inputs, []int{0, 1, 2}) {
			t.Errorf("%v: eigenvalue %.15g of inputs %v, want %.15g", s, e.Eigenvalue, e.Inputs, c.eigenvalue)
		}
		others := 3 - e.Pair[0] - e.Pair[1]
		a, b := pearson(s[others][e.Pair[0]]), pearson(s[others][e.Pair[1]])
		half := math.Sqrt((1 - a*a) * (1 - b*b))
		if low, high := pearson(e.Low), pearson(e.High); math.Abs(low-(a*b-half)) > 1e-12 || math.Abs(high-min(1, a*b+half)) > 1e-12 {
			t.Errorf("%v: pair %v may go from %.12g to %.12g", s, e.Pair, low, high)
		}
		near := min(max(s[e.Pair[0]][e.Pair[1]], e.Low+1e-9), e.High-1e-9)
		s[e.Pair[0]][e.Pair[1]], s[e.Pair[1]][e.Pair[0]] = near, near
		if _, err := NewDependence(s); err != nil {
			t.Errorf("%v: %v, though it is the nearest that can be", s, err)
		}
		for _, f := range []float64{0.999, 1.001} {
			f *= e.Factor
			_, err := NewDependence(three(c.s12*f, c.s12*f, c.s23*f))
			if (err == nil) != (f < e.Factor) {
				t.Errorf("all times %g (the most is %g): %v", f, e.Factor, err)
			}
		}
	}
}

// Alike correlations of n inputs are possible down to Pearson's -1/(n-1); input 3
// goes with 1, and 2 with 1, but 3 not with 2: no score is like that.
func TestImpossibleGroups(t *testing.T) {
	for _, n := range []int{3, 5, 20} {
		least := spearmanOf(-1 / float64(n-1))
		if _, err := NewDependence(alike(n, least+1e-9)); err != nil {
			t.Errorf("%d inputs, %g: %v", n, least, err)
		}
		var e *Impossible
		if _, err := NewDependence(alike(n, least-1e-6)); !errors.As(err, &e) {
			t.Errorf("%d inputs, below %g: error is %v", n, least, err)
		}
	}
	for _, s := range [][][]float64{three(1, 0.5, 0.4), three(1, 1, -1), three(-1, 0.5, 0.5), three(1, 1, 0.999999), alike(3, -1)} {
		var e *Impossible
		if _, err := NewDependence(s); !errors.As(err, &e) {
			t.Errorf("%v: error is %v, want an Impossible", s, err)
		}
	}
	for _, s := range [][][]float64{three(1, 1, 1), three(-1, 1, -1), three(-1, 0.5, -0.5), three(1, 0, 0), alike(100, 0.99)} {
		if _, err := NewDependence(s); err != nil {
			t.Errorf("%v: %v", s, err)
		}
	}
	nan := math.NaN()
	for _, s := range [][][]float64{nil, {{1}}, {{1, 0}, {0}}, {{1, 2}, {2, 1}}, {{1, nan}, {nan, 1}}, {{1, 0.1}, {0.2, 1}}, {{0.9, 0}, {0, 1}}, alike(101, 0)} {
		var e *Impossible
		if _, err := NewDependence(s); err == nil || errors.As(err, &e) {
			t.Errorf("%v: error is %v, want what is wrong with the matrix", s, err)
		}
	}
}

// L L' is the correlation of the scores, perfectly tied ones included.
func TestFactorGivesTheCorrelations(t *testing.T) {
	s := [][]float64{{1, 0.6, -1, 0.2}, {0.6, 1, -0.6, 0.5}, {-1, -0.6, 1, -0.2}, {0.2, 0.5, -0.2, 1}}
	d, err := NewDependence(s)
	if err != nil {
		t.Fatal(err)
	}
	place := map[int]int{}
	for k, i := range d.free {
		place[i] = k
	}
	if len(d.free) != 3 {
		t.Errorf("%d free scores, want 3", len(d.free))
	}
	for i := range s {
		for j := range s {
			a, b := d.lower[place[d.lead[i]]], d.lower[place[d.lead[j]]]
			got := d.sign[i] * d.sign[j] * portable.Dot(a[:min(len(a), len(b))], b[:min(len(a), len(b))])
			if math.Abs(got-pearson(s[i][j])) > 1e-15 || d.Pearson(i, j) != pearson(s[i][j]) {
				t.Errorf("inputs %d and %d: correlation %.17g, want %.17g", i, j, got, pearson(s[i][j]))
			}
		}
	}
}

// tied fills columns of a latin design of 16 rows times each.
func tied(t *testing.T, d *Dependence, m []marginal.Marginal, each int) [][]float64 {
	t.Helper()
	latin, err := design.Latin(3, 16*each)
	if err != nil {
		t.Fatal(err)
	}
	x := make([][]float64, len(m))
	for j := range x {
		x[j] = make([]float64, each)
		latin.Fill(x[j], "sample", string(rune('a'+j)), 0, 0, 0)
	}
	d.Fill(x, m, make([]float64, each))
	return x
}

// A row has the bits of its points alone, in whatever slice it is made; nothing
// is allocated.
func TestDependenceFillsRowByRow(t *testing.T) {
	d, err := NewDependence([][]float64{{1, 0.6, -1, 0.2}, {0.6, 1, -0.6, 0.5}, {-1, -0.6, 1, -0.2}, {0.2, 0.5, -0.2, 1}})
	if err != nil {
		t.Fatal(err)
	}
	normal, _ := marginal.Normal(1, 2)
	gamma, _ := marginal.Gamma(2.5, 3, 0)
	cut, _ := marginal.Truncate(normal, 4, math.Inf(1))
	between, _ := marginal.Between(-1, 1)
	m := []marginal.Marginal{normal, gamma, cut, between}
	const rows = 300
	u, whole, part := make([][]float64, 4), make([][]float64, 4), make([][]float64, 4)
	for j := range u {
		for i := range rows {
			u[j] = append(u[j], design.NewKey(9).With(uint64(j)).Unit(uint64(i)))
		}
		whole[j] = slices.Clone(u[j])
	}
	spare := make([]float64, rows)
	d.Fill(whole, m, spare)
	for from := 0; from < rows; from += 7 {
		for j := range part {
			part[j] = slices.Clone(u[j][from:min(rows, from+7)])
		}
		d.Fill(part, m, spare)
		for j := range part {
			for i, v := range part[j] {
				if math.Float64bits(v) != math.Float64bits(whole[j][from+i]) {
					t.Fatalf("input %d, row %d: %v alone, %v in its block", j, from+i, v, whole[j][from+i])
				}
			}
		}
	}
	if n := testing.AllocsPerRun(20, func() {
		for j := range u {
			copy(whole[j], u[j])
		}
		d.Fill(whole, m, spare)
	}); n > 0 {
		t.Errorf("%v allocations for %d rows", n, rows)
	}
}

// The lead of a group keeps its points, and what is perfectly tied to it has the
// same rank or the opposite one.
func TestTiedRanks(t *testing.T) {
	d, _ := NewDependence([][]float64{{1, 1, -1}, {1, 1, -1}, {-1, -1, 1}})
	lognormal, _ := marginal.LogNormal(5, 1.2)
	between, _ := marginal.Between(2, 3)
	triangular, _ := marginal.Triangular(0, 1, 4)
	m := []marginal.Marginal{between, lognormal, triangular}
	x := tied(t, d, m, 500)
	for i := range x[0] {
		u := m[0].CDF(x[0][i])
		if math.Abs(m[1].CDF(x[1][i])-u) > 1e-13 || math.Abs(m[2].Survival(x[2][i])-u) > 1e-13 {
			t.Fatalf("row %d: chances %v, %v and %v above", i, u, m[1].CDF(x[1][i]), m[2].Survival(x[2][i]))
		}
	}
	slices.Sort(x[0])
	for i, v := range x[0] { // one in each stratum: it was latin and is
		if s := (v - 2) * 500; s < float64(i)-1e-9 || s > float64(i+1)+1e-9 {
			t.Fatalf("the lead's value %d of 500 lies at %g", i, s)
		}
	}
}

// Both far tails are drawn from their own side, where 1 - p keeps no digit.
func TestScoresFarOut(t *testing.T) {
	lognormal, _ := marginal.LogNormal(1, math.E) // exp of the score
	for _, score := range []float64{-30, -9, -1, 0, 1, 9, 30} {
		w := []float64{score, -score, score}
		fillScores(w, lognormal, make([]float64, 3))
		for i, want := range []float64{math.Exp(score), math.Exp(-score), math.Exp(score)} {
			if math.Abs(w[i]/want-1) > 1e-11 {
				t.Errorf("score %g, place %d: %g, want %g", score, i, w[i], want)
			}
		}
	}
}

// A row of draws of a group against the same inputs independent: what the two
// conversions between chances and scores cost.
func BenchmarkDependence(b *testing.B) {
	const rows = 512
	for _, n := range []int{2, 10} {
		d, _ := NewDependence(alike(n, 0.5))
		normal, _ := marginal.Normal(0, 1)
		m := slices.Repeat([]marginal.Marginal{normal}, n)
		x, spare := make([][]float64, n), make([]float64, rows)
		for j := range x {
			x[j] = make([]float64, rows)
		}
		fill := func() {
			for j := range x {
				k := design.NewKey(uint64(j))
				for i := range x[j] {
					x[j][i] = k.Unit(uint64(i))
				}
			}
		}
		b.Run("tied/inputs="+string(rune('0'+n/10))+string(rune('0'+n%10)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				fill()
				d.Fill(x, m, spare)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows*n), "ns/value")
		})
		b.Run("free/inputs="+string(rune('0'+n/10))+string(rune('0'+n%10)), func(b *testing.B) {
			for b.Loop() {
				fill()
				for j := range x {
					m[j].Fill(x[j], x[j])
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows*n), "ns/value")
		})
	}
}
