package study

import (
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/formula"
	"proofmass/model/unit"
)

// MarginColumn is the name under which samples store a claim's margin.
func MarginColumn(claim string) string { return claim + "_margin" }

// allClaims reads `claims`.
func (r *reader) allClaims(v source.Field) {
	pairs, ok := v.Pairs("claims are a mapping: name: {of, announced, rounded_to, sense} or {holds: condition}")
	if !ok || !v.AtMost(source.MostEntries, "claims") {
		r.refuse("claims")
		return
	}
	for _, p := range pairs {
		if !named(p, "claim") {
			r.refuse("claims")
			continue
		}
		if r.output(p.Name) != nil {
			p.Key.Err(source.Quote(p.Name)+" is an output too", "a claim and an output may not share a name")
			continue
		}
		c := &claimDecl{key: p.Key, value: p.Value}
		c.Name, c.Place = p.Name, p.Key.Place()
		switch right := r.readClaim(c, p.Value); {
		case right && c.withdrawn != "":
			r.withdraw(c.Name, c.stated(), c.Free, c.withdrawn)
		case right:
			r.claims = append(r.claims, c)
		default:
			r.badClaims = append(r.badClaims, c)
		}
	}
}

// readClaim reads the keys of a claim and which form it has. It reports whether all is
// right so far; what can be read is read all the same, so that all mistakes are found.
func (r *reader) readClaim(c *claimDecl, v source.Field) bool {
	into := func(to *source.Field, has *bool) func(f source.Field) {
		return func(f source.Field) { *to, *has = f, true }
	}
	known := uncertain.FreeKeys(&c.Free).With(source.Handlers{
		"of": into(&c.of, &c.hasOf), "holds": into(&c.holds, &c.hasHolds),
		"announced": into(&c.announced, &c.hasAnn), "rounded_to": into(&c.rounded, &c.hasRound),
		"sense":      func(f source.Field) { c.sense = &f },
		"could_mean": c.couldMean,
		"withdrawn":  func(f source.Field) { c.withdrawn = uncertain.Reason(f) },
	})
	before := r.errs.Count()
	known.Read(v, "a claim")
	if c.sense != nil {
		c.Sense, _ = c.sense.OneOf("at_least", "at_most", "about")
	}
	if c.hasHolds {
		c.Expr, _ = r.numbers.Expression(c.holds, "a condition is expected, as in bonded.pack_mass <= 400 kg")
	}
	if c.hasOf {
		c.Of, _ = c.of.Text("the name of an output is expected")
	}
	if r.errs.Count() == before {
		c.form(v)
	}
	return r.errs.Count() == before
}

// stated is a claim as it is written.
func (c *claimDecl) stated() string {
	if c.hasHolds {
		return source.Printable(strings.TrimSpace(c.holds.Raw()), 500)
	}
	return source.Printable(c.Of+" "+strings.ReplaceAll(c.Sense, "_", " ")+" "+strings.TrimSpace(c.announced.Raw()), 500)
}

// form refuses a claim that has parts of two forms, or lacks some.
func (c *claimDecl) form(v source.Field) {
	const forms = "a claim is {of, announced, rounded_to, sense} or {holds: condition}"
	switch {
	case c.hasHolds && (c.hasOf || c.hasAnn || c.hasRound || c.sense != nil || c.hasMeanings):
		v.Err("holds beside of, announced, rounded_to, sense or could_mean", forms)
	case c.hasHolds:
	case !c.hasOf || !c.hasAnn:
		v.Err("neither holds nor of with announced", forms)
	case c.sense == nil:
		v.Err("no sense", "at_least, at_most or about: which values bear the claim out")
	case c.Sense == "about" && !c.hasRound:
		v.Err("sense about without rounded_to", "about needs rounded_to: within half of it counts")
	}
}

// claimTypes checks a claim when all names are known.
func (r *resolver) claimTypes(c *claimDecl) {
	if c.hasHolds {
		r.holdsClaim(c)
	} else {
		r.announcedClaim(c)
	}
}

// badClaimParts checks what can be checked of a claim of which a mistake is reported, so
// that all of them are found at once.
func (r *resolver) badClaimParts(c *claimDecl) {
	if c.Expr != nil {
		r.holdsClaim(c)
	}
	if c.Of != "" || !c.hasOf {
		r.announcement(c)
	}
}

// holdsClaim checks a condition written out.
func (r *resolver) holdsClaim(c *claimDecl) {
	t, err := c.Expr.Check(r.typeOf)
	if err != nil {
		uncertain.ExpressionError(c.holds, err)
		return
	}
	if !t.Bool {
		c.holds.Err(c.holds.What()+" is a number", "a condition is yes or no, as in bonded.pack_mass <= 400 kg")
		return
	}
	c.Text = source.Printable(strings.TrimSpace(c.holds.Raw()), 500)
	margin, ok := c.Expr.Margin()
	if !ok {
		return
	}
	if t, err = margin.Check(r.typeOf); err == nil && !t.Bool {
		c.Margin, c.MarginUnit = margin, r.unitLike(c.Expr, t)
	}
}

// unitLike is the display unit of the first name in an expression that has the
// dimension, as a reader expects a margin to be in the unit of the left side.
func (r *resolver) unitLike(e *formula.Expr, t formula.Type) unit.Unit {
	for _, name := range e.Names() {
		if q, ok := r.quantity(name); ok && q.Unit.Dimension() == t.Dimension {
			return q.Unit.OfDifferences()
		}
	}
	return unit.SI(t.Dimension)
}
