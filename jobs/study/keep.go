package study

// keep reads which columns of the draws are stored.
func (r *reader) keep(v field) {
	if word, ok := v.oneOf("asked", "all", "summary"); ok {
		r.s.Keep = word
	}
}
