package estimate

import (
	"math"
	"testing"
)

// The example of SciPy's spearmanr (BSD-licensed, general purpose): 0.8207826816681233.
// Others are exact: a rising function has 1, a falling one -1.
func TestRankCorrelations(t *testing.T) {
	nan := math.NaN()
	x := []float64{1, 2, 3, 4, 5}
	for _, c := range []struct {
		a, b []float64
		want float64
	}{
		{x, []float64{5, 6, 7, 8, 7}, 0.8207826816681233},
		{x, []float64{1, 8, 27, 64, 125}, 1},
		{x, []float64{-1, -8, -27, -64, -125}, -1},
		{[]float64{1, 2, 3, 9, 4, 5}, []float64{5, 6, 7, nan, 8, 7}, 0.8207826816681233},
		{x, []float64{2, 2, 2, 2, 2}, nan},
		{[]float64{}, []float64{}, nan},
		{[]float64{1, 2, 3, 4}, []float64{2, 4, 1, 3}, 0}, // sum of d^2 = 10: 1 - 6 10 / (4 15)
	} {
		r := RankCorrelations([][]float64{c.a, c.b})
		if got := r[0][1]; !(math.Abs(got-c.want) <= 1e-15) && !(got != got && c.want != c.want) || r[1][0] != r[0][1] && r[0][1] == r[0][1] {
			t.Errorf("%v and %v: %v, want %v", c.a, c.b, r, c.want)
		}
	}
}
