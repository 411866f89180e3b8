package compare

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/report"
)

// What a terminal is told at most: inputs, outputs, and causes of each.
const mostInputs, mostOutputs, mostCauses = 12, 6, 4

// Text tells a comparison at a terminal of so many columns.
func (c *Comparison) Text(out io.Writer, width int) error {
	if width <= 0 {
		width = 80
	}
	b := &text{report.Lines{Width: min(120, max(60, width))}}
	b.Para(c.Headline(), "")
	for _, note := range c.Notes {
		b.Para(note, "")
	}
	b.claims(c)
	b.together(c.Told)
	b.facts(c.Facts)
	b.inputs(c.Inputs)
	b.outputs(c)
	for _, x := range []struct {
		label string
		names []string
	}{{"No longer there", c.Gone}, {"New", c.Added}} {
		if len(x.names) > 0 {
			b.Para(x.label+": "+strings.Join(shortened(x.names, mostInputs), ", ")+".", "")
		}
	}
	b.Para(c.How(), "")
	_, err := io.WriteString(out, b.String())
	return err
}

type text struct{ report.Lines }

// row is a line behind a label, under one that takes more room than there is.
func (b *text) row(label, text string) {
	const column = 13
	head := fmt.Sprintf("  %-*s", column-2, label)
	if len([]rune(label)) > column-3 {
		head += "\n" + strings.Repeat(" ", column)
	}
	b.WriteString(head + strings.TrimLeft(report.Wrap(text, strings.Repeat(" ", column), b.Width), " "))
}

func shortened(names []string, most int) []string {
	if len(names) <= most {
		return names
	}
	return append(append([]string{}, names[:most]...), fmt.Sprintf("%d more", len(names)-most))
}

// Headline says in a sentence what moved.
func (c *Comparison) Headline() string {
	stated := 0
	for _, in := range c.Inputs {
		if in.Change != Words && in.Change != Follows {
			stated++
		}
	}
	var moved []string
	for _, x := range c.Claims {
		if x.Moved {
			moved = append(moved, report.ClaimName(x.Name)+" moved from "+x.Before.InWords()+" to "+x.After.InWords())
		}
	}
	var what []string
	for _, x := range []struct {
		n    int
		noun string
	}{{stated, "input"}, {len(c.Facts), "measured fact"}, {c.restated(), "claim"}} {
		if x.n > 0 {
			what = append(what, report.Counted(x.n, x.noun))
		}
	}
	if len(what) == 0 {
		what = append(what, report.Counted(0, "input"))
	}
	text := fmt.Sprintf("Since %s %s changed", c.Old.Ended.UTC().Format("2 January 2006, 15:04 UTC"), report.Listed(what))
	if c.otherDraws() {
		text += ", and the draws are others"
	}
	switch {
	case len(moved) > 0:
		return text + "; " + strings.Join(moved, "; ") + "."
	case len(c.Claims) > 0:
		return text + "; no verdict moved."
	}
	return text + "."
}

// restated counts the claims that test something else than before.
func (c *Comparison) restated() (n int) {
	for i := range c.Claims {
		if c.Claims[i].Before.Text != c.Claims[i].After.Text {
			n++
		}
	}
	return n
}

func (b *text) claims(c *Comparison) {
	for i := range c.Claims {
		x := &c.Claims[i]
		verdict := "still " + x.After.InWords()
		if x.Moved {
			verdict = x.Before.InWords() + " -> " + x.After.InWords()
		}
		b.WriteString("\n")
		b.Para(report.ClaimName(x.Name)+": "+verdict, "")
		b.row("was", x.Before.Frequency+" ("+x.Before.Percent()+")")
		b.row("is", x.After.Frequency+" ("+x.After.Percent()+")")
		if x.Before.Text != x.After.Text {
			b.row("tested", x.Before.Text+", now "+x.After.Text)
		}
		b.causes(&x.Chance, 100, "in 100 draws")
		if x.NeedsAfter != x.NeedsBefore && x.NeedsAfter != "" {
			b.row("turns", x.turns)
		}
		if x.MixedBefore+x.MixedAfter != "" {
			b.row("mixed", "was "+cmp.Or(x.MixedBefore, "one account")+"; is "+cmp.Or(x.MixedAfter, "one account"))
		}
		for k := range x.Told {
			b.row(x.Told[k].InWords())
		}
		if next := x.Next(); next != "" {
			b.row("measure", next)
		}
	}
}

// together tells what is told of the claims together.
func (b *text) together(all []Told) {
	if len(all) == 0 {
		return
	}
	b.WriteString("\nThe claims together\n")
	for i := range all {
		b.row(all[i].InWords())
	}
}

// Next says what helps most to measure now, where it is not what it was; "" where it is, or
// nothing does.
func (x *Claim) Next() string {
	switch {
	case x.NextBefore == x.NextAfter:
		return ""
	case x.NextAfter == "":
		return "nothing alone any more; before " + x.NextBefore
	case x.NextBefore == "":
		return x.NextAfter + "; before nothing alone"
	}
	return x.NextAfter + "; before " + x.NextBefore
}

// facts tells what was measured since, or no longer counts.
func (b *text) facts(all []Fact) {
	if len(all) == 0 {
		return
	}
	b.WriteString("\nMeasured:\n")
	for _, f := range all {
		switch {
		case f.Before == "":
			b.row(f.Of, "new: "+f.After)
		case f.After == "":
			b.row(f.Of, "no longer: "+f.Before)
		default:
			b.row(f.Of, f.Before+", now "+f.After)
		}
	}
}

// causes are the largest ones, each with its sign.
func (b *text) causes(c *Change, times float64, unit string) {
	told := c.Told(times, unit, mostCauses)
	for i, line := range told {
		label := ""
		if i == 0 {
			label = "because of"
		}
		b.row(label, line)
	}
}

// Told are the causes of a change in lines: the largest first, those that are left over in
// one, what other draws did last.
func (c *Change) Told(times float64, unit string, most int) []string {
	var lines []string
	var values []*float64
	var words []string
	rest, others := 0.0, 0
	for i, x := range c.Causes {
		by := times * x.By
		if i < most || i == most && len(c.Causes) == most+1 {
			values, words = append(values, &by), append(words, x.Cause)
			continue
		}
		rest += by
		others++
	}
	if others > 0 {
		values, words = append(values, &rest), append(words, report.Counted(others, "other change"))
	}
	if c.Draws != nil && *c.Draws != 0 {
		draws := times * *c.Draws
		values, words = append(values, &draws), append(words, "other draws")
	}
	if len(values) == 0 {
		return nil
	}
	for i, number := range amounts(values) {
		if strings.Trim(number, "0. ") == "" {
			continue // too small to tell beside the largest
		}
		if unit != "" && unit != "1" {
			number += " " + unit
		}
		lines = append(lines, number+"  "+words[i])
	}
	return lines
}

// Amount writes a part of a change with its sign, as precisely as two digits of the whole are.
func Amount(part, whole float64) string { return amounts([]*float64{&part, &whole})[0] }

// amounts write parts of one change with a sign and the same decimals, two digits of the
// largest.
func amounts(values []*float64) []string {
	largest := 0.0
	for _, v := range values {
		largest = max(largest, math.Abs(*v))
	}
	decimals := 0
	if largest > 0 {
		decimals = max(0, min(9, 1-int(math.Floor(math.Log10(largest)))))
	}
	var all []string
	for _, v := range values {
		text := fmt.Sprintf("%+.*f", decimals, *v)
		if strings.Trim(text, "+-0.") == "" {
			text = " " + text[1:]
		}
		all = append(all, text)
	}
	return all
}

func (b *text) outputs(c *Comparison) {
	told := c.Changed()
	if len(told) == 0 {
		b.WriteString("\n")
		b.Para("No output changed.", "")
		return
	}
	b.WriteString("\nWhat came out: the middle draw, and what moved it\n")
	for i, x := range told {
		if i == mostOutputs && len(told) > mostOutputs+1 {
			b.Para(fmt.Sprintf("and %d more (--json)", len(told)-mostOutputs), "  ")
			break
		}
		before, after := report.Numbers(x.Before.P05, x.Before.P50, x.Before.P95), report.Numbers(x.After.P05, x.After.P50, x.After.P95)
		unit := ""
		if x.Unit != "1" {
			unit = " " + x.Unit
		}
		b.item(fmt.Sprintf("%s: %s -> %s%s (nine in ten %s to %s, now %s to %s)", x.Name, before[1], after[1], unit, before[0], before[2], after[0], after[2]))
		for _, line := range x.Middle.Told(1, report.UnitOfDifferences(x.Unit), mostCauses-1) {
			b.Para(line, "      ")
		}
	}
}

// Changed are the outputs of which the middle or the width is another, in the units that the
// new study wants to be shown in: those that claims are made of first.
func (c *Comparison) Changed() []*Output {
	var first, rest []*Output
	for i := range c.Outputs {
		x := c.Outputs[i].shown(c.units)
		if !x.moved() {
			continue
		}
		if slices.ContainsFunc(c.Claims, func(claim Claim) bool { return claim.After.Of == x.Name }) {
			first = append(first, x)
		} else {
			rest = append(rest, x)
		}
	}
	return append(first, rest...)
}

func (x *Output) moved() bool {
	for _, by := range []*float64{x.Middle.By, x.Width.By} {
		if by != nil && math.Abs(*by) > 1e-9*max(math.Abs(*x.Middle.Before), math.Abs(*x.Middle.After)) {
			return true
		}
	}
	return false
}

// How says how causes were worked out.
func (c *Comparison) How() string {
	m := &c.Method
	switch {
	case m.Why != "":
		return "What caused it is not worked out: " + m.Why
	case m.Changes == 0:
		return "No line of the study that numbers depend on has changed."
	case m.Name == AllOrders:
		return fmt.Sprintf("Causes: the mean of what each change does over every order of making them (Shapley values), from %s combinations with the same %s draws each. They add up, before rounding.",
			report.Grouped(int64(m.Combinations)), report.Grouped(int64(m.Rows)))
	}
	return fmt.Sprintf("Causes: the mean of what each change does over %d random orders of making them, each with its reverse (Shapley values), from %s combinations with the same %s draws each. They add up, before rounding.",
		m.Orders, report.Grouped(int64(m.Combinations)), report.Grouped(int64(m.Rows)))
}
