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

// barLayout is how wide the columns of a bar are: the name of the input, its range, the
// bar itself.
type barLayout struct{ name, span, bar int }

func (b *page) barLayout() barLayout {
	more := b.width - usualWidth
	return barLayout{27 + more - more/2, 17, 24 + more/2}
}

// writeDecides shows what each claim hangs on; without claims, or where sensitivity was
// asked of other outputs alone, each output.
func (a *Answer) writeDecides(b *page) {
	if len(a.Decides) == 0 {
		return
	}
	b.WriteString("\nWHAT DECIDES IT?\n")
	b.para(a.barsRead(), "  ")
	blocks := 0
	for _, c := range a.Claims {
		blocks += a.writeClaimBlock(b, c)
	}
	for i := range a.Decides {
		if d := &a.Decides[i]; blocks == 0 && d.Of == result.OfOutput {
			a.writeBlock(b, d.Output, "", d, shareOf[""])
		}
	}
	if blocks > 0 {
		b.para("What other outputs depend on, every input, every pair and every interval: indices.parquet, tornado.parquet, curves.parquet.", "  ")
	}
}

// barsRead says how to read the bars of this answer.
func (a *Answer) barsRead() string {
	bars := "From o to *: the output with the input alone at its low end, then at its high end (5 and 95 %), whose values stand before it."
	switch a.rankedBy() {
	case result.TotalOrder:
		return "Share: how much of the spread of what is decided is due to the input, with all it does together with others; what acts together counts in each, so that shares may add up to more than 100 %. " + bars
	case result.ShapleyEffect:
		return "Share: the input's part of the spread of what is decided, fairly shared among inputs that are tied (Shapley effect); shares add up to 100 %. " + bars
	case result.FirstOrder, result.WithCompanions:
		return "Share: how much of the spread of what is decided goes when the input is known. " + bars
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
func (a *Answer) writeClaimBlock(b *page, c Claim) int {
	words := strings.TrimSpace(c.HangsOn + " " + c.told())
	d := a.block(c)
	switch {
	case d != nil && d.Of == result.OfOutput:
		a.writeBlock(b, c.Name+": "+d.Output, words, d, shareOf[c.DecidedOf])
		return 1
	case d != nil:
		a.writeBlock(b, c.Name+": how far inside", words, d, shareOf[c.DecidedOf])
		return 1
	case words != "":
		b.WriteString("\n")
		b.para(words, "  ")
	}
	return 0
}

// shareOf heads the shares of a block.
var shareOf = map[result.Of]string{"": "share of the spread", result.OfHolds: "share of whether it holds", result.OfMargin: "share of the margin"}

// block is what is shown of a claim: the bars of what was announced, else of how far
// inside the claim draws lie, with the shares that the words on it give.
func (a *Answer) block(c Claim) *Decides {
	i := slices.IndexFunc(a.Decides, func(d Decides) bool { return d.Of == result.OfOutput && slices.Contains(d.Claims, c.Name) })
	if i < 0 {
		i = slices.IndexFunc(a.Decides, func(d Decides) bool { return d.Of == result.OfMargin && d.Output == c.Name })
	}
	if i < 0 {
		return nil
	}
	d := a.Decides[i]
	if by := a.decider(c); by != nil {
		d.Inputs, d.Groups, d.Pairs = withBars(by.Inputs, d.Inputs), by.Groups, by.Pairs
	}
	return &d
}

// withBars are shares with the bars that others have.
func withBars(inputs, bars []Share) []Share {
	all := slices.Clone(inputs)
	for i := range all {
		if k := slices.IndexFunc(bars, func(s Share) bool { return s.Input == all[i].Input }); k >= 0 {
			share := all[i]
			all[i] = bars[k]
			all[i].Order, all[i].Share, all[i].Low, all[i].High, all[i].First = share.Order, share.Share, share.Low, share.High, share.First
		}
	}
	return all
}

func (a *Answer) writeBlock(b *page, title, words string, d *Decides, head string) {
	l := b.barLayout()
	fmt.Fprintf(b, "\n  %s\n", fit(title, b.width-2))
	if words != "" {
		b.para(words, "  ")
	}
	inputs := slices.DeleteFunc(slices.Clone(d.Inputs), func(s Share) bool { return s.Share != nil && *s.Share < 0.005 }) // would be shown as 0 %
	inputs = inputs[:min(mostInputs, len(inputs))]
	low, high := ends(d.Output, inputs)
	if high > low {
		n := Numbers(&low, &high)
		left := max(0, l.bar-len([]rune(WithUnit(n[1], d.Unit)))-1)
		fmt.Fprintf(b, "  %-*s%-*s %s\n", b.width-2-l.bar, head, left, fit(n[0], max(2, left)), WithUnit(n[1], d.Unit))
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

func writeBar(b *page, output string, s Share, low, high float64) {
	l := b.barLayout()
	share := "    "
	if s.Share != nil {
		share = fmt.Sprintf("%3.0f%%", 100**s.Share)
	}
	if s.Turns {
		share += "~"
	}
	ends := ""
	if s.InLow != nil && s.InHigh != nil {
		in := Numbers(s.InLow, s.InHigh)
		ends = WithUnit(in[0]+" to "+in[1], s.Unit)
	}
	name := max(12, l.name-max(0, len([]rune(ends))-l.span)) // a long range takes from the name
	line := fmt.Sprintf("  %-5s %-*s %*s  %s", share, name, fitName(s.Input, name), l.span, fit(ends, l.name+l.span-name), bar(output, s, low, high, l.bar))
	b.WriteString(strings.TrimRight(line, " ") + "\n")
}

// bar draws the two ends on the scale, joined by a line. A low and a high end that
// fall together, or one that cannot be had, are one sign.
func bar(output string, s Share, low, high float64, width int) string {
	if s.AtLow == nil && s.AtHigh == nil || !(high > low) {
		return ""
	}
	at := func(v *float64) int {
		if v = differs(output, v); v == nil {
			return -1
		}
		return int(math.Round((*v - low) / (high - low) * float64(width-1)))
	}
	cells := []rune(strings.Repeat(" ", width))
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
func (a *Answer) writeNotes(b *page, d *Decides, shown []Share) {
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
		notes = append(notes, fmt.Sprintf("Were all inputs at their ends at once, the bars would add up to %s; nine in ten draws span %s.", WithUnit(Short(*d.Swings), UnitOfDifferences(d.Unit)), WithUnit(Short(*d.Spread), UnitOfDifferences(d.Unit))))
	}
	if pairs := strongest(d.Pairs); pairs != "" {
		notes = append(notes, "Acting together: "+pairs+".")
	}
	if groups := sharesOf(d.Groups); groups != "" {
		notes = append(notes, "By groups of inputs: "+groups+".")
	}
	if len(notes) > 0 {
		b.para(strings.Join(notes, " "), "  ")
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

// sharesOf names the groups that have a share to be seen.
func sharesOf(groups []Share) string {
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
