package report

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/result"
)

// labelColumn is where the text behind a label stands.
const labelColumn = 12

// How much the short answer shows at most: what contradicts itself,
// quantities, inputs that decide a claim.
const mostContradictions, mostQuantities, mostDeciders = 3, 5, 2

// short writes the answer in some forty lines: what contradicts itself, the verdicts with
// what they are about, the few quantities that claims speak of, what was assumed, counted,
// and the caution that matters most.
func (a *Answer) short(b *page, o TextOptions) {
	a.shortHead(b)
	a.shortContradictions(b)
	for _, c := range a.Claims {
		if c.Name != allClaims {
			b.WriteString("\n")
			a.shortClaim(b, c)
		}
	}
	left := a.shortSizes(b)
	b.WriteString("\n")
	a.shortDecides(b)
	a.shortAssumed(b)
	a.shortBeware(b)
	all := fmt.Sprintf("proofmass show %s --full", quoted(o.Folder))
	if left > 0 {
		all += fmt.Sprintf(" (%d quantities more)", left)
	}
	b.under("All of it: ", all+".")
}

// quoted is a folder's name as a shell takes it.
func quoted(folder string) string {
	folder = Printable(folder)
	if strings.ContainsAny(folder, " '\"\\$`*?&|;<>()[]{}!#~") {
		return "'" + strings.ReplaceAll(folder, "'", `'\''`) + "'"
	}
	return folder
}

// under adds a paragraph behind a head, its further lines two columns in.
func (b *page) under(head, text string) {
	b.WriteString(strings.TrimPrefix(Wrap(head+text, "  ", b.width), "  "))
}

func (a *Answer) shortHead(b *page) {
	b.under("", a.Study+": "+a.verdictsCounted())
	line := fmt.Sprintf("%s draws, seed %d", Grouped(a.Run.Rows), a.Run.Seed)
	if a.Run.Growth != nil {
		line += ", " + a.Run.Growth.told()
	}
	if i := slices.IndexFunc(a.Claims, func(c Claim) bool { return c.Name == allClaims }); i >= 0 {
		line += "; all claims together: " + a.Claims[i].Frequency
	}
	b.under("", line+".")
	if len(a.Claims) > 0 {
		b.under("", "Stands from 19 in 20 draws, falls to 1 in 20; brackets: sampling error alone.")
	}
}

// verdictsCounted is a sentence: "of three claims one stands, one is in doubt, one falls."
func (a *Answer) verdictsCounted() string {
	count := map[result.Verdict]int{}
	claims := 0
	for _, c := range a.Claims {
		if c.Name != allClaims {
			claims++
			count[c.Verdict]++
		}
	}
	var parts []string
	for _, v := range []struct {
		word      result.Verdict
		one, many string
	}{
		{result.Stands, "stands", "stand"}, {result.InDoubt, "is in doubt", "are in doubt"}, {result.Falls, "falls", "fall"},
		{result.TooFew, "has too few draws to say", "have too few draws to say"}, {result.NotJudged, "can't be judged", "can't be judged"},
	} {
		switch n := count[v.word]; {
		case n == 1:
			parts = append(parts, "one "+v.one)
		case n > 1:
			parts = append(parts, inWords(n)+" "+v.many)
		}
	}
	switch {
	case claims == 0:
		return "nothing is claimed; this is how large things are."
	case len(parts) == 0: // of an answer that nobody read from a folder
		return "its claims have no verdict."
	case claims == 1:
		return "its one claim " + strings.TrimPrefix(parts[0], "one ") + "."
	case len(parts) == 1:
		return fmt.Sprintf("all %s claims %s.", inWords(claims), strings.SplitN(parts[0], " ", 2)[1])
	}
	return fmt.Sprintf("of %s claims %s.", inWords(claims), strings.Join(parts, ", "))
}

// inWords writes a small count in words.
func inWords(n int) string {
	words := []string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

func (a *Answer) shortContradictions(b *page) {
	if len(a.Contradictions) == 0 {
		return
	}
	b.WriteString("\nFirst, what contradicts itself:\n")
	for i, c := range a.Contradictions {
		if i == mostContradictions {
			b.item(fmt.Sprintf("%d more: --full", len(a.Contradictions)-i))
			return
		}
		b.item(c.told())
	}
}

func (a *Answer) shortClaim(b *page, c Claim) {
	verdict := verdicts[c.Verdict] + ": " + c.Frequency
	if c.Held > 0 && c.Held < c.Rows {
		verdict += " (" + percent(c) + ")"
	}
	if name := Printable(c.Name); len([]rune(name)) < labelColumn {
		b.behind(name, labelColumn, verdict)
	} else {
		b.under(name+"  ", verdict)
	}
	switch {
	case c.Announced != nil:
		said := c.Of + " " + c.said()
		if c.SaidBy != "" {
			said += ", by " + c.SaidBy
		}
		b.labelled("said", labelColumn, said)
		b.labelled("tested", labelColumn, c.tested())
	default:
		b.labelled("tested", labelColumn, c.Text)
	}
	if drawn := c.drawn(); drawn != "" {
		b.labelled("drawn", labelColumn, drawn)
	}
	if by := a.decider(c); by != nil {
		if words := deciding(by.Inputs); len(words) > 0 {
			words = words[:min(mostDeciders, len(words))]
			head := map[result.Of]string{result.OfHolds: "whether", result.OfMargin: "how far"}[c.DecidedOf]
			b.labelled(head, labelColumn, "hangs on "+strings.Join(words, ", "))
		}
	}
}

// shortSizes lists the quantities that claims speak of, a vehicle a line, its change
// beside it, and returns how many quantities it leaves out.
func (a *Answer) shortSizes(b *page) int {
	order, rows := a.byQuantity()
	spoken := slices.DeleteFunc(slices.Clone(order), func(q string) bool { return !a.speakOf(rows[q]) })
	if len(spoken) == 0 {
		spoken = order
	}
	spoken = spoken[:min(mostQuantities, len(spoken))]
	if len(spoken) == 0 {
		return len(order)
	}
	l := b.shortLayout(rows, spoken)
	head := fmt.Sprintf("%*s  middle, nine in ten", l.name+l.who+2, "")
	if slices.ContainsFunc(a.Sizes, func(s Size) bool { return strings.HasSuffix(s.Quantity, "_change") }) {
		head = fmt.Sprintf("%*s  %-*s  change", l.name+l.who+2, "", l.middle+l.span+2, "middle, nine in ten")
	}
	b.WriteString("\n" + head + "\n")
	for _, q := range spoken {
		name := q
		for _, s := range rows[q] {
			if s.Quantity != q {
				continue // beside its level
			}
			if name != "" {
				name = withComma(q, s.Unit)
			}
			middle, span := s.drawn()
			line := fmt.Sprintf("%-*s  %-*s  %*s  %-*s", l.name, fit(name, l.name), l.who, fit(s.Vehicle, l.who), l.middle, middle, l.span, span)
			if i := slices.IndexFunc(rows[q], func(r Size) bool { return r.Vehicle == s.Vehicle && r.Quantity == q+"_change" }); i >= 0 {
				line = b.beside(line, rows[q][i].changed())
			}
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			name = ""
		}
	}
	return len(order) - len(spoken)
}

// beside adds text to a line, or puts it at the right of a line of its own.
func (b *page) beside(line, text string) string {
	if joined := line + "  " + text; len([]rune(joined)) <= b.width {
		return joined
	}
	return strings.TrimRight(line, " ") + fmt.Sprintf("\n%*s", b.width, text)
}

// drawn is the middle and the range of nine in ten draws.
func (s Size) drawn() (middle, span string) {
	n := numbers(differs(s.Quantity, s.P05), differs(s.Quantity, s.P50), differs(s.Quantity, s.P95))
	switch {
	case s.P50 == nil:
		return n[1], "all infeasible"
	case s.Constant:
		return n[1], "in every draw"
	}
	return n[1], n[0] + " to " + n[2]
}

// changed is a change on one line: "-5.2 %, -6.3 to -4.0".
func (s Size) changed() string {
	n := numbers(differs(s.Quantity, s.P05), differs(s.Quantity, s.P50), differs(s.Quantity, s.P95))
	switch {
	case s.P50 == nil:
		return "all infeasible"
	case s.Constant:
		return withUnit(n[1], s.Unit) + " in every draw"
	}
	return fmt.Sprintf("%s, %s to %s", withUnit(n[1], s.Unit), n[0], n[2])
}

// speakOf reports whether a claim names one of these sizes.
func (a *Answer) speakOf(sizes []Size) bool {
	return slices.ContainsFunc(a.Claims, func(c Claim) bool {
		return slices.ContainsFunc(namesIn(c.Text), func(name string) bool {
			return slices.ContainsFunc(sizes, func(s Size) bool { return s.Name == name })
		})
	})
}

// namesIn are the words of a condition that may be names.
func namesIn(condition string) []string {
	return strings.FieldsFunc(condition, func(r rune) bool {
		return r != '.' && r != '_' && (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
}

// shortLayout is how wide the columns of the short answer's quantities are.
type shortLayout struct{ name, who, middle, span int }

// shortLayout finds the widths that these sizes take; names give way where all of it is
// too wide.
func (b *page) shortLayout(rows map[string][]Size, quantities []string) shortLayout {
	l := shortLayout{span: len("nine in ten")}
	for _, q := range quantities {
		for _, s := range rows[q] {
			if s.Quantity != q {
				continue
			}
			middle, span := s.drawn()
			l.name, l.who = max(l.name, len([]rune(withComma(q, s.Unit)))), max(l.who, len([]rune(s.Vehicle)))
			l.middle, l.span = max(l.middle, len([]rune(middle))), max(l.span, len([]rune(span)))
		}
	}
	l.middle = max(l.middle, len("middle, nine in ten")-2-l.span)
	rest := b.width - l.middle - l.span - 6 - len("  change")
	l.who = min(l.who, rest/3)
	l.name = min(l.name, rest-l.who)
	return l
}

// shortDecides says what outputs hang on where no claim asks for it.
func (a *Answer) shortDecides(b *page) {
	if len(a.Claims) > 0 {
		return
	}
	for i, d := range a.Decides {
		if words := deciding(d.Inputs); d.Of == result.OfOutput && i < mostQuantities && len(words) > 0 {
			b.under(d.Output+" hangs on ", strings.Join(words, ", ")+".")
		}
	}
}

// withComma is a name and its unit: "kerb_mass, kg".
func withComma(name, unit string) string {
	if unit == "" || unit == "1" {
		return name
	}
	return name + ", " + unit
}

// shortAssumed counts what the answer rests on beside the study's own evidence.
func (a *Answer) shortAssumed(b *page) {
	line := strings.Join(a.knownCounted(), ", ")
	uncertain, constant := 0, 0
	for _, in := range a.Assumed.Defaults {
		if in.Constant {
			constant++
		} else {
			uncertain++
		}
	}
	if uncertain+constant > 0 {
		line += fmt.Sprintf("; from the catalogue %d uncertain and %d constant", uncertain, constant)
	}
	if n := len(a.Assumed.LeftOut); n > 0 {
		line += fmt.Sprintf("; %d outputs could not be had", n)
	}
	if line = strings.TrimPrefix(line, "; "); line != "" {
		b.under("Assumed: ", line+".")
	}
}

// shortBeware tells the caution that matters most, and of vehicles what no answer here
// judges.
func (a *Answer) shortBeware(b *page) {
	if len(a.Cautions) == 0 {
		return
	}
	line := cut(a.Cautions[0], mostCaution)
	if safety := ofVehicles[len(ofVehicles)-1]; a.Cautions[0] != safety && slices.Contains(a.Cautions, safety) {
		line += " " + safety
	}
	b.under("Beware: ", line)
}

// mostCaution is how much of a caution the short answer shows.
const mostCaution = 240

// cut shortens a text at a word, and says that there is more.
func cut(text string, most int) string {
	r := []rune(text)
	if len(r) <= most {
		return text
	}
	kept := string(r[:most])
	if i := strings.LastIndex(kept, " "); i > 0 {
		kept = kept[:i]
	}
	return strings.TrimRight(kept, ",;: ") + " ... (--full has the rest)."
}
