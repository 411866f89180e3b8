package compare

import (
	"math"
	"testing"

	"proofmass/jobs/plan"
)

// TestWeightedReplicates: mean, middle and width of rows that count differently are each
// their own in every replicate. A row of weight 2 counts as two rows of weight 1 do in a mean.
func TestWeightedReplicates(t *testing.T) {
	x, weight := []float64{1, 2, 6, 10, 40, 20}, []float64{1, 2, 1, 1, 1, 2}
	f := describe(x, weight, plan.Round{Rows: 6, Replicates: 2})
	for r, want := range []float64{(1 + 2 + 2 + 6) / 4.0, (10 + 40 + 20 + 20) / 4.0} {
		if got := f.mean.replicates[r]; math.Abs(got-want) > 1e-12*want {
			t.Errorf("replicate %d: the mean is %g, want %g", r, got, want)
		}
	}
	for r, want := range []float64{2, 20} { // the weights are symmetrical about these rows
		if got := f.middle.replicates[r]; got != want {
			t.Errorf("replicate %d: the middle is %g, want %g", r, got, want)
		}
	}
	for r, want := range []float64{5, 30} { // p05 and p95 lie below and above the middles of the outer weights
		if got := f.width.replicates[r]; got != want {
			t.Errorf("replicate %d: the width is %g, want %g", r, got, want)
		}
	}
}
