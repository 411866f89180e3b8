package report

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// claimIndent is where the text of a claim stands, right of its name.
const claimIndent = "               "

// full writes all that there is to tell, under its headings.
func (a *Answer) full(b *page, o TextOptions) {
	a.writeHead(b)
	a.writeContradictions(b)
	a.writeChoices(b, true)
	a.writeEvidence(b)
	a.writeClaims(b)
	a.writeAccounts(b)
	a.writeSizes(b)
	a.writeReadings(b)
	a.writeRare(b)
	a.writeJoint(b)
	a.writeGains(b)
	a.writeLevers(b)
	a.writeDecides(b)
	a.writeRequires(b)
	a.writeMeasure(b)
	a.writeAssumed(b)
	a.writeWithdrawn(b)
	b.WriteString("\nWHAT TO BEWARE OF\n")
	for _, c := range a.Cautions {
		b.item(c)
	}
	b.WriteString("\n")
	b.para("All figures: "+o.Folder+" (Parquet tables, manifest, the study as read)", "")
}

func (a *Answer) writeHead(b *page) {
	b.WriteString(Printable(a.Study) + "\n")
	if a.About != "" {
		b.para(a.About, "")
	}
	line := fmt.Sprintf("%s draws (%s design, seed %d)", Grouped(a.Run.Rows), a.Run.Design, a.Run.Seed)
	if a.Run.Stopping != nil {
		line += " in " + a.Run.Stopping.told()
	}
	if a.Run.IndexRuns > 0 {
		line += fmt.Sprintf("; %s model runs for sensitivity", Grouped(a.Run.IndexRuns))
	}
	if h := a.Run.SharesKnownTo; h != nil {
		line += fmt.Sprintf("; the shares of outputs are known to +-%.1f points or better", 100**h)
	}
	if r := a.Run.Reduced; r != nil {
		line += ". " + r.Told()
	}
	if a.Run.Note != "" {
		line += ". " + strings.ToUpper(a.Run.Note[:1]) + a.Run.Note[1:]
	}
	b.para(line+".", "")
}

// writeContradictions tells what the study says against itself before any verdict.
func (a *Answer) writeContradictions(b *page) {
	if len(a.Contradictions) == 0 {
		return
	}
	b.WriteString("\nFIRST: WHAT CANNOT BE, OR CONTRADICTS ITSELF\n")
	for _, c := range a.Contradictions {
		b.item(c.Told())
	}
}

func (a *Answer) writeClaims(b *page) {
	if len(a.Claims) == 0 {
		return
	}
	b.WriteString("\nDO THE CLAIMS HOLD?\n")
	b.para(verdictsRead, "  ")
	for _, c := range a.Claims {
		name := ClaimName(c.Name)
		if len(name) > 12 {
			fmt.Fprintf(b, "  %s\n", fit(name, b.width-4))
			name = ""
		}
		told := fmt.Sprintf("%s: %s (%s)", strings.ToUpper(c.InWords()), c.Frequency, c.fullBehind())
		if odd := c.RestsOnOdd(); odd != "" {
			told += "; " + odd
		}
		fmt.Fprintf(b, "  %-12s %s", name, strings.TrimLeft(Wrap(told, claimIndent, b.width), " "))
		if c.Together() {
			continue
		}
		said := c.Text
		if c.SaidBy != "" {
			said += " (said by: " + c.SaidBy + ")"
		}
		b.para(said, claimIndent)
		if tested := c.Tested(); tested != "" {
			b.para("tested: "+tested, claimIndent)
		}
		if drawn := c.drawn(); drawn != "" {
			b.para("the draws give "+drawn, claimIndent)
		}
	}
}

// writeSizes lists quantities, and under each its vehicles and their changes.
func (a *Answer) writeSizes(b *page) {
	if len(a.Sizes) == 0 {
		return
	}
	l := b.sizeLayout()
	head := fmt.Sprintf("%-*s%9s   nine in ten draws", l.name+l.who+3, "HOW LARGE?", "middle")
	if len(head) > b.width {
		head = strings.TrimSuffix(head, " draws")
	}
	b.WriteString("\n" + head + "\n")
	order, rows := a.byQuantity()
	for _, q := range order {
		for i, s := range rows[q] {
			a.writeSize(b, q, i == 0, s)
		}
	}
}

// byQuantity sorts the sizes by quantity, in their order. A vehicle of which a quantity
// is the baseline's in every draw is named beside the baseline and not repeated.
func (a *Answer) byQuantity() (order []string, rows map[string][]Size) {
	copies := map[string]map[string]bool{} // by quantity
	for _, s := range a.Sizes {
		if q, isChange := strings.CutSuffix(s.Quantity, "_change"); isChange && s.Constant && *differs(s.Quantity, s.P50) == 0 {
			if copies[q] == nil {
				copies[q] = map[string]bool{}
			}
			copies[q][s.Vehicle] = true
		}
	}
	rows = map[string][]Size{}
	for _, s := range a.Sizes {
		if s.Silent {
			continue
		}
		q := strings.TrimSuffix(s.Quantity, "_change")
		if copies[q][s.Vehicle] {
			if level := rows[q]; len(level) > 0 && s.Quantity == q {
				level[0].Vehicle += ", " + s.Vehicle
				continue
			} else if len(level) > 0 {
				continue
			}
		}
		if rows[q] == nil {
			order = append(order, q)
		}
		rows[q] = append(rows[q], s)
	}
	return order, rows
}

// sizeLayout is how wide the columns of sizes are, beside the numbers.
type sizeLayout struct{ name, who int }

func (b *page) sizeLayout() sizeLayout {
	more := b.width - usualWidth
	return sizeLayout{21 + more/4, 24 + more/2}
}

func (a *Answer) writeSize(b *page, quantity string, first bool, s Size) {
	l := b.sizeLayout()
	name, who := "", fit(s.Vehicle, l.who)
	if first {
		name = quantity
	}
	if strings.HasSuffix(s.Quantity, "_change") {
		who = fit(s.Vehicle, l.who-7) + " change"
	}
	n := Numbers(differs(s.Quantity, s.P05), differs(s.Quantity, s.P50), differs(s.Quantity, s.P95))
	span := WithUnit(n[0]+" to "+n[2], s.shownUnit())
	switch {
	case s.P50 == nil:
		span = "all infeasible"
	case s.Constant:
		span = strings.TrimSpace(WithUnit("", s.shownUnit()) + " in every draw")
	case s.P05 == nil || s.P95 == nil:
		span = strings.TrimSpace(WithUnit("", s.shownUnit()) + " too few draws count to say")
	case n[0] == n[2]:
		span = strings.TrimSpace(WithUnit("", s.shownUnit()) + " in nine in ten draws")
	}
	line := fmt.Sprintf("  %-*s %-*s%9s   ", l.name, fit(name, l.name), l.who, who, n[1])
	if len([]rune(line+span)) > b.width { // a line of its own, at the right
		line = strings.TrimRight(line, " ") + fmt.Sprintf("\n%*s", b.width, span)
	} else {
		line += span
	}
	if s.Infeasible > 0 && s.P50 != nil {
		told := fmt.Sprintf(" (%s infeasible)", Grouped(s.Infeasible))
		if lines := strings.Split(line, "\n"); len([]rune(lines[len(lines)-1]+told)) > b.width {
			told = fmt.Sprintf("\n%*s", b.width, strings.TrimSpace(told))
		}
		line += told
	}
	b.WriteString(line + "\n")
}

// shownUnit is a size's unit; a difference of percentages is in points.
func (s Size) shownUnit() string {
	if strings.HasSuffix(s.Quantity, "_difference") {
		return UnitOfDifferences(s.Unit)
	}
	return s.Unit
}

// UnitOfDifferences is the unit of a difference or a span of values in a unit.
func UnitOfDifferences(unit string) string {
	switch unit {
	case "degC", "degF":
		return "K"
	case "%":
		return "points"
	}
	return unit
}

func (a *Answer) writeAssumed(b *page) {
	b.WriteString("\nWHAT WAS ASSUMED?\n")
	if known := a.knownCounted(); len(known) > 0 {
		b.para("How the study's uncertain inputs are known: "+strings.Join(known, ", ")+".", "  ")
	}
	if names := inputNames(a.Assumed.Guessed); names != "" {
		b.para("Guess, rule of thumb, announced or leaked: "+names+".", "  ")
	}
	writeTied(b, a.Assumed.Tied)
	writeDefaults(b, a.Assumed.Defaults)
	writeLeftOut(b, a.Assumed.LeftOut)
}

// knownCounted counts the study's uncertain inputs by how they are known, most first.
func (a *Answer) knownCounted() []string {
	var known []string
	for _, how := range slices.SortedFunc(maps.Keys(a.Assumed.HowKnown), func(x, y string) int {
		return cmp.Or(a.Assumed.HowKnown[y]-a.Assumed.HowKnown[x], strings.Compare(x, y))
	}) {
		known = append(known, fmt.Sprintf("%s %d", strings.ReplaceAll(how, "_", " "), a.Assumed.HowKnown[how]))
	}
	return known
}

func writeLeftOut(b *page, left []LeftOut) {
	for _, line := range ByReason(left) {
		b.para("Left out: "+line+".", "  ")
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
func writeDefaults(b *page, defaults []Input) {
	if len(defaults) == 0 {
		return
	}
	b.para("Not in the study, taken from the catalogue (`proofmass list --about NAME` says where each comes from):", "  ")
	var constants []string
	for _, in := range defaults {
		if in.Constant {
			constants = append(constants, in.Name+" "+in.StatedAs)
			continue
		}
		fmt.Fprintf(b, "    %-24s %s", fit(in.Name, 24), strings.TrimLeft(Wrap(in.StatedAs, strings.Repeat(" ", 29), b.width), " "))
	}
	b.para(strings.Join(constants, "; "), "    ")
}

func inputNames(inputs []Input) string {
	var names []string
	for _, in := range inputs {
		names = append(names, in.Name)
	}
	return strings.Join(names, ", ")
}
