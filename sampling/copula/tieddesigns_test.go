package copula

import (
	"fmt"
	"hash/fnv"
	"math"
	"proofmass/sampling/design"
	"proofmass/sampling/marginal"
	"slices"
	"testing"
)

// spearman is the rank correlation of columns without equal values:
// 1 - 6 sum d^2 / (n (n^2 - 1)).
func spearman(x, y []float64) float64 {
	rank := func(x []float64) []float64 {
		order := make([]int, len(x))
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int {
			if x[a] < x[b] {
				return -1
			}
			return 1
		})
		r := make([]float64, len(x))
		for k, i := range order {
			r[i] = float64(k)
		}
		return r
	}
	a, b, sum, n := rank(x), rank(y), 0.0, float64(len(x))
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	return 1 - 6*sum/(n*(n*n-1))
}

// With every design tied inputs have the rank correlations that were asked for,
// and each the distribution that it has alone. Limits of independent rows, the other
// designs are better: 5 standard errors of at most 1/sqrt(n) for a rank correlation
// (false alarm 6e-7 a figure), and 2.6/sqrt(n) for the distance of distribution
// functions (2 exp(-2 2.6^2) = 3e-6; Massart, 1990, Ann. Probab. 18).
func TestContractTied(t *testing.T) {
	wanted := [][]float64{{1, 0.6, -0.3, -1}, {0.6, 1, 0.4, -0.6}, {-0.3, 0.4, 1, 0.3}, {-1, -0.6, 0.3, 1}}
	d, err := NewDependence(wanted)
	if err != nil {
		t.Fatal(err)
	}
	normal, _ := marginal.Normal(1, 2)
	gamma, _ := marginal.Gamma(0.7, 3, 0)
	triangular, _ := marginal.Triangular(0, 1, 4)
	cut, _ := marginal.Truncate(normal, 2, 7)
	m := []marginal.Marginal{normal, gamma, triangular, cut}
	for _, name := range design.Names() {
		each := 1024
		if name == "latin_low_correlation" {
			each = 64
		}
		spread := newDesign(t, name, 5, 16*each, names(4)...)
		all := make([][]float64, 4)
		for r := range 16 {
			x, replicate, from := make([][]float64, 4), r, 0
			if spread.Replicates() == 1 {
				replicate, from = 0, r*each
			}
			for j := range x {
				x[j] = points(spread, each, names(4)[j], replicate, from)
			}
			d.Fill(x, m, make([]float64, each))
			for j := range x {
				all[j] = append(all[j], x[j]...)
			}
		}
		n := math.Sqrt(float64(16 * each))
		for j := range all {
			for i := range j {
				if got := spearman(all[i], all[j]); math.Abs(got-wanted[i][j]) > 5/n*(1-wanted[i][j]*wanted[i][j])+1e-6 {
					t.Errorf("%s: inputs %d and %d have %.4f, want %.4f", name, i, j, got, wanted[i][j])
				}
			}
		}
		for j := range all {
			slices.Sort(all[j])
			for k, v := range all[j] {
				if gap := math.Abs(m[j].CDF(v) - (float64(k)+0.5)/(n*n)); gap > 2.6/n {
					t.Fatalf("%s: input %d is off its distribution by %.4f at %v", name, j, gap, v)
				}
			}
		}
	}
}

// goldenTied was taken on amd64; arm64 must give it too.
const goldenTied = "5388b1fc6c5d14f2"

func TestGoldenTied(t *testing.T) {
	d, err := NewDependence([][]float64{{1, 0.6, -0.3, -1}, {0.6, 1, 0.4, -0.6}, {-0.3, 0.4, 1, 0.3}, {-1, -0.6, 0.3, 1}})
	if err != nil {
		t.Fatal(err)
	}
	normal, _ := marginal.Normal(1, 2)
	gamma, _ := marginal.Gamma(0.7, 3, 0)
	triangular, _ := marginal.Triangular(0, 1, 4)
	cut, _ := marginal.Truncate(normal, 2, 7)
	h := fnv.New64a()
	for _, x := range tied(t, d, []marginal.Marginal{normal, gamma, triangular, cut}, 400) {
		for _, v := range x {
			fmt.Fprintf(h, "%016x", math.Float64bits(v))
		}
	}
	if got := fmt.Sprintf("%016x", h.Sum64()); got != goldenTied {
		t.Errorf("tied draws have the hash %s, want %s", got, goldenTied)
	}
}

// FuzzDependence: any matrix is refused or gives finite scores with the
// correlations asked for; what is refused as impossible has a nearest that is not.
func FuzzDependence(f *testing.F) {
	f.Add(0.7, 0.7, -0.01, 0.0, 0.0, 0.0)
	f.Add(1.0, 0.5, 0.4, -1.0, 0.2, 0.3)
	f.Add(-0.4824, -0.4824, -0.4824, 0.0, 0.0, 0.0)
	f.Add(0.9999999999999999, 1.0, 1.0, 1e-300, math.Inf(1), 5.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g float64) {
		s := [][]float64{{1, a, b, c}, {a, 1, d, e}, {b, d, 1, g}, {c, e, g, 1}}
		dep, err := NewDependence(s)
		if e, ok := err.(*Impossible); ok {
			if !(e.Factor >= 0 && e.Factor <= 1) || len(e.Inputs) == 0 || e.Low > e.High {
				t.Errorf("%v: %+v", s, e)
			}
			return
		}
		if err != nil {
			return
		}
		normal, _ := marginal.Normal(0, 1)
		x := [][]float64{{0.1, 0.9}, {0.2, 1e-300}, {0.3, 0.999}, {0.4, 0.5}}
		dep.Fill(x, []marginal.Marginal{normal, normal, normal, normal}, make([]float64, 2))
		for j := range x {
			for _, v := range x[j] {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%v: input %d is %v", s, j, v)
				}
			}
			sum := 0.0
			for _, l := range dep.lower[slices.Index(dep.free, dep.lead[j])] {
				sum += l * l
			}
			if math.Abs(sum-1) > 1e-11 {
				t.Errorf("%v: the score of input %d has variance %v", s, j, sum)
			}
		}
	})
}
