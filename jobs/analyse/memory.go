package analyse

import "math"

// Memory is about what summaries of a sample take at their peak, in bytes, with what the
// collector has not given back yet: of 4 stored columns 27 MB seen with one worker and
// 41 MB with two for 200,000 rows, 73 and 110 MB for a million, no more for 4 and 10
// million; 122 and 175 MB with eight workers on two processors.
func Memory(rows, workers, columns int) int64 {
	const (
		first, each = 55 << 20, 20 << 20 // beyond a million rows
		more, few   = 12 << 20, 2e5      // each worker behind the second, from so many rows on
		whole       = 1e6
		growth      = 0.6
	)
	two := first + each*float64(max(1, min(workers, columns, 2)))
	others := more * float64(max(0, min(workers, columns)-2))
	return int64(two*math.Pow(min(1, float64(rows)/whole), growth) + others*min(1, float64(rows)/few))
}
