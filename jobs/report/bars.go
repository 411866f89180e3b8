package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/result"
)

// mostInputs is how many inputs are shown for each output; the tables have all.
const mostInputs = 5

// The columns of a bar: what they add up to with their blanks is width.
const (
	nameWidth  = 27
	rangeWidth = 17
	barWidth   = 24
)

// writeDecides shows what each claim hangs on; without claims, or where sensitivity was
// asked of other outputs alone, each output.
func (a *Answer) writeDecides(b *strings.Builder) {
	if len(a.Decides) == 0 {
		return
	}
	b.WriteString("\nWHAT DECIDES IT?\n")
	b.WriteString(Wrap(a.barsRead(), "  ", width))
	blocks := 0
	for _, c := range a.Claims {
		blocks += a.writeClaimBlock(b, c)
	}
	for i := range a.Decides {
		if d := &a.Decides[i]; blocks == 0 && d.Of == result.OfOutput {
			a.writeBlock(b, d.Output, "", d)
		}
	}
	if blocks > 0 {
		b.WriteString(Wrap("What other outputs depend on, every input, every pair and every interval: indices.parquet, tornado.parquet, curves.parquet.", "  ", width))
	}
}

// barsRead says how to read the bars of this answer.
func (a *Answer) barsRead() string {
	bars := "From o to *: the output with the input alone at its low end, then at its high end (5 and 95 %), whose values stand before it."
	switch a.rankedBy() {
	case result.TotalOrder:
		return "Share: how much of the output's spread is due to the input, with all it does together with others; what acts together counts in each, so that shares may add up to more than 100 %. " + bars
	case result.ShapleyEffect:
		return "Share: the input's part of the output's spread, fairly shared among inputs that are tied (Shapley effect); shares add up to 100 %. " + bars
	case result.FirstOrder, result.WithCompanions:
		return "Share: how much of the output's spread goes when the input is known. " + bars
	}
	return "The input that moves the output most comes first. " + bars
}

func (a *Answer) rankedBy() result.Order {
	for _, d := range a.Decides {
		for _, in := range d.Inputs {
			if in.Order != "" {
				return in.Order
			}
		}
	}
	return ""
}

// writeClaimBlock shows the announced quantity where there is one, else how far
// inside the claim draws lie; what has neither gets words alone. It returns the number
// of blocks written.
func (a *Answer) writeClaimBlock(b *strings.Builder, c Claim) int {
	words := strings.TrimSpace(c.HangsOn + " " + c.told())
	i := slices.IndexFunc(a.Decides, func(d Decides) bool { return d.Of == result.OfOutput && slices.Contains(d.Claims, c.Name) })
	if i < 0 {
		i = slices.IndexFunc(a.Decides, func(d Decides) bool { return d.Of == result.OfMargin && d.Output == c.Name })
	}
	switch {
	case i >= 0 && a.Decides[i].Of == result.OfOutput:
		a.writeBlock(b, c.Name+": "+a.Decides[i].Output, words, &a.Decides[i])
		return 1
	case i >= 0:
		a.writeBlock(b, c.Name+": how far inside", words, &a.Decides[i])
		return 1
	case words != "":
		b.WriteString("\n" + Wrap(words, "  ", width))
	}
	return 0
}

func (a *Answer) writeBlock(b *strings.Builder, title, words string, d *Decides) {
	fmt.Fprintf(b, "\n  %s\n", fit(title, width-2))
	if words != "" {
		b.WriteString(Wrap(words, "  ", width))
	}
	inputs := slices.DeleteFunc(slices.Clone(d.Inputs), func(s Share) bool { return s.Share != nil && *s.Share < 0.005 }) // would be shown as 0 %
	inputs = inputs[:min(mostInputs, len(inputs))]
	low, high := ends(d.Output, inputs)
	if high > low {
		n := numbers(&low, &high)
		left := max(0, barWidth-len([]rune(withUnit(n[1], d.Unit)))-1)
		fmt.Fprintf(b, "  %-*s%-*s %s\n", width-2-barWidth, "share of the spread", left, fit(n[0], max(2, left)), withUnit(n[1], d.Unit))
	}
	for _, s := range inputs {
		writeBar(b, d.Output, s, low, high)
	}
	a.writeNotes(b, d, inputs)
}

// ends are those of the scale that all bars of a block share.
func ends(output string, inputs []Share) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range inputs {
		for _, v := range []*float64{differs(output, s.AtLow), differs(output, s.AtHigh)} {
			if v != nil {
				low, high = min(low, *v), max(high, *v)
			}
		}
	}
	return low, high
}

func writeBar(b *strings.Builder, output string, s Share, low, high float64) {
	share := "    "
	if s.Share != nil {
		share = fmt.Sprintf("%3.0f%%", 100**s.Share)
	}
	if s.Turns {
		share += "~"
	}
	ends := ""
	if s.InLow != nil && s.InHigh != nil {
		in := numbers(s.InLow, s.InHigh)
		ends = withUnit(in[0]+" to "+in[1], s.Unit)
	}
	name := max(12, nameWidth-max(0, len([]rune(ends))-rangeWidth)) // a long range takes from the name
	line := fmt.Sprintf("  %-5s %-*s %*s  %s", share, name, fitName(s.Input, name), rangeWidth, fit(ends, nameWidth+rangeWidth-name), bar(output, s, low, high))
	b.WriteString(strings.TrimRight(line, " ") + "\n")
}

// bar draws the two ends on the scale, joined by a line. A low and a high end that
// fall together, or one that cannot be had, are one sign.
func bar(output string, s Share, low, high float64) string {
	if s.AtLow == nil && s.AtHigh == nil || !(high > low) {
		return ""
	}
	at := func(v *float64) int {
		if v = differs(output, v); v == nil {
			return -1
		}
		return int(math.Round((*v - low) / (high - low) * (barWidth - 1)))
	}
	cells := []rune(strings.Repeat(" ", barWidth))
	from, to := at(s.AtLow), at(s.AtHigh)
	if from >= 0 && to >= 0 {
		for k := min(from, to); k <= max(from, to); k++ {
			cells[k] = '-'
		}
	}
	if from >= 0 {
		cells[from] = 'o'
	}
	if to >= 0 {
		cells[to] = '*'
	}
	return string(cells)
}

// writeNotes says what bars alone would hide.
func (a *Answer) writeNotes(b *strings.Builder, d *Decides, shown []Share) {
	var notes []string
	if slices.ContainsFunc(shown, func(s Share) bool { return s.Turns }) {
		notes = append(notes, "~: goes up and down over the input's range, so that its ends do not tell all.")
	}
	means, alone := false, true
	for _, s := range shown {
		means = means || s.Form == result.Conditional
		alone = alone && s.Form == result.OneAtATime && s.AtLow != nil && s.AtHigh != nil
	}
	switch {
	case means && len(a.Assumed.Tied) > 0 && d.Of == result.OfOutput:
		notes = append(notes, "Bars of tied inputs: the mean of the draws in the input's lowest and highest twentieth.")
	case means:
		notes = append(notes, "These bars: the mean of the draws in the input's lowest and highest twentieth.")
	case alone && d.Swings != nil && d.Spread != nil && *d.Swings > *d.Spread:
		notes = append(notes, fmt.Sprintf("Were all inputs at their ends at once, the bars would add up to %s; nine in ten draws span %s.", withUnit(short(*d.Swings), d.Unit), withUnit(short(*d.Spread), d.Unit)))
	}
	if pairs := strongest(d.Pairs); pairs != "" {
		notes = append(notes, "Acting together: "+pairs+".")
	}
	if groups := listed(d.Groups); groups != "" {
		notes = append(notes, "By groups of inputs: "+groups+".")
	}
	if len(notes) > 0 {
		b.WriteString(Wrap(strings.Join(notes, " "), "  ", width))
	}
}

// strongest lists the pairs that surely have at least one per cent.
func strongest(pairs []PairShare) string {
	var words []string
	for _, p := range pairs {
		if p.Share != nil && p.Low != nil && *p.Low > 0 && *p.Share >= 0.01 && len(words) < mostInputs {
			words = append(words, fmt.Sprintf("%s and %s, %.0f %% beyond what each does alone", p.Input, p.Other, 100**p.Share))
		}
	}
	return strings.Join(words, "; ")
}

// Groups that the program makes: words of the tables.
const sharedGroup, othersGroup = "shared", "others"

// listed names the groups that have a share to be seen.
func listed(groups []Share) string {
	var words []string
	for _, g := range groups {
		if g.Share == nil || *g.Share < 0.005 || len(words) == 2*mostInputs {
			continue
		}
		name := g.Input
		switch name {
		case sharedGroup:
			name = "what vehicles share"
		case othersGroup:
			name = "what screening set aside"
		}
		words = append(words, fmt.Sprintf("%s %.0f %%", name, 100**g.Share))
	}
	return strings.Join(words, ", ")
}
