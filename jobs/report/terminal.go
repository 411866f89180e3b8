package report

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// width is that of the narrowest terminal in common use.
const width = 80

// mostInputs is how many inputs are shown for each output; the tables have all.
const mostInputs = 5

// claimIndent is where the text of a claim stands, right of its name.
const claimIndent = "               "

// Text writes the answer for a terminal of 80 columns.
func (a *Answer) Text(out io.Writer, folder string) error {
	var b strings.Builder
	a.writeHead(&b)
	a.writeClaims(&b)
	a.writeSizes(&b)
	a.writeDecides(&b)
	a.writeAssumed(&b)
	b.WriteString("\nWHAT TO BEWARE OF\n")
	for _, c := range a.Cautions {
		b.WriteString("  - " + strings.TrimLeft(Wrap(c, "    ", width), " "))
	}
	fmt.Fprintf(&b, "\nAll figures: %s (Parquet tables, manifest, the study as read)\n", Printable(folder))
	_, err := io.WriteString(out, b.String())
	return err
}

func (a *Answer) writeHead(b *strings.Builder) {
	b.WriteString(Printable(a.Study) + "\n")
	if a.About != "" {
		b.WriteString(Wrap(a.About, "", width))
	}
	line := fmt.Sprintf("%s draws (%s design, seed %d)", Grouped(a.Run.Rows), a.Run.Design, a.Run.Seed)
	if a.Run.Growth != nil {
		line += " in " + a.Run.Growth.told()
	}
	if a.Run.IndexRuns > 0 {
		line += fmt.Sprintf("; %s model runs for sensitivity", Grouped(a.Run.IndexRuns))
		if h := a.Run.HalfWidthReached; h != nil {
			line += fmt.Sprintf(", known to +-%.3f", *h)
		}
	}
	if a.Run.Note != "" {
		line += ". " + strings.ToUpper(a.Run.Note[:1]) + a.Run.Note[1:]
	}
	b.WriteString(Wrap(line+".", "", width))
}

func (a *Answer) writeClaims(b *strings.Builder) {
	if len(a.Claims) == 0 {
		return
	}
	b.WriteString("\nDO THE CLAIMS HOLD?\n")
	b.WriteString(Wrap("Stands: in at least 19 of 20 draws. Falls: in at most 1 of 20. In brackets: the chance, and the interval in which it is known.", "  ", width))
	for _, c := range a.Claims {
		name := c.Name
		if c.Name == "all_claims" {
			name = "all together"
		}
		if len(name) > 12 {
			fmt.Fprintf(b, "  %s\n", fit(name, 76))
			name = ""
		}
		told := fmt.Sprintf("%s: %s (%s)", strings.ToUpper(c.Verdict), c.Frequency, percent(c))
		fmt.Fprintf(b, "  %-12s %s", name, strings.TrimLeft(Wrap(told, claimIndent, width), " "))
		if c.Name == "all_claims" {
			continue
		}
		said := c.Text
		if c.SaidBy != "" {
			said += " (said by: " + c.SaidBy + ")"
		}
		b.WriteString(Wrap(said, claimIndent, width))
		if s := c.Seen; s != nil && s.P50 != nil {
			n := numbers(s.P05, s.P50, s.P95)
			b.WriteString(Wrap(fmt.Sprintf("the draws give %s, nine in ten of them %s to %s", withUnit(n[1], s.Unit), n[0], n[2]), claimIndent, width))
		}
	}
}

// writeSizes lists quantities, and under each its vehicles and their changes.
func (a *Answer) writeSizes(b *strings.Builder) {
	if len(a.Sizes) == 0 {
		return
	}
	fmt.Fprintf(b, "\nHOW LARGE?  %-36s%9s   %s\n", "", "middle", "nine in ten draws")
	var order []string
	rows := map[string][]Size{}
	for _, s := range a.Sizes {
		if silent(s.Quantity) {
			continue
		}
		q := strings.TrimSuffix(s.Quantity, "_change")
		if rows[q] == nil {
			order = append(order, q)
		}
		rows[q] = append(rows[q], s)
	}
	for _, q := range order {
		for i, s := range rows[q] {
			a.writeSize(b, q, i == 0, s)
		}
	}
}

func (a *Answer) writeSize(b *strings.Builder, quantity string, first bool, s Size) {
	name, who := "", s.Vehicle
	if first {
		name = quantity
	}
	if strings.HasSuffix(s.Quantity, "_change") {
		who += " change"
	}
	n := numbers(s.P05, s.P50, s.P95)
	span := withUnit(n[0]+" to "+n[2], s.Unit)
	if n[0] == n[2] && s.P50 != nil {
		span = withUnit(n[1], s.Unit) + " in every draw"
	}
	fmt.Fprintf(b, "  %-21s %-24s%9s   %s", fit(name, 21), fit(who, 24), n[1], span)
	if s.Infeasible > 0 {
		fmt.Fprintf(b, " (%s infeasible)", Grouped(s.Infeasible))
	}
	b.WriteString("\n")
}

// writeDecides shows what each claim hangs on; without claims, each output.
func (a *Answer) writeDecides(b *strings.Builder) {
	if len(a.Decides) == 0 {
		return
	}
	b.WriteString("\nWHAT DECIDES IT?\n")
	ends := "the input's low and high end (5 and 95 %), and what moving it alone makes of the output."
	if a.Run.IndexRuns > 0 {
		ends = "Share: how much of the spread is due to the input, with all it does together with others. Then " + ends
	} else {
		ends = "The input that moves the output most comes first: " + ends
	}
	b.WriteString(Wrap(ends, "  ", width))
	claimed := slices.ContainsFunc(a.Decides, func(d Decides) bool { return d.Claim != "" })
	for _, d := range a.Decides {
		if claimed && d.Claim == "" {
			continue
		}
		title := d.Output
		if d.Claim != "" {
			title = d.Claim + ": " + d.Output
		}
		fmt.Fprintf(b, "  %s\n", fit(title, 76))
		writeShares(b, d.Inputs[:min(mostInputs, len(d.Inputs))])
	}
}

func writeShares(b *strings.Builder, shares []Share) {
	at := make([][2]*float64, len(shares))
	for i, s := range shares {
		at[i] = [2]*float64{s.AtLow, s.AtHigh}
	}
	text := alike(at)
	for i, s := range shares {
		if s.Total == nil || *s.Total >= 0.005 { // less would be shown as 0 %
			writeShare(b, s, text[i])
		}
	}
}

func writeShare(b *strings.Builder, s Share, at [2]string) {
	share := "    "
	if s.Total != nil {
		share = fmt.Sprintf("%3.0f%%", 100**s.Total)
	}
	in := numbers(s.InLow, s.InHigh)
	fmt.Fprintf(b, "    %s  %-28s %20s   %s\n", share, fit(s.Input, 28), withUnit(in[0]+" to "+in[1], s.Unit), withUnit(at[0]+" to "+at[1], s.OutUnit))
}

func (a *Answer) writeAssumed(b *strings.Builder) {
	b.WriteString("\nWHAT WAS ASSUMED?\n")
	var known []string
	for _, how := range slices.SortedFunc(maps.Keys(a.Assumed.HowKnown), func(x, y string) int {
		return a.Assumed.HowKnown[y]*1000 - a.Assumed.HowKnown[x]*1000 + strings.Compare(x, y)
	}) {
		known = append(known, fmt.Sprintf("%s %d", strings.ReplaceAll(how, "_", " "), a.Assumed.HowKnown[how]))
	}
	if len(known) > 0 {
		b.WriteString(Wrap("How the study's uncertain inputs are known: "+strings.Join(known, ", ")+".", "  ", width))
	}
	if names := inputNames(a.Assumed.Guessed); names != "" {
		b.WriteString(Wrap("Guess, rule of thumb, announced or leaked: "+names+".", "  ", width))
	}
	writeTied(b, a.Assumed.Tied)
	writeDefaults(b, a.Assumed.Defaults)
	writeLeftOut(b, a.Assumed.LeftOut)
}

func writeLeftOut(b *strings.Builder, left []LeftOut) {
	for _, line := range ByReason(left) {
		b.WriteString(Wrap("Left out: "+line+".", "  ", width))
	}
}

// ByReason lists what is left out, each reason once.
func ByReason(left []LeftOut) []string {
	names := map[string][]string{}
	for _, l := range left {
		names[l.Why] = append(names[l.Why], l.Output)
	}
	var lines []string
	for _, l := range left {
		if all := names[l.Why]; all[0] == l.Output {
			lines = append(lines, strings.Join(all, ", ")+" ("+l.Why+")")
		}
	}
	return lines
}

// writeDefaults names every default: what is uncertain a line each, constants in
// one paragraph.
func writeDefaults(b *strings.Builder, defaults []Input) {
	if len(defaults) == 0 {
		return
	}
	b.WriteString(Wrap("Not in the study, taken from the catalogue (`proofmass list --about NAME` says where each comes from):", "  ", width))
	var constants []string
	for _, in := range defaults {
		if in.Constant {
			constants = append(constants, in.Name+" "+in.StatedAs)
			continue
		}
		fmt.Fprintf(b, "    %-24s %s", fit(in.Name, 24), strings.TrimLeft(Wrap(in.StatedAs, strings.Repeat(" ", 29), width), " "))
	}
	b.WriteString(Wrap(strings.Join(constants, "; "), "    ", width))
}

func inputNames(inputs []Input) string {
	var names []string
	for _, in := range inputs {
		names = append(names, in.Name)
	}
	return strings.Join(names, ", ")
}
