package study

import "proofmass/jobs/study/source"

// exact takes evaluations over all steps of a schedule, however many there are.
func (r *reader) exact(v source.Field) {
	word, _ := v.OneOf("yes", "no")
	r.s.Exact = word == "yes"
}

// keep reads which columns of the draws are stored.
func (r *reader) keep(v source.Field) {
	if word, ok := v.OneOf("asked", "all", "summary"); ok {
		r.s.Keep = word
	}
}
