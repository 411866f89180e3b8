package study

import (
	"fmt"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/formula"
)

// A Reading is another quantity of which a claim's announcement may have been meant: per cent
// of what. What was announced, its sense and its rounding stay.
type Reading struct {
	Of   string
	Text string        // the condition as printed
	Expr *formula.Expr // yes/no, checked
}

// MostCombinations is how many combinations of readings of all claims are told at most.
const MostCombinations = 64

// ReadingName is the name under which the graph has whether a claim holds in a reading of it,
// from 1: 1, 0, or infeasible.
func ReadingName(claim string, reading int) string {
	return fmt.Sprintf("reading %d of %s", reading, claim)
}

// ReadingColumn is the name under which samples store that.
func ReadingColumn(claim string, reading int) string {
	return fmt.Sprintf("%s_reading_%d", claim, reading)
}

const couldMean = "could_mean is a list of outputs, as in [bonded.pack_mass_change]: of what the announcement may have been meant beside of"

// couldMean takes the names that stand in the list; what they are is known later.
func (c *claimDecl) couldMean(f source.Field) {
	c.hasMeanings = true
	list, ok := f.List(couldMean)
	if !ok || !f.AtMost(MostCombinations-1, "readings") {
		return
	}
	if len(list) == 0 {
		f.Err("no reading", couldMean)
	}
	for _, item := range list {
		if _, ok := item.Text("the name of an output is expected"); ok {
			c.meanings = append(c.meanings, item)
		}
	}
}

// readings checks the other readings of an announced claim and makes their conditions.
func (r *resolver) readings(c *claimDecl, a announcement) {
	seen := map[string]bool{c.Of: true}
	for _, f := range c.meanings {
		name := strings.TrimSpace(f.Raw())
		if seen[name] {
			f.Err(source.Quote(name)+" a second time", "each reading stands once; the first is of itself")
			continue
		}
		seen[name] = true
		t, err := r.typeOf(name)
		if err != nil {
			uncertain.ExpressionError(f, err)
			continue
		}
		q, ok := r.quantity(name)
		switch {
		case !ok || t.Bool:
			f.Err(f.What()+" is no number", "could_mean names inputs or outputs")
			continue
		case t.Dimension != a.of.Dimension || t.Temperature != a.of.Temperature:
			f.Err(f.What()+" has the dimension "+t.Dimension.String(), "what was announced stays, so a reading has that of "+c.Of+", "+a.of.Dimension.String())
			continue
		}
		d := *c
		d.Of, d.of, d.Margin = name, f, nil
		d.MarginUnit = q.Unit.OfDifferences()
		r.condition(&d, a.value, a.half, a.in, t)
		c.Readings = append(c.Readings, Reading{Of: name, Text: d.Text, Expr: d.Expr})
	}
	if len(c.meanings) == 0 {
		return
	}
	beside := func(top string, there bool) {
		if there {
			r.top[top].Err(top+" beside could_mean", "readings of claims are told of one choice; leave one of the two out")
		}
	}
	_, chosen := r.top["choices"]
	beside("choices", chosen)
	combined := 1
	for _, other := range r.claims {
		combined = min(MostCombinations+1, combined*(1+len(other.meanings)))
		if other == c {
			break
		}
	}
	if combined > MostCombinations {
		c.meanings[0].Err("more combinations of readings of all claims than can be told", fmt.Sprintf("at most %d are allowed: the product of one and the readings of each claim", MostCombinations))
	}
}
