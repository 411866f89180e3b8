package copula

import (
	"math"
	"proofmass/sampling/marginal"
	"testing"
)

// Chances of correlated normal scores, computed apart from this program to 20
// digits: orthants in closed form (Sheppard, 1899: 1/4 + asin(r)/(2 pi); of three 1/8 +
// sum of asin/(4 pi)), others by quadrature of the angle integral (Drezner and
// Wesolowsky, 1990, J. Stat. Comput. Simul. 35). All scores lie below limit, or all
// above where above is set. The share of 65,536 rows must agree within 4 standard errors
// of independent rows and half a row: false alarm 6e-5 a line.
func TestChancesOfTiedScores(t *testing.T) {
	for _, c := range []struct {
		pearson []float64 // r12, or r12 r13 r23
		limit   []float64
		above   bool
		want    float64
	}{
		{[]float64{-0.9}, []float64{0, 0}, true, 0.071783146564353135375},
		{[]float64{-0.3}, []float64{0, 0}, true, 0.20150665798966085475},
		{[]float64{0}, []float64{0, 0}, true, 0.25},
		{[]float64{0.2}, []float64{0, 0}, true, 0.28204710842448746581},
		{[]float64{0.5}, []float64{0, 0}, true, 0.33333333333333333333},
		{[]float64{0.9}, []float64{0, 0}, true, 0.42821685343564686462},
		{[]float64{0.999}, []float64{0, 0}, true, 0.49288178129688017246},
		{[]float64{0.5, 0.5, 0.5}, []float64{0, 0, 0}, true, 0.25},
		{[]float64{0.2, -0.3, 0.6}, []float64{0, 0, 0}, true, 0.16798507438185752319},
		{[]float64{0.5}, []float64{-1, -1}, false, 0.062514094709663833792},
		{[]float64{0.8}, []float64{-1.645, -1.645}, false, 0.024748168421464137321},
		{[]float64{-0.4}, []float64{1, -2}, false, 0.011878827724688163572},
		{[]float64{0.9}, []float64{-3, -3}, false, 0.00061040438530377861595},
		{[]float64{-0.5}, []float64{-3, -3}, false, 7.1475021812707899727e-11},
		{[]float64{0.99}, []float64{0.5, 1.5}, false, 0.69146246127400951924},
	} {
		n := len(c.limit)
		s := alike(n, 0)
		for k, pair := range [][2]int{{0, 1}, {0, 2}, {1, 2}}[:len(c.pearson)] {
			s[pair[0]][pair[1]] = spearmanOf(c.pearson[k])
			s[pair[1]][pair[0]] = s[pair[0]][pair[1]]
		}
		d, err := NewDependence(s)
		if err != nil {
			t.Fatal(err)
		}
		if got := shareWithin(t, d, c.limit, c.above); math.Abs(got-c.want) > (4*math.Sqrt(c.want*(65_536)*(1-c.want))+0.5)/65_536 {
			t.Errorf("correlation %v, limits %v: share %.5f, want %.5f", c.pearson, c.limit, got, c.want)
		}
	}
}

// shareWithin is the share of 65,536 rows of a random design all of whose values lie below or
// above the limits.
func shareWithin(t *testing.T, d *Dependence, limit []float64, above bool) float64 {
	const rows = 65_536
	normal, _ := marginal.Normal(0, 1)
	x, m := make([][]float64, len(limit)), []marginal.Marginal(nil)
	spread := newDesign(t, "random", 8, rows, names(len(limit))...)
	for j := range x {
		x[j] = points(spread, rows, names(len(limit))[j], 0, 0)
		m = append(m, normal)
	}
	d.Fill(x, m, make([]float64, rows))
	count := 0
	for i := range rows {
		all := true
		for j := range x {
			all = all && (x[j][i] > limit[j]) == above
		}
		if all {
			count++
		}
	}
	return float64(count) / rows
}

// The matrix with 0.9, 0.9 and -0.9 has the smallest eigenvalue -0.8 in closed form.
func TestSmallestEigen(t *testing.T) {
	value, vector := smallestEigen(three(0.9, 0.9, -0.9))
	if math.Abs(value+0.8) > 1e-14 || math.Abs(math.Abs(vector[0])-1/math.Sqrt(3)) > 1e-14 {
		t.Errorf("eigenvalue %.17g of %v", value, vector)
	}
}
