package sensitivity

import "math"

const (
	rounded   = 0x1p-44 // range beside the greatest size of a column: 256 times what one rounding leaves
	remainder = 0x1p-30 // below, whole multiples of a small power of two are what rounding leaves of greater numbers
	fewBits   = 12      // of such multiples

	// nothing is the square of what a swap changes beside that of what two whole rows differ
	// by, below which it changed nothing but rounding.
	nothing = 0x1p-80
)

// roundingOnly tells whether a column from low to high varies by rounding alone: by next
// to nothing beside its size; or around 0 by few steps of a tiny power of two, as what is
// left where greater numbers cancel. Numbers of an input have all their digits.
func roundingOnly(low, high float64) bool {
	size := max(math.Abs(low), math.Abs(high))
	if high-low <= rounded*size {
		return true
	}
	if size >= remainder {
		return false
	}
	_, exponent := math.Frexp(size)
	return whole(low, exponent) && whole(high, exponent)
}

// whole tells whether v is a multiple of 2^(exponent-fewBits).
func whole(v float64, exponent int) bool {
	steps := math.Ldexp(v, fewBits-exponent)
	return steps == math.Trunc(steps)
}

// tells reports whether enough of n rows show something for their spread to tell an
// error: few, or most of them.
func tells(acting, n int) bool { return acting >= few || 2*acting >= n }
