package analyse

import "math"

// Memory is about what summaries of a sample take at their peak, in bytes: each worker, as
// far as there are columns, holds the keys of a column and their order, 16 bytes a row up to
// a million rows, and beyond it what the collector has not given back of the pieces that it
// reads. Of 6 stored columns 131,072, 1 and 4 million rows took 3, 20 and 60 MB with one
// worker, 7, 37 and 109 MB with two, 14, 100 and 225 MB with eight.
func Memory(rows, workers, columns int) int64 {
	const (
		kept   = 1e6
		row    = 17
		most   = 2.2 // times what is kept
		growth = 0.55
	)
	each := row * math.Min(float64(rows), kept)
	if rows > kept {
		each *= math.Min(most, math.Pow(float64(rows)/kept, growth))
	}
	return int64(each * float64(max(1, min(workers, columns))))
}
