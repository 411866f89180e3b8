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

// The same of slices of choices, which hold whole replicates where these are small: also where
// some replicates are just too large for a slice and others are not.
func TestPartsCoverEachRowOnce(t *testing.T) {
	for _, rows := range []int{16, 4096, 65_536, 131_072, 131_077, 131_079, 131_088, 999_999} {
		for _, replicates := range []int{1, Replicates} {
			r := newRound(0, Sample, rows, replicates)
			next := 0
			for i, parts := range (&Plan{}).parts(r) {
				held := 0
				for _, part := range parts {
					if first := firstOf(r, part); first != next || part.Rows < 1 {
						t.Fatalf("%d rows, %d replicates: slice %d: %+v begins at row %d behind row %d", rows, replicates, i, part, first, next)
					}
					next, held = next+part.Rows, held+part.Rows
				}
				if held == 0 || held > maxSlice {
					t.Errorf("%d rows, %d replicates: slice %d has %d rows", rows, replicates, i, held)
				}
			}
			if next != rows {
				t.Errorf("%d rows, %d replicates: slices cover %d rows", rows, replicates, next)
			}
		}
	}
}
