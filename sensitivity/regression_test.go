package sensitivity

import (
	"math"
	"slices"
	"testing"

	"proofmass/sensitivity/estimate"
)

func regressed(t testing.TB, x, y [][]float64, weight []float64, d estimate.Rows) *Regression {
	t.Helper()
	g, err := Regress(x, y, d.Weighted(weight), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// The squares of the coefficients of a linear function are its indices, and all is
// explained; here of a far mean and a small spread too. Independent rows: correlations of
// the sample go into both, so that only their product with the spreads is exact.
func TestRegressLinear(t *testing.T) {
	u, d := givenRows(600, 16*1024, 4, true)
	fn := testFunctions()[3]
	y := values(fn.f, u)
	far := make([]float64, len(y))
	for i, v := range y {
		far[i] = 2000 + v*0x1p-10
	}
	g := regressed(t, u, [][]float64{y, far}, nil, d)
	for j := range g.R2 {
		if e := g.R2[j].Estimate; math.Abs(e-1) > 1e-9 {
			t.Errorf("output %d: R2 %v", j, g.R2[j])
		}
		for i, s := range fn.first {
			c := g.SRC[j][i]
			if math.Abs(c.Estimate*c.Estimate-s) > 0.01 || !(c.Low <= c.Estimate && c.Estimate <= c.High) {
				t.Errorf("output %d, x%d: %v, square should be %.4f", j, i+1, c, s)
			}
			want := []float64{4, -4, 0.5, 1.5}[i] * sd(u[i]) / sd(y)
			if tolerance := []float64{1e-12, 1e-9}[j]; math.Abs(c.Estimate-want) > tolerance {
				t.Errorf("output %d, x%d: %.15g, want %.15g", j, i+1, c.Estimate, want)
			}
		}
	}
}

func sd(v []float64) float64 {
	var m rowMoments
	for _, x := range v {
		m.add(x)
	}
	return m.sd()
}

// regressionCases have exact coefficients: SRC of Ishigami's x1 is (1 + b pi^4/5) times
// sqrt(3)/pi over the standard deviation, since E[x1 sin x1] = 1; the others, and all of
// the G-function, are 0 by symmetry. Of normals SRC = rho, and Spearman's correlation of
// a pair is 6/pi asin(rho/2) (Kruskal 1958), whatever monotone function is taken of y;
// where inputs are independent that is SRRC.
func regressionCases() []regressionCase {
	one := (1 + 0.1*math.Pow(math.Pi, 4)/5) * math.Sqrt(3) / math.Pi / math.Sqrt(ishigami().variance(3))
	ranks := func(rho float64) float64 { return 6 / math.Pi * math.Asin(rho/2) }
	r, s := ranks(0.6), ranks(0.8)
	pair := normalPair(0.6)
	unknown := math.NaN()
	// The variance of exp(0.6 X + 0.8 Z) is e(e-1), and its covariance with X is 0.6 sqrt(e).
	growth := math.Sqrt(math.E) / math.Sqrt(math.E*(math.E-1))
	return []regressionCase{
		{"ishigami", ishigami().f, []float64{one, 0, 0}, []float64{unknown, 0, 0}, one * one, unknown},
		{"g3", gFunction("g3", 0, 0, 0).f, []float64{0, 0, 0}, []float64{0, 0, 0}, 0, 0},
		{"g8", testFunctions()[2].f, make([]float64, 8), make([]float64, 8), 0, 0},
		{"pair and noise", func(u []float64) float64 { return pair(u) }, []float64{0.6}, []float64{r}, 0.36, r * r},
		{"growth", func(u []float64) float64 { return math.Exp(pair(u)) },
			[]float64{0.6 * growth, 0.8 * growth}, []float64{r, s}, growth * growth, r*r + s*s},
	}
}

type regressionCase struct {
	name           string
	f              func(u []float64) float64
	src, srrc      []float64
	share, ofRanks float64 // R2 and RankR2
}

// regressCase returns the regression of the case, whose columns may be more than the
// inputs that it is regressed on. Normal inputs are given as such.
func (c regressionCase) regress(t testing.TB, seed uint64, rows int) *Regression {
	u, d := givenRows(seed, rows, max(len(c.src), 2), true)
	y := values(c.f, u)
	x := u[:len(c.src)]
	if c.name == "pair and noise" || c.name == "growth" {
		for _, column := range x {
			for i, p := range column {
				column[i] = normal(p)
			}
		}
	}
	return regressed(t, x, [][]float64{y}, nil, d)
}

// TestRegress: within twice the interval, as TestFirst; 36 checks.
func TestRegress(t *testing.T) {
	for k, c := range regressionCases() {
		g := c.regress(t, uint64(610+k), 16*1024)
		check := func(name string, got Index, exact float64) {
			if half := (got.High - got.Low) / 2; exact == exact && (!(math.Abs(got.Estimate-exact) <= 2*half) || half > 0.04) {
				t.Errorf("%s, %s: %v, exact %.4f", c.name, name, got, exact)
			}
		}
		for i := range c.src {
			check("SRC", g.SRC[0][i], c.src[i])
			check("SRRC", g.SRRC[0][i], c.srrc[i])
		}
		check("R2", g.R2[0], c.share)
		check("RankR2", g.RankR2[0], c.ofRanks)
	}
}

// Ranks of a monotone function of one input are those of the input.
func TestRegressMonotone(t *testing.T) {
	u, d := givenRows(620, 4096, 1, true)
	y := values(func(u []float64) float64 { return -math.Exp(20 * u[0]) }, u)
	g := regressed(t, u, [][]float64{y}, nil, d)
	if s := g.SRRC[0][0].Estimate; math.Abs(s+1) > 1e-12 || math.Abs(g.RankR2[0].Estimate-1) > 1e-12 {
		t.Errorf("SRRC %v, RankR2 %v", g.SRRC[0][0], g.RankR2[0])
	}
	if g.R2[0].Estimate > 0.5 {
		t.Errorf("R2 %v of a curve", g.R2[0])
	}
}

func TestRegressBadColumns(t *testing.T) {
	u, d := givenRows(630, 2048, 3, true)
	n := len(u[0])
	sum, same := make([]float64, n), slices.Repeat([]float64{0.1}, n)
	for i := range sum {
		sum[i] = u[0][i] - 2*u[1][i] + 3
	}
	y := values(func(u []float64) float64 { return u[0] + u[1] + u[2] }, u)
	g := regressed(t, [][]float64{u[0], same, u[1], sum, u[2]}, [][]float64{y, same}, nil, d)
	for i, known := range []bool{true, false, true, false, true} {
		if isUnknown(g.SRC[0][i]) == known || isUnknown(g.SRC[0][i]) && g.SRC[0][i].Low == g.SRC[0][i].Low {
			t.Errorf("input %d: %v", i, g.SRC[0][i])
		}
		if !isUnknown(g.SRC[1][i]) || !isUnknown(g.SRRC[1][i]) {
			t.Errorf("input %d of a constant output: %v", i, g.SRC[1][i])
		}
	}
	if math.Abs(g.R2[0].Estimate-1) > 1e-9 || !isUnknown(g.R2[1]) || !isUnknown(g.RankR2[1]) {
		t.Errorf("R2 %v", g.R2)
	}
}

// Fewer rows than inputs say nothing; no rows, no inputs and no outputs are no error.
func TestRegressFewRows(t *testing.T) {
	free := estimate.Rows{Independent: true}
	for n := range 12 {
		u, _ := givenRows(640, 16*12, 6, false)
		for j := range u {
			u[j] = u[j][:n]
		}
		g, err := Regress(u[:5], u[5:], free, 0)
		if err != nil {
			t.Fatal(err)
		}
		if n <= 6 && (!isUnknown(g.R2[0]) || !isUnknown(g.SRC[0][0])) {
			t.Errorf("%d rows: %v", n, g)
		}
		if n > 6 && isUnknown(g.R2[0]) {
			t.Errorf("%d rows: nothing", n)
		}
	}
	for _, x := range [][][]float64{nil, {nil}} {
		if _, err := Regress(x, nil, free, 0); err != nil {
			t.Error(err)
		}
	}
}

// Each output has its own feasible rows; absent rows are as if they were not there.
func TestRegressInfeasible(t *testing.T) {
	u, _ := givenRows(650, 4096, 3, false)
	free := estimate.Rows{Independent: true}
	y := values(ishigami().f, u)
	holes, weight := slices.Clone(y), slices.Repeat([]float64{1}, len(y))
	var fewer [4][]float64
	for i := range y {
		if i%5 == 0 {
			holes[i], weight[i] = math.NaN(), 0
			continue
		}
		for j, c := range [][]float64{u[0], u[1], u[2], y} {
			fewer[j] = append(fewer[j], c[i])
		}
	}
	both := regressed(t, u, [][]float64{y, holes, y}, nil, free)
	weighted := regressed(t, u, [][]float64{y}, weight, free)
	few := regressed(t, fewer[:3], fewer[3:], nil, free)
	whole := regressed(t, u, [][]float64{y}, nil, free)
	for i := range u {
		if both.SRC[0][i] != whole.SRC[0][i] || both.SRRC[2][i] != whole.SRRC[0][i] {
			t.Errorf("x%d: another output changes %v to %v", i+1, whole.SRC[0][i], both.SRC[0][i])
		}
		if weighted.SRC[0][i] != few.SRC[0][i] || weighted.SRRC[0][i] != few.SRRC[0][i] {
			t.Errorf("x%d: weight 0 gives %v, without the rows %v", i+1, weighted.SRC[0][i], few.SRC[0][i])
		}
		// Blocks are cut elsewhere, so that sums round otherwise.
		if math.Abs(both.SRC[1][i].Estimate-few.SRC[0][i].Estimate) > 1e-12 || math.Abs(both.SRRC[1][i].Estimate-few.SRRC[0][i].Estimate) > 1e-12 {
			t.Errorf("x%d: infeasible rows give %v, without them %v", i+1, both.SRC[1][i], few.SRC[0][i])
		}
	}
}

// Weights bring another law back: as TestFirstWeighted.
func TestRegressWeighted(t *testing.T) {
	u, d := givenRows(660, 16*2048, 3, true)
	weight := make([]float64, len(u[0]))
	for i, v := range u[0] {
		u[0][i], weight[i] = v*v, 2*v
	}
	c := regressionCases()[0]
	g := regressed(t, u, [][]float64{values(c.f, u)}, weight, d)
	for i, exact := range c.src {
		if half := (g.SRC[0][i].High - g.SRC[0][i].Low) / 2; !(math.Abs(g.SRC[0][i].Estimate-exact) <= 2*half) || half > 0.03 {
			t.Errorf("x%d: %v, exact %.4f", i+1, g.SRC[0][i], exact)
		}
	}
}
