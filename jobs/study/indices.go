package study

import "slices"

// indices reads how well the sensitivity indices are wanted, and of what.
func (r *reader) indices(v field) {
	if v.isScalar() {
		if _, ok := v.oneOf("none"); ok {
			r.s.Indices.None = true
		}
		return
	}
	handlers{
		"half_width": func(f field) {
			if w, ok := f.share("half_width", 0.0001, 0.5); ok {
				r.s.Indices.HalfWidth, r.s.Indices.HalfWidthStated = w, true
			}
		},
		"at_most": func(f field) {
			if n, ok := f.count("at_most", 16, MostRows); ok {
				r.s.Indices.AtMost = n
			}
		},
		"of": func(f field) { r.indexOf, _ = f.list("a list of outputs or claims is expected") },
	}.read(v, "indices")
}

// indicesOf checks the names of which indices are wanted.
func (r *reader) indicesOf() {
	for _, f := range r.indexOf {
		name, ok := f.text("the name of an output or a claim is expected")
		if !ok || slices.Contains(r.badClaims, name) {
			continue
		}
		known := slices.ContainsFunc(r.claims, func(c *claimDecl) bool { return c.Name == name })
		if !known && name != "all_claims" {
			if _, err := r.typeOf(name); err != nil {
				f.expressionError(err)
				continue
			}
			if !r.computable(f, 0, name) {
				continue
			}
		}
		r.s.Indices.Of = append(r.s.Indices.Of, name)
	}
}
