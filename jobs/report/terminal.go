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
	}
	if h := a.Run.SharesKnownTo; h != nil {
		line += fmt.Sprintf("; the shares of outputs below are known to +-%.1f %% or better", 100**h)
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
			n := numbers(differs(c.Of, s.P05), differs(c.Of, s.P50), differs(c.Of, s.P95))
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
	name, who := "", fit(s.Vehicle, 24)
	if first {
		name = quantity
	}
	if strings.HasSuffix(s.Quantity, "_change") {
		who = fit(s.Vehicle, 17) + " change"
	}
	n := numbers(differs(s.Quantity, s.P05), differs(s.Quantity, s.P50), differs(s.Quantity, s.P95))
	span := withUnit(n[0]+" to "+n[2], s.Unit)
	switch {
	case s.P50 == nil:
		span = "all infeasible"
	case n[0] == n[2]:
		span = withUnit(n[1], s.Unit) + " in every draw"
	}
	line := fmt.Sprintf("  %-21s %-24s%9s   ", fit(name, 21), who, n[1])
	if len([]rune(line+span)) > width { // a line of its own, at the right
		line = strings.TrimRight(line, " ") + fmt.Sprintf("\n%*s", width, span)
	} else {
		line += span
	}
	if s.Infeasible > 0 && s.P50 != nil {
		told := fmt.Sprintf(" (%s infeasible)", Grouped(s.Infeasible))
		if lines := strings.Split(line, "\n"); len([]rune(lines[len(lines)-1]+told)) > width {
			told = "\n" + strings.Repeat(" ", 59) + strings.TrimSpace(told)
		}
		line += told
	}
	b.WriteString(line + "\n")
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
