package cluster

import (
	"slices"
	"testing"
	"time"

	"proofmass/jobs"
)

// The time that a task is given is for the share that has most of what is missing: shares go
// by the remainder of a slice's number, and what is missing may all have the same.
func TestSharesOfWhatIsMissing(t *testing.T) {
	var twentieth []int
	for i := 2; i < 400; i += 20 {
		twentieth = append(twentieth, i)
	}
	for _, c := range []struct {
		missing []int
		of      int
		numbers []int
		each    int
	}{
		{[]int{0, 1, 2, 3}, 4, []int{1, 2, 3, 4}, 1},
		{twentieth, 400, []int{3}, 20},
		{[]int{0, 10, 11}, 20, []int{1, 2}, 2},
	} {
		s := &Submitted{Due: &jobs.Due{Slices: c.of, Missing: c.missing}, Slice: time.Minute}
		n, numbers, each := s.shares(-10)
		if len(c.missing) == 4 {
			n, numbers, each = s.shares(-4)
		}
		if each != c.each || !slices.Equal(numbers, c.numbers) {
			t.Errorf("%v of %d: %d shares, %v, %d each; want %v, %d", c.missing, c.of, n, numbers, each, c.numbers, c.each)
		}
	}
}
