package study

import (
	"strings"

	"proofmass/model/formula"
	"proofmass/model/unit"
)

// claimDecl is a claim as the study states it.
type claimDecl struct {
	Claim
	key                               field
	of, holds, announced, rounded     field
	hasOf, hasHolds, hasAnn, hasRound bool
	hasSense                          bool
	value                             field
}

// allClaims reads `claims`.
func (r *reader) allClaims(v field) {
	pairs, ok := v.pairs("claims are a mapping: name: {of, announced, rounded_to, sense} or {holds: condition}")
	if !ok || !v.atMost(mostEntries, "claims") {
		return
	}
	for _, p := range pairs {
		if !p.named("claim") {
			continue
		}
		if r.output(p.name) != nil {
			p.key.err(quote(p.name)+" is an output too", "a claim and an output may not share a name")
			continue
		}
		c := &claimDecl{key: p.key, value: p.value}
		c.Name, c.Place = p.name, p.key.place()
		if r.readClaim(c, p.value) {
			r.claims = append(r.claims, c)
		} else {
			r.badClaims = append(r.badClaims, p.name)
		}
	}
}

// readClaim reads the keys of a claim and which form it has.
func (r *reader) readClaim(c *claimDecl, v field) bool {
	into := func(to *field, has *bool) func(f field) { return func(f field) { *to, *has = f, true } }
	known := freeKeys(&c.Free).with(handlers{
		"of": into(&c.of, &c.hasOf), "holds": into(&c.holds, &c.hasHolds),
		"announced": into(&c.announced, &c.hasAnn), "rounded_to": into(&c.rounded, &c.hasRound),
		"sense": func(f field) { c.Sense, _ = f.oneOf("at_least", "at_most", "about"); c.hasSense = true },
	})
	before := r.errs.count
	known.read(v, "a claim", "could_mean", "history", "withdrawn")
	const forms = "a claim is {of, announced, rounded_to, sense} or {holds: condition}"
	switch {
	case r.errs.count > before:
		return false
	case c.hasHolds && (c.hasOf || c.hasAnn || c.hasRound || c.hasSense):
		v.err("holds beside of, announced, rounded_to or sense", forms)
	case c.hasHolds:
		var ok bool
		c.Expr, ok = c.holds.expression("a condition is expected, as in bonded.pack_mass <= 400 kg")
		return ok
	case !c.hasOf || !c.hasAnn:
		v.err("neither holds nor of with announced", forms)
	case !c.hasSense:
		v.err("no sense", "at_least, at_most or about: which values bear the claim out")
	case c.Sense == "about" && !c.hasRound:
		v.err("sense about without rounded_to", "about needs rounded_to: within half of it counts")
	default:
		name, ok := c.of.text("the name of an output is expected")
		c.Of = name
		return ok
	}
	return false
}

// claimTypes checks a claim when all names are known.
func (r *reader) claimTypes(c *claimDecl) {
	if c.hasHolds {
		r.holdsClaim(c)
	} else {
		r.announcedClaim(c)
	}
}

// holdsClaim checks a condition written out.
func (r *reader) holdsClaim(c *claimDecl) {
	t, err := c.Expr.Check(r.typeOf)
	if err != nil {
		c.holds.expressionError(err)
		return
	}
	if !t.Bool {
		c.holds.err(c.holds.what()+" is a number", "a condition is yes or no, as in bonded.pack_mass <= 400 kg")
		return
	}
	c.Text = printable(strings.TrimSpace(c.holds.node.Value), 500)
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
func (r *reader) unitLike(e *formula.Expr, t formula.Type) unit.Unit {
	for _, name := range e.Names() {
		if q, ok := r.quantity(name); ok && q.Unit.Dimension() == t.Dimension {
			return differenceUnit(q.Unit)
		}
	}
	return unit.SI(t.Dimension)
}
