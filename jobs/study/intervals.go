package study

import (
	"fmt"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
)

// intervals reads the level of the intervals of what is estimated.
func (r *reader) intervals(v source.Field) {
	if x, ok := share(v, "intervals", 0.5, 0.999); ok {
		r.s.Level = x
	}
}

// coverage reads the coverage of the intervals of outputs.
func (r *reader) coverage(v source.Field) {
	if x, ok := share(v, "coverage", 0.5, 0.999); ok {
		r.s.Coverage = x
	}
}

// share reads a number without dimension, or a percentage, within bounds.
func share(f source.Field, what string, low, high float64) (float64, bool) {
	x, ok := uncertain.Plain(f, what)
	if ok && !(x >= low && x <= high) {
		f.Err(f.What(), fmt.Sprintf("%s is from %g %% to %g %%", what, 100*low, 100*high))
		return x, false
	}
	return x, ok
}
