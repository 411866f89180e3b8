package jobs

import (
	"math"
	"testing"
)

// Further rounds follow the square root of the rows, never more than double what
// is there, and none beyond the most.
func TestFurtherRounds(t *testing.T) {
	for _, c := range []struct {
		done, most int
		wide       float64
		want       int
	}{
		{1, 100, 1, 0}, {1, 100, 0, 0}, {1, 100, 1.0001, 1}, {10, 100, 1.05, 2}, {10, 100, 1.2, 5}, {10, 100, 9, 10},
		{10, 12, 9, 2}, {12, 12, 9, 0}, {1, 1, math.Inf(1), 0}, {3, 1000, math.Inf(1), 3},
	} {
		if got := furtherRounds(c.done, c.most, c.wide); got != c.want {
			t.Errorf("%d of %d rounds, %g times too wide: %d more, want %d", c.done, c.most, c.wide, got, c.want)
		}
	}
	if times(math.NaN(), 0.1) != math.Inf(1) || times(math.NaN(), 0) != 0 || times(0.5, 0.25) != 2 {
		t.Error("what is not asked for counts, or what is not known does not")
	}
}
