package study

import (
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
)

// indices reads how well the sensitivity indices are wanted, and of what.
func (r *reader) indices(v source.Field) {
	if r.s.Indices.Stated = v.IsMapping(); !r.s.Indices.Stated {
		const allowed = "allowed: none, or {half_width, at_most, pairs, screen, of}"
		word, ok := v.Text(allowed)
		if r.s.Indices.None = ok && word == "none"; ok && word != "none" {
			v.Err(v.What(), allowed+source.OrMeant(word, []string{"none"}))
		}
		return
	}
	source.Handlers{
		"half_width": func(f source.Field) {
			if w, ok := share(f, "half_width", 0.0001, 0.5); ok {
				r.s.Indices.HalfWidth, r.s.Indices.HalfWidthStated = w, true
			}
		},
		"at_most": func(f source.Field) {
			if n, ok := count(f, "at_most", 16, MostRows); ok {
				r.s.Indices.AtMost = n
			}
		},
		"pairs": func(f source.Field) {
			if word, ok := f.OneOf("interacting", "all", "none"); ok {
				r.s.Indices.Pairs = word
			}
		},
		"screen": func(f source.Field) { r.s.Indices.Screen, _ = f.OneOf("yes", "no") },
		"of": func(f source.Field) {
			var ok bool
			if r.indexOf, ok = f.List("a list of outputs or claims is expected"); ok && len(r.indexOf) == 0 {
				f.Err("an empty list", "name an output or a claim, or leave of out")
			}
		},
	}.Read(v, "indices")
}

// indicesOf checks the names of which indices are wanted.
func (r *resolver) indicesOf() {
	for _, f := range r.indexOf {
		if name, ok := f.Text("the name of an output or a claim is expected"); ok && r.explainable(f, name) {
			r.s.Indices.Of = append(r.s.Indices.Of, name)
		}
	}
}

// explainable reports whether a name is that of an output or a claim that something
// uncertain decides.
func (r *resolver) explainable(f source.Field, name string) bool {
	i := slices.IndexFunc(r.claims, func(c *claimDecl) bool { return c.Name == name })
	switch {
	case r.badClaim(name):
		return false
	case name == AllClaims:
		return r.severalClaims(f) && len(r.badClaims) == 0 && r.decided(f, name, r.claims...)
	case i >= 0:
		return r.decided(f, name, r.claims[i])
	case r.calledFactor(name) != "":
		f.Err(source.Quote(name)+" is "+r.calledFactor(name), "an output or a claim is expected: indices tell what decides it")
		return false
	}
	if _, err := r.typeOf(name); err != nil {
		uncertain.ExpressionError(f, err)
		return false
	}
	byDefault := ""
	if r.statement(name) == nil {
		byDefault = " by default"
	}
	switch r.graph.kind(name) {
	case Uncertain:
		f.Err(name+" is an uncertain input"+byDefault, "an output or a claim is expected: indices tell which inputs decide it")
		return false
	case Constant:
		f.Err(name+" is a constant"+byDefault, "nothing decides it")
		return false
	}
	return r.computable(f, 0, name) && r.decided(f, name)
}

// severalClaims refuses all claims together where there are fewer than two.
func (r *resolver) severalClaims(f source.Field) bool {
	if len(r.claims)+len(r.badClaims) > 1 {
		return true
	}
	instead := "it stands for two claims and more, and this study has none"
	if len(r.claims) == 1 {
		instead = "it stands for two claims and more: name " + r.claims[0].Name
	}
	if len(r.badClaims) == 0 {
		f.Err(source.Quote(AllClaims)+" where no two claims are", instead)
	}
	return false
}

// decided refuses what nothing uncertain reaches: the name's own value or, if there
// are any, what the claims read.
func (r *resolver) decided(f source.Field, name string, claims ...*claimDecl) bool {
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
	if r.carless() || r.unclear || slices.ContainsFunc(names, func(n string) bool { return r.varies(n, seen) }) {
		return true
	}
	f.Err(source.Quote(name)+" depends on nothing uncertain", "nothing decides it")
	return false
}

// varies reports whether something uncertain reaches a name, or a mistake that is
// reported leaves it open.
func (r *resolver) varies(name string, seen map[string]bool) bool {
	if seen[name] {
		return false
	}
	seen[name] = true
	st, o := r.statement(name), r.output(name)
	if r.looped[name] || st != nil && st.broken || o != nil && o.broken || r.graph.kind(name) == Uncertain {
		return true
	}
	n := r.graph.node(name)
	return n.err != nil || slices.ContainsFunc(n.needs, func(need string) bool { return r.varies(need, seen) })
}

// indicesInUse refuses indices of what only a template states that no vehicle is
// based on.
func (r *resolver) indicesInUse() {
	r.refuseUnused(r.s.Indices.Of, r.indexOf, r.inUse(), "what indices are wanted of")
}
