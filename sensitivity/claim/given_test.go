package claim

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"proofmass/sensitivity/estimate"
)

// TestGiven: of two standard normals with correlation 0.7 both lie at or below nil with the
// chance 1/4 + asin(0.7)/(2 pi) = 0.373408 (Sheppard 1899), so that where one does the other
// does with twice that. A right 95 % interval holds it in at least 84 of 100 seeds, but for a
// chance of 1 in 10,000.
func TestGiven(t *testing.T) {
	exact := 2 * (0.25 + math.Asin(0.7)/(2*math.Pi))
	if math.Abs(exact/2-0.37340834444668251) > 1e-15 {
		t.Fatalf("%.17g", exact/2)
	}
	for _, rows := range []estimate.Rows{{Independent: true}, {Bounds: bounds(16, 64)}} {
		inside := 0
		for seed := range uint64(100) {
			rng := rand.New(rand.NewPCG(seed, 5))
			one, other := make([]float64, 1024), make([]float64, 1024)
			for i := range one {
				x := rng.NormFloat64()
				if x <= 0 {
					other[i] = 1
				}
				if 0.7*x+math.Sqrt(1-0.49)*rng.NormFloat64() <= 0 {
					one[i] = 1
				}
			}
			c, err := Given(estimate.Values(one), estimate.Values(other), rows, estimate.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(c.Chance-float64(c.Both)/float64(c.Rows)) > 1e-15 {
				t.Fatalf("%d of %d is not %g", c.Both, c.Rows, c.Chance)
			}
			if c.Interval.Low <= exact && exact <= c.Interval.High {
				inside++
			}
		}
		if inside < 84 {
			t.Errorf("independent: %t: %d of 100 intervals hold %g", rows.Independent, inside, exact)
		}
	}
}

func bounds(replicates, rows int) []int {
	b := make([]int, replicates+1)
	for r := range b {
		b[r] = r * rows
	}
	return b
}

// TestGivenByHand counts a few rows, infeasible ones as not holding; claims that exclude each
// other are told by how seldom chance would do it.
func TestGivenByHand(t *testing.T) {
	nan := math.NaN()
	holds := estimate.Values{1, 0, nan, 1, 1, 0}
	other := estimate.Values{1, 1, 1, 0, nan, 0}
	c, err := Given(holds, other, estimate.Rows{Independent: true}, estimate.Options{})
	if err != nil || c.Both != 1 || c.Rows != 3 || c.All != 6 || c.Excludes(0.5) {
		t.Errorf("%+v, %v", c, err)
	}
	w, err := Given(holds, other, estimate.Rows{Bounds: []int{0, 3, 6}, Weight: []float64{3, 1, 0, 1, 1, 1}}, estimate.Options{})
	if err != nil || w.Chance != 0.75 {
		t.Errorf("weighted: %+v, %v", w, err)
	}
	if none := (Conditional{Rows: 21}); !none.Excludes(0.5) || none.Excludes(0.4) {
		t.Error("21 rows, of which half or two fifths should be shared: told wrongly")
	}
	if _, err := Given(holds[:5], other, estimate.Rows{Independent: true}, estimate.Options{}); err == nil || !strings.Contains(err.Error(), "5 rows") {
		t.Errorf("columns of two lengths: %v", err)
	}
}
