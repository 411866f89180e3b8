package study

import "proofmass/jobs/study/source"

// keep reads which columns of the draws are stored.
func (r *reader) keep(v source.Field) {
	if word, ok := v.OneOf("asked", "all", "summary"); ok {
		r.s.Keep = word
	}
}
