package analyse

import "math"

// Memory is about what summaries of a sample take at their peak, in bytes: each worker, as
// far as there are columns, holds the keys of a column and their order, 16 bytes a row up to
// a million rows, and beyond it what the collector has not given back of the pieces that it
// reads. Weighted columns take no more: what was measured also has all of it before. Of runs of
// 4 and 6 stored columns, see the table at inspect.memory.
func Memory(rows, workers, columns int) int64 {
	const (
		kept   = 1e6
		row    = 14
		most   = 2.4 // times what is kept
		growth = 0.55
	)
	each := row * math.Min(float64(rows), kept)
	if rows > kept {
		each *= math.Min(most, math.Pow(float64(rows)/kept, growth))
	}
	return int64(each * float64(max(1, min(workers, columns))))
}
