package report

import (
	"fmt"
	"math"
	"strings"
)

// How many choices the short and the full answer list.
const fewChoices, moreChoices = 8, 40

// writeChoices tells what came of the designer's choices: the best, then the front or the
// first of them, of which full shows more.
func (a *Answer) writeChoices(b *page, full bool) {
	c := a.Choices
	if c == nil {
		return
	}
	b.WriteString("\n")
	b.under("", c.Counted())
	if text := c.BestTold(); text != "" {
		b.under("", text)
	}
	most := fewChoices
	if full {
		most = moreChoices
	}
	switch {
	case len(c.Asked.Front) > 0:
		b.under("", c.FrontTold())
		b.choiceTable(c.Front, c.Asked.Front, c.FrontYes+c.FrontMaybe, most, func(x *Choice) string { return mark(x.Front) })
	case c.Asked.Best != nil && len(c.Best) > 1:
		b.choiceTable(c.Best, []ChoiceAim{*c.Asked.Best}, c.BestCount, most, func(x *Choice) string { return mark(x.Best) })
	case len(c.Some) > 0:
		b.choiceTable(c.Some, c.shown(), c.Count, most, func(*Choice) string { return "" })
	}
	if c.Told > 0 {
		b.under("", fmt.Sprintf("What follows is of choice %d.", c.Told))
	}
}

func mark(word string) string {
	if word == "maybe" {
		return "?"
	}
	return ""
}

// shown are the first figures of the table, where none is asked for.
func (c *Choices) shown() []ChoiceAim {
	var aims []ChoiceAim
	for _, f := range c.Some[0].Figures {
		if len(aims) < 2 {
			aims = append(aims, ChoiceAim{Column: f.Column, Of: f.Column})
		}
	}
	return aims
}

// Counted says how many choices there were, and what dropping them early has saved.
func (c *Choices) Counted() string {
	text := fmt.Sprintf("%s choices of %s", Grouped(int64(c.Count)), strings.Join(c.Asked.Names, ", "))
	if c.Count == 1 {
		text = "One choice of " + strings.Join(c.Asked.Names, ", ")
	}
	text += fmt.Sprintf(", %s draws each, the same for all.", Grouped(int64(c.Asked.Rows)))
	if !c.Asked.Drops {
		return text
	}
	if c.Dropped > 0 {
		were := "were"
		if c.Dropped == 1 {
			were = "was"
		}
		text += fmt.Sprintf(" %s %s dropped early, being surely off, which saved %s of %s draws (%.0f %%).",
			Grouped(int64(c.Dropped)), were, Grouped(c.Saved), Grouped(c.Saved+c.Rows), 100*float64(c.Saved)/float64(c.Saved+c.Rows))
	} else {
		text += " None could be dropped early."
	}
	for _, f := range c.Asked.Undecided {
		text += fmt.Sprintf(" By %s nothing is told for sure: that takes more rows.", f)
	}
	return text
}

// risk is the chance that dropping has lost what was looked for, in words.
func (c *Choices) risk() string {
	return fmt.Sprintf("at most 1 in %.0f", 1/c.Asked.Lost)
}

// Told is what an aim compares, in words.
func (a ChoiceAim) Told() string {
	text := a.Of
	switch a.At {
	case "chance":
		text = "chance of " + a.Of
	case "mean":
		text = "mean of " + a.Of
	case "":
	default:
		text = a.At + " of " + a.Of
	}
	return text
}

// way is the word for which side of an aim is wanted.
func (a ChoiceAim) way() string {
	if a.Lower {
		return "lowest"
	}
	return "highest"
}

// BestTold is a sentence on the best choice, "" where it is not asked for.
func (c *Choices) BestTold() string {
	if c.Asked.Best == nil {
		return ""
	}
	aim := *c.Asked.Best
	subject := ""
	if len(c.Asked.Demands) > 0 {
		subject = ", subject to " + strings.Join(c.Asked.Demands, " and ")
	}
	if c.BestCount == 0 {
		return fmt.Sprintf("No choice is left for the best by the %s %s%s: all %s are surely unfit, or have no draw that counts.", aim.way(), aim.Told(), subject, Grouped(int64(c.Count)))
	}
	first := &c.Best[0]
	text := fmt.Sprintf("Best by the %s %s%s: choice %d (%s), %s.", aim.way(), aim.Told(), subject, first.Number, first.Chosen, first.Figure(aim.Column).told())
	switch {
	case first.Best == "yes":
		text += fmt.Sprintf(" It is surely so (the chance that the best was lost is %s).", c.risk())
	case c.BestCount == 1:
		text += " All others are surely worse or unfit; whether it keeps to every demand is not sure."
	default:
		if c.BestEqual > 0 {
			text += fmt.Sprintf(" The very same figure is that of %s, which no number of rows tells from it.", Numbered(c.BestEqual, "other choice", "other choices"))
		}
		if open := c.BestCount - 1 - c.BestEqual; open > 0 {
			text += fmt.Sprintf(" %s more cannot be told from it by sampling alone: more rows tell.", Grouped(int64(open)))
		}
	}
	return text
}

// FrontTold is a sentence on the front.
func (c *Choices) FrontTold() string {
	var aims []string
	for _, a := range c.Asked.Front {
		aims = append(aims, a.way()+" "+a.Told())
	}
	on := Grouped(int64(c.FrontYes)) + " surely on it"
	switch {
	case c.FrontYes == 0 && c.FrontMaybe > 0:
		on = "none is surely on it"
		fallthrough
	case c.FrontMaybe > 0:
		on += fmt.Sprintf(", %s perhaps (?: on it by sampling noise alone, as far as is known)", Grouped(int64(c.FrontMaybe)))
	}
	text := fmt.Sprintf("Front of %s: %s", strings.Join(aims, ", "), on)
	return text + fmt.Sprintf("; any one of it was lost with a chance of %s.", c.risk())
}

// told is a figure with its interval.
func (f ChoiceFigure) told() string {
	n := Numbers(f.Low, f.Value, f.High)
	unit := f.Unit
	if f.Value == nil {
		return "not known"
	}
	if f.Low == nil || f.High == nil {
		return WithUnit(Numbers(f.Value)[0], unit)
	}
	return WithUnit(n[1]+" ["+n[0]+" to "+n[2]+"]", unit)
}

// choiceTable lists choices with the figures of the aims, and a bar of the first.
func (b *page) choiceTable(all []Choice, aims []ChoiceAim, count, most int, mark func(*Choice) string) {
	if len(all) == 0 {
		return
	}
	shown := all[:min(most, len(all))]
	columns := make([][]string, len(aims))
	widths := make([]int, len(aims))
	for k, aim := range aims {
		var values []*float64
		for i := range shown {
			values = append(values, shown[i].Figure(aim.Column).Value)
		}
		columns[k] = Numbers(values...)
		head := aim.Head(shown[0].Figure(aim.Column).Unit)
		widths[k] = min(20, len(head))
		for _, text := range columns[k] {
			widths[k] = max(widths[k], len(text))
		}
	}
	const bar = 12
	taken := 2 + 6 + bar + 2
	for _, w := range widths {
		taken += w + 2
	}
	name := max(12, b.width-taken)
	b.under("  set: ", setNames(shown[0].Chosen))
	line := fmt.Sprintf("  %5s ", "")
	for k, aim := range aims {
		line += fmt.Sprintf("%*s  ", widths[k], fit(aim.Head(shown[0].Figure(aim.Column).Unit), widths[k]))
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	low, high := math.Inf(1), math.Inf(-1)
	for i := range shown {
		if v := shown[i].Figure(aims[0].Column).Value; v != nil {
			low, high = min(low, *v), max(high, *v)
		}
	}
	for i := range shown {
		line := fmt.Sprintf("  %4d%1s ", shown[i].Number, mark(&shown[i]))
		for k := range aims {
			line += fmt.Sprintf("%*s  ", widths[k], columns[k][i])
		}
		drawn := strings.Repeat(" ", bar)
		if v := shown[i].Figure(aims[0].Column).Value; v != nil && high > low {
			n := int(math.Round(float64(bar-1) * (*v - low) / (high - low)))
			drawn = strings.Repeat("-", n) + "*" + strings.Repeat(" ", bar-1-n)
		}
		b.WriteString(strings.TrimRight(line+drawn+"  "+fit(Printable(setValues(shown[i].Chosen)), name), " ") + "\n")
	}
	if left := count - len(shown); left > 0 {
		b.under("", fmt.Sprintf("  %s more: choices.parquet.", Grouped(int64(left))))
	}
}

// Head is the aim's head of a column.
func (a ChoiceAim) Head(unit string) string {
	name := a.Of[strings.LastIndexByte(a.Of, '.')+1:]
	if a.At != "" {
		name = a.At + " " + name
	}
	if unit != "" && unit != "1" {
		name += " " + unit
	}
	return name
}

// setNames and setValues tell what a choice sets, and to what, without the vehicles.
func setNames(chosen string) string {
	parts := strings.Split(chosen, ", ")
	for i, p := range parts {
		name, _, _ := strings.Cut(p, " ")
		parts[i] = name[strings.LastIndexByte(name, '.')+1:]
	}
	return strings.Join(parts, ", ")
}

func setValues(chosen string) string {
	parts := strings.Split(chosen, ", ")
	for i, p := range parts {
		_, parts[i], _ = strings.Cut(p, " ")
	}
	return strings.Join(parts, ", ")
}
