package estimate

import "math"

// place returns the two neighbours and the weight of the second for the
// percentile p of n sorted rows: h = (n-1) p, type 7.
func place(n int, p float64) (low, high int, weight float64) {
	h := float64(n-1) * p
	low = int(h)
	return low, min(low+1, n-1), h - float64(low)
}

// between is the value at the given share of the way from a to b.
func between(a, b, weight float64) float64 {
	if step := b - a; step <= math.MaxFloat64 {
		return a + float64(weight*step)
	}
	return float64((1-weight)*a) + float64(weight*b)
}

// Percentile is the type 7 percentile p of sorted values, NaN of none.
func Percentile(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	low, high, weight := place(len(sorted), p)
	return between(sorted[low], sorted[high], weight)
}

// OrderInterval is the interval of the percentile p of sorted independent values, between
// two of them; an end beyond the values is not known. For rows of a replicated design it is
// too wide, never too narrow.
func OrderInterval(sorted []float64, p, level float64) Interval {
	low, high := orderRanks(len(sorted), p, level)
	i := None()
	if low >= 1 {
		i.Low = sorted[low-1]
	}
	if high <= len(sorted) {
		i.High = sorted[high-1]
	}
	return i
}

// covered is the number q of steps between the ends of a coverage interval of
// n rows: q = p n, or the nearest whole number (JCGM 101:2008, 7.7.2).
func covered(n int, p float64) int { return int(float64(n)*p + 0.5) }
