package study

import (
	"slices"

	"proofmass/model/vehicle"
)

// indices reads how well the sensitivity indices are wanted, and of what.
func (r *reader) indices(v field) {
	if !v.isMapping() {
		const allowed = "allowed: none, or {half_width, at_most, pairs, screen, of}"
		word, ok := v.text(allowed)
		if r.s.Indices.None = ok && word == "none"; ok && word != "none" {
			v.err(v.what(), allowed+orMeant(word, []string{"none"}))
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
		"pairs": func(f field) {
			if word, ok := f.oneOf("interacting", "all", "none"); ok {
				r.s.Indices.Pairs = word
			}
		},
		"screen": func(f field) { r.s.Indices.Screen, _ = f.oneOf("yes", "no") },
		"of": func(f field) {
			var ok bool
			if r.indexOf, ok = f.list("a list of outputs or claims is expected"); ok && len(r.indexOf) == 0 {
				f.err("an empty list", "name an output or a claim, or leave of out")
			}
		},
	}.read(v, "indices")
}

// indicesOf checks the names of which indices are wanted.
func (r *reader) indicesOf() {
	for _, f := range r.indexOf {
		if name, ok := f.text("the name of an output or a claim is expected"); ok && r.explainable(f, name) {
			r.s.Indices.Of = append(r.s.Indices.Of, name)
		}
	}
}

// explainable reports whether a name is that of an output or a claim that something
// uncertain decides.
func (r *reader) explainable(f field, name string) bool {
	i := slices.IndexFunc(r.claims, func(c *claimDecl) bool { return c.Name == name })
	switch {
	case slices.Contains(r.badClaims, name):
		return false
	case name == allClaims:
		return r.severalClaims(f) && len(r.badClaims) == 0 && r.decided(f, name, r.claims...)
	case i >= 0:
		return r.decided(f, name, r.claims[i])
	case r.ofModelError(name):
		f.err(quote(name)+" is the model's own error", "an output or a claim is expected: indices tell what decides it")
		return false
	}
	if _, err := r.typeOf(name); err != nil {
		f.expressionError(err)
		return false
	}
	byDefault := ""
	if r.statement(name) == nil {
		byDefault = " by default"
	}
	switch r.kind(name) {
	case Uncertain:
		f.err(name+" is an uncertain input"+byDefault, "an output or a claim is expected: indices tell which inputs decide it")
		return false
	case Constant:
		f.err(name+" is a constant"+byDefault, "nothing decides it")
		return false
	}
	return r.computable(f, 0, name) && r.decided(f, name)
}

// severalClaims refuses all claims together where there are fewer than two.
func (r *reader) severalClaims(f field) bool {
	if len(r.claims)+len(r.badClaims) > 1 {
		return true
	}
	instead := "it stands for two claims and more, and this study has none"
	if len(r.claims) == 1 {
		instead = "it stands for two claims and more: name " + r.claims[0].Name
	}
	if len(r.badClaims) == 0 {
		f.err(quote(allClaims)+" where no two claims are", instead)
	}
	return false
}

// decided refuses what nothing uncertain reaches: the name's own value or, if there
// are any, what the claims read.
func (r *reader) decided(f field, name string, claims ...*claimDecl) bool {
	names := []string{name}
	if len(claims) > 0 {
		names = nil
	}
	for _, c := range claims {
		if c.Text == "" {
			return false // its mistake is reported
		}
		names = append(names, c.Expr.Names()...)
	}
	seen := map[string]bool{}
	if r.incomplete || r.misspelt || slices.ContainsFunc(names, func(n string) bool { return r.varies(n, seen) }) {
		return true
	}
	f.err(quote(name)+" depends on nothing uncertain", "nothing decides it")
	return false
}

// varies reports whether something uncertain reaches a name, or a mistake that is
// reported leaves it open.
func (r *reader) varies(name string, seen map[string]bool) bool {
	if seen[name] {
		return false
	}
	seen[name] = true
	st, o := r.statement(name), r.output(name)
	if r.looped[name] || st != nil && st.broken || o != nil && o.broken || r.kind(name) == Uncertain {
		return true
	}
	needs, err := r.needs(name)
	return err != nil || slices.ContainsFunc(needs, func(need string) bool { return r.varies(need, seen) })
}

// kind is how a name is known that the study states or that has a default; anything
// else is computed, which is as good as a formula.
func (r *reader) kind(name string) Kind {
	if st := r.statement(name); st != nil {
		return st.Kind
	}
	if text := vehicle.DefaultText(name, false); text != "" && !r.formulas() {
		if in, err := defaultInput(name, text); err == nil {
			return in.Kind
		}
	}
	return Formula
}

// indicesInUse refuses indices of what only a template states that no vehicle is
// based on.
func (r *reader) indicesInUse() {
	r.refuseUnused(r.s.Indices.Of, r.indexOf, r.inUse(), "what indices are wanted of")
}
