package copula

import (
	"math"
	"math/rand/v2"
	"proofmass/sampling/marginal"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The conditional variance E[Var(Y | X_-u)] of a function of inputs that are not
// normal, from half the mean square of a redraw, and from two loops that use the
// textbook law of a normal given others, for each set u. Each of the 7 differences
// exceeds 4.5 of its standard errors with a chance of 7e-6.
func TestRedrawAgainstTwoLoops(t *testing.T) {
	d, err := NewDependence(three(0.6, -0.3, 0.2))
	if err != nil {
		t.Fatal(err)
	}
	lognormal, _ := marginal.LogNormal(1, 1.5)
	between, _ := marginal.Between(-1, 2)
	gamma, _ := marginal.Gamma(2, 1, 0)
	m := []marginal.Marginal{lognormal, between, gamma}
	f := func(x []float64) float64 { return x[0]*x[1] + math.Sqrt(x[2]) + 0.5*x[2]*x[0] }
	random := rand.New(rand.NewPCG(7, 8))
	everySet(3, func(swapped []bool) {
		if !slices.Contains(swapped, true) {
			return
		}
		one, oneError := byRedraw(d, m, f, swapped, random)
		two, twoError := byTwoLoops(d, m, f, swapped, random)
		if se := math.Hypot(oneError, twoError); !(math.Abs(one-two) < 4.5*se) || se > 0.03*two {
			t.Errorf("%v: %g -+ %g by redraws, %g -+ %g by two loops", swapped, one, oneError, two, twoError)
		}
	})
}

// ofScores is f of scores, a row each.
func ofScores(d *Dependence, m []marginal.Marginal, f func([]float64) float64, w [][]float64) []float64 {
	x := make([][]float64, len(w))
	for j := range w {
		x[j] = slices.Clone(w[j])
	}
	d.Values(x, m, make([]float64, len(w[0])))
	y, row := make([]float64, len(w[0])), make([]float64, len(w))
	for i := range y {
		for j := range x {
			row[j] = x[j][i]
		}
		y[i] = f(row)
	}
	return y
}

func byRedraw(d *Dependence, m []marginal.Marginal, f func([]float64) float64, swapped []bool, random *rand.Rand) (mean, se float64) {
	const n = 60000
	a, b, to := scores(d, random, n), scores(d, random, n), scores(d, random, n)
	d.Redraw(swapped).Fill(to, a, b)
	y, z := ofScores(d, m, f, a), ofScores(d, m, f, to)
	for i := range y {
		y[i] = (y[i] - z[i]) * (y[i] - z[i]) / 2
	}
	return meanAndError(y)
}

func byTwoLoops(d *Dependence, m []marginal.Marginal, f func([]float64) float64, swapped []bool, random *rand.Rand) (mean, se float64) {
	const outer, inner = 12000, 8
	var in, kept []int
	for i, s := range swapped {
		if s {
			in = append(in, i)
		} else {
			kept = append(kept, i)
		}
	}
	k, l := textbook(d, in, kept)
	a := scores(d, random, outer)
	v := make([]float64, outer)
	w := make([][]float64, len(a))
	for row := range outer {
		for j := range w {
			w[j] = slices.Repeat([]float64{a[j][row]}, inner)
		}
		for i := range inner {
			z := make([]float64, len(in))
			for p := range z {
				z[p] = random.NormFloat64()
			}
			for p, j := range in {
				w[j][i] = 0
				for q, c := range kept {
					w[j][i] += k.At(p, q) * a[c][row]
				}
				for q := range p + 1 {
					w[j][i] += l.At(p, q) * z[q]
				}
			}
		}
		y := ofScores(d, m, f, w)
		_, se := meanAndError(y)
		v[row] = se * se * inner
	}
	return meanAndError(v)
}

// textbook returns K and the Cholesky factor of R_uu - K R_cu.
func textbook(d *Dependence, in, kept []int) (*mat.Dense, *mat.TriDense) {
	part := func(rows, columns []int) *mat.Dense {
		p := mat.NewDense(len(rows), len(columns), nil)
		for i, r := range rows {
			for j, c := range columns {
				p.Set(i, j, d.Pearson(r, c))
			}
		}
		return p
	}
	cov, k := part(in, in), new(mat.Dense)
	if len(kept) > 0 {
		var inverse, less mat.Dense
		if err := inverse.Inverse(part(kept, kept)); err != nil {
			panic(err)
		}
		k.Mul(part(in, kept), &inverse)
		less.Mul(k, part(kept, in))
		cov.Sub(cov, &less)
	}
	sym := mat.NewSymDense(len(in), nil)
	for i := range in {
		for j := range i + 1 {
			sym.SetSym(i, j, cov.At(i, j))
		}
	}
	var c mat.Cholesky
	c.Factorize(sym)
	l := new(mat.TriDense)
	c.LTo(l)
	return k, l
}

func meanAndError(y []float64) (mean, se float64) {
	n := float64(len(y))
	for _, v := range y {
		mean += v / n
	}
	for _, v := range y {
		se += (v - mean) * (v - mean) / (n - 1)
	}
	return mean, math.Sqrt(se / n)
}
