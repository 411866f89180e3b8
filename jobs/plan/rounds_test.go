package plan

import (
	"slices"
	"testing"
)

// Whatever the rows and replicates, every row stands in exactly one slice, in
// order, and no slice crosses from one replicate into the next.
func TestRoundCoversEachRowOnce(t *testing.T) {
	for _, rows := range []int{16, 17, 31, 4096, 8191, 8192, 8193, 131_072, 131_088, 999_999, 4_000_000} {
		for _, replicates := range []int{1, 2, 7, 16} {
			r := newRound(3, Sample, rows, replicates)
			next := 0
			for i, s := range r.Slices {
				low, high := r.Bound(s.Replicate), r.Bound(s.Replicate+1)
				if s.Number != i || s.First != next || s.First-s.From != low || s.First+s.Rows > high || s.Rows < 1 || s.Rows > maxSlice {
					t.Fatalf("%d rows, %d replicates: slice %d is %+v behind row %d, its replicate %d to %d", rows, replicates, i, s, next, low, high)
				}
				next += s.Rows
			}
			if bounds := r.Bounds(); next != rows || bounds[replicates] != rows || !slices.IsSorted(bounds) {
				t.Errorf("%d rows, %d replicates: slices cover %d rows, bounds %v", rows, replicates, next, bounds)
			}
		}
	}
}
