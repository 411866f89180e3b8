package claim

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// A plane is found exactly where margins lie on one, whatever rows without a value say; else
// it is that of gonum's least squares.
func TestThrough(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 4))
	const rows = 400
	x, y, exact, noisy := make([]float64, rows), make([]float64, rows), make([]float64, rows), make([]float64, rows)
	system, right := mat.NewDense(rows, 3, nil), mat.NewDense(rows, 1, nil)
	for i := range rows {
		x[i] = 1e6 + random.NormFloat64()
		y[i] = 0.3*(x[i]-1e6) + 5*random.NormFloat64()
		exact[i] = 7 + 2*x[i] - 0.5*y[i]
		noisy[i] = exact[i] + 3*random.NormFloat64()
		system.SetRow(i, []float64{1, x[i] - 1e6, y[i]})
		right.Set(i, 0, noisy[i])
	}
	p, ok := Through(append(x, 4, math.NaN()), append(y, math.Inf(1), 1), append(exact, 1, 1))
	if !ok || math.Abs(p.X-2) > 1e-9 || math.Abs(p.Y+0.5) > 1e-9 || math.Abs(p.At-7) > 1e-3 || math.Abs(p.Explained-1) > 1e-9 {
		t.Errorf("margins on a plane: %+v, %t", p, ok)
	}
	var want mat.Dense
	if err := want.Solve(system, right); err != nil {
		t.Fatal(err)
	}
	p, ok = Through(x, y, noisy)
	if !ok || math.Abs(p.X-want.At(1, 0)) > 1e-9 || math.Abs(p.Y-want.At(2, 0)) > 1e-9 || math.Abs(p.At+1e6*p.X-want.At(0, 0)) > 1e-6 {
		t.Errorf("margins beside a plane: %+v, %t; gonum has %v", p, ok, want.RawMatrix().Data)
	}
	left := 0.0 // of the margin's spread, by what gonum's plane leaves
	var mean, all float64
	for _, v := range noisy {
		mean += v / rows
	}
	for i, v := range noisy {
		d := v - want.At(0, 0) - want.At(1, 0)*(x[i]-1e6) - want.At(2, 0)*y[i]
		left, all = left+d*d, all+(v-mean)*(v-mean)
	}
	if math.Abs(p.Explained-(1-left/all)) > 1e-9 {
		t.Errorf("it accounts for %g of the spread, gonum's for %g", p.Explained, 1-left/all)
	}
}

func TestThroughNothing(t *testing.T) {
	line, one, few := make([]float64, 100), make([]float64, 100), make([]float64, 29)
	for i := range line {
		line[i], one[i] = float64(i), 0.1
	}
	twice := make([]float64, len(line))
	square := make([]float64, len(line))
	for i, v := range line {
		twice[i], square[i] = 2*v, v*v
	}
	for name, c := range map[string][3][]float64{"inputs on a line": {line, twice, square}, "one value": {one, line, square}, "a constant margin": {line, square, one},
		"too few rows": {few, few, few}} {
		if p, ok := Through(c[0], c[1], c[2]); ok {
			t.Errorf("%s: %+v", name, p)
		}
	}
}
