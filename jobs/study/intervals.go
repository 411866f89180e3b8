package study

import "fmt"

// intervals reads the level of the intervals of what is estimated.
func (r *reader) intervals(v field) {
	if x, ok := v.share("intervals", 0.5, 0.999); ok {
		r.s.Level = x
	}
}

// coverage reads the coverage of the intervals of outputs.
func (r *reader) coverage(v field) {
	if x, ok := v.share("coverage", 0.5, 0.999); ok {
		r.s.Coverage = x
	}
}

// share reads a number without dimension, or a percentage, within bounds.
func (f field) share(what string, low, high float64) (float64, bool) {
	x, ok := plain(f, what)
	if ok && !(x >= low && x <= high) {
		f.err(f.what(), fmt.Sprintf("%s is from %g %% to %g %%", what, 100*low, 100*high))
		return x, false
	}
	return x, ok
}
