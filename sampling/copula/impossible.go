package copula

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"proofmass/sampling/portable"
)

// Impossible says why no inputs can be correlated as asked, and what is nearest.
type Impossible struct {
	Eigenvalue float64 // the smallest, of the correlations of the normal scores
	Inputs     []int   // whose correlations clash, the most involved first

	// Pair is the two inputs whose correlation has to change least if no other
	// changes: it may be from Low to High, Spearman's. Both are NaN where no
	// change of one correlation is enough.
	Pair      [2]int
	Low, High float64
	// Factor is the largest by which all correlations can be multiplied.
	Factor float64
}

func (e *Impossible) Error() string {
	return fmt.Sprintf("no inputs can be correlated so: the smallest eigenvalue is %.3g", e.Eigenvalue)
}

// mostInvolved: a change of one correlation is sought among the inputs most involved.
const mostInvolved = 8

func newImpossible(spearman [][]float64) *Impossible {
	r := pearsonOf(spearman, 1)
	e := &Impossible{Low: math.NaN(), High: math.NaN(), Factor: mostFactor(spearman)}
	var v []float64
	e.Eigenvalue, v = smallestEigen(r)
	e.Inputs = involved(v)
	least := math.Inf(1)
	for a, i := range e.Inputs[:min(len(e.Inputs), mostInvolved)] {
		for _, j := range e.Inputs[:a] {
			low, high, ok := pairRange(r, i, j)
			change := max(low-spearman[i][j], spearman[i][j]-high)
			if ok && change < least {
				least, e.Pair, e.Low, e.High = change, [2]int{min(i, j), max(i, j)}, low, high
			}
		}
	}
	return e
}

// involved are the inputs whose component of the eigenvector is at least a tenth
// of the largest, by size; of alike ones the earlier comes first.
func involved(v []float64) []int {
	order := make([]int, len(v))
	largest := 0.0
	for i, x := range v {
		order[i] = i
		largest = max(largest, math.Abs(x))
	}
	size := func(i int) float64 { return math.Round(1e6 * math.Abs(v[i]) / largest) }
	slices.SortStableFunc(order, func(a, b int) int { return int(size(b) - size(a)) })
	return slices.DeleteFunc(order, func(i int) bool { return size(i) < 1e5 })
}

// pairRange is the Spearman correlation that inputs i and j may have while all
// others stay: with b the correlations of either with the other inputs and B those
// among them, b_i' B^-1 b_j +- sqrt((1 - b_i' B^-1 b_i) (1 - b_j' B^-1 b_j)).
func pairRange(r [][]float64, i, j int) (low, high float64, ok bool) {
	var others []int
	for k := range r {
		if k != i && k != j {
			others = append(others, k)
		}
	}
	between, to := make([][]float64, len(others)), [2][]float64{}
	for a, k := range others {
		for _, m := range others {
			between[a] = append(between[a], r[k][m])
		}
		to[0], to[1] = append(to[0], r[i][k]), append(to[1], r[j][k])
	}
	l, ok := cholesky(between, 2*onTheEdge)
	if !ok {
		return 0, 0, false
	}
	y := [2][]float64{solve(l, to[0]), solve(l, to[1])}
	middle, left, right := portable.Dot(y[0], y[1]), 1-portable.Dot(y[0], y[0]), 1-portable.Dot(y[1], y[1])
	if left < 0 || right < 0 {
		return 0, 0, false
	}
	half := math.Sqrt(float64(left * right))
	return spearmanOf(max(-1, middle-half)), spearmanOf(min(1, middle+half)), true
}

// solve returns y of L y = b.
func solve(l [][]float64, b []float64) []float64 {
	y := make([]float64, len(b))
	for i := range b {
		y[i] = (b[i] - portable.Dot(l[i][:i], y[:i])) / l[i][i]
	}
	return y
}

// mostFactor is found by halving; at 0 the inputs are independent.
func mostFactor(spearman [][]float64) float64 {
	low, high := 0.0, 1.0
	for range 30 {
		middle := (low + high) / 2
		if _, ok := cholesky(pearsonOf(spearman, middle), 0); ok {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// smallestEigen returns the smallest eigenvalue of a symmetric matrix and its vector. It is
// gonum's: no draw hangs on it, only what a message says.
func smallestEigen(r [][]float64) (float64, []float64) {
	n := len(r)
	a := mat.NewSymDense(n, nil)
	for i := range r {
		for j := range i + 1 {
			a.SetSym(i, j, r[i][j])
		}
	}
	var e mat.EigenSym
	if !e.Factorize(a, true) {
		return math.NaN(), make([]float64, n)
	}
	var vectors mat.Dense
	e.VectorsTo(&vectors)
	return e.Values(nil)[0], mat.Col(nil, 0, &vectors)
}
