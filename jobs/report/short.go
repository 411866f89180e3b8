package report

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// labelColumn is where the text behind a label stands.
const labelColumn = 12

// How much the short answer shows at most: what contradicts itself,
// quantities, inputs that decide a claim, claims of which more than the verdict is told.
const mostContradictions, mostQuantities, mostDeciders, mostClaims = 3, 5, 2, 6

// short writes the answer in some forty lines: what contradicts itself, the verdicts with
// what they are about, the few quantities that claims speak of, what was assumed, counted,
// and the caution that matters most.
func (a *Answer) short(b *page, o TextOptions) {
	a.shortHead(b)
	a.shortContradictions(b)
	a.writeChoices(b, false)
	a.shortEvidence(b)
	a.shortAccounts(b)
	a.shortClaims(b)
	if a.Readings != nil {
		b.under("", a.Readings.Told())
	}
	a.shortExcluded(b)
	left := a.shortSizes(b)
	a.shortDecides(b)
	a.shortAssumed(b)
	a.shortBeware(b)
	all := fmt.Sprintf("proofmass show %s --full", quoted(o.Folder))
	switch {
	case o.Page != "":
		all += ", or " + quoted(o.Page)
	case left == 1:
		all += " (one quantity more)"
	case left > 1:
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

func (a *Answer) shortHead(b *page) {
	b.under("", a.subject()+": "+lower(a.Tally()))
	line := fmt.Sprintf("%s draws, seed %d", Grouped(a.Run.Rows), a.Run.Seed)
	if note, other := strings.CutPrefix(a.Run.Note, study.RowsAsked); other {
		asked, _, _ := strings.Cut(note, ";")
		line += ", " + asked + " asked for"
	}
	if a.Run.Stopping != nil {
		line += ", " + a.Run.Stopping.told()
	}
	if i := slices.IndexFunc(a.Claims, func(c Claim) bool { return c.Together() }); i >= 0 {
		together := a.Claims[i].Frequency
		if a.Claims[i].Verdict == result.NotJudged {
			together = a.Claims[i].InWords()
		}
		line += "; all claims together: " + together
	}
	b.under("", line+".")
	if len(a.Claims) > 0 {
		b.under("", "Stands: 19 in 20 or more. Falls: 1 in 20 or fewer. Brackets: "+a.brackets()+".")
	}
}

// subject is what the verdicts are of.
func (a *Answer) subject() string {
	if a.Choices != nil {
		return fmt.Sprintf("%s, choice %d", a.Study, a.Choices.Told)
	}
	return a.Study
}

func (a *Answer) shortContradictions(b *page) {
	if len(a.Contradictions) == 0 {
		return
	}
	b.WriteString("\nFirst, what cannot be, or contradicts itself:\n")
	for i, c := range a.Contradictions {
		if i == mostContradictions {
			b.item(fmt.Sprintf("%d more: --full", len(a.Contradictions)-i))
			return
		}
		b.item(c.Told())
	}
}

// shortClaims tells each claim; of many their verdicts alone, a line each.
func (a *Answer) shortClaims(b *page) {
	claims := slices.DeleteFunc(slices.Clone(a.Claims), func(c Claim) bool { return c.Together() })
	many := len(claims) > mostClaims
	for i, c := range claims {
		switch {
		case i == 0:
			b.WriteString("\n")
		case !many:
			b.WriteString(gap)
		}
		c.shortVerdict(b)
		if !many {
			a.shortClaim(b, c)
		}
	}
}

func (c Claim) shortVerdict(b *page) {
	verdict := c.InWords() + ": " + c.Frequency
	if behind := c.Behind(); behind != "" {
		verdict += " (" + behind + ")"
	}
	if odd := c.RestsOnOdd(); odd != "" {
		verdict += "; " + odd
	}
	if name := Printable(c.Name); len([]rune(name)) < labelColumn {
		b.behind(name, labelColumn, verdict)
	} else {
		b.under(name+"  ", verdict)
	}
}

// shortClaim tells what a verdict is about.
func (a *Answer) shortClaim(b *page, c Claim) {
	switch {
	case c.Announced != nil:
		said := quantityOf(c.Of) + ": " + c.Said()
		if c.SaidBy != "" {
			said += " (" + c.SaidBy + ")"
		}
		b.labelled("said", labelColumn, said)
		tested, why, _ := strings.Cut(c.Tested(), ", since ")
		c.shortTested(b, tested, why)
	default:
		c.shortTested(b, c.Text, "")
	}
	if g := a.Gain(c.Of); g != nil {
		b.labelled("made of", labelColumn, g.within(b.width-labelColumn))
	}
	if by := a.decider(c); by != nil {
		if words := deciding(by.Inputs); len(words) > 0 {
			words = words[:min(mostDeciders, len(words))]
			head := map[result.Of]string{result.OfHolds: "whether", result.OfMargin: "how far"}[c.DecidedOf]
			b.labelled(head, labelColumn, "hangs on "+strings.Join(words, ", "))
		}
	}
	if levers := a.shortLevers(c, b.width-labelColumn); levers != "" {
		b.WriteString(spare)
		b.labelled("levers", labelColumn, levers)
		b.WriteString(spare)
	}
	if x := a.Accounts.Of(c.Name); x != nil {
		b.labelled("rivals", labelColumn, a.Accounts.Sentence(x))
	}
	if m := a.Next(c.Name); m != nil && c.Verdict == result.InDoubt {
		next, money := m.short()
		b.labelled("next", labelColumn, next)
		if money != "" {
			b.WriteString(spare)
			b.labelled("for money", labelColumn, money)
			b.WriteString(spare)
		}
	}
}

// shortTested tells what was tested, and why the limit is another number than the announced
// one, and what the draws give: on one line where both fit it.
func (c Claim) shortTested(b *page, tested, why string) {
	drawn := c.drawn()
	if joined := tested + "; drawn " + strings.Replace(drawn, " of them", "", 1); why == "" && drawn != "" && len([]rune(joined)) <= b.width-labelColumn {
		b.labelled("tested", labelColumn, joined)
		return
	}
	if why != "" {
		tested += ", since " + why
	}
	b.labelled("tested", labelColumn, tested)
	if drawn != "" {
		b.labelled("drawn", labelColumn, drawn)
	}
}

// shortLevers tells what a unit of the levers that do most does to the first claim that does
// not stand: as many as fit a line, "" of other claims.
func (a *Answer) shortLevers(c Claim, width int) string {
	vehicle, _, _ := strings.Cut(c.Of, ".")
	for i := range a.Claims {
		if x := &a.Claims[i]; x.Name == c.Name {
			break
		} else if x.Verdict != result.Stands && len(a.LeversOf(strings.Split(x.Of, ".")[0], x.Of)) > 0 {
			return ""
		}
	}
	text := ""
	if c.Verdict == result.Stands {
		return text
	}
	for _, l := range a.LeversOf(vehicle, c.Of) {
		more := l.Text + " " + l.SignedIn()
		if text != "" {
			more = text + "; " + more
		}
		if len([]rune(more)) > width {
			break
		}
		text = more
	}
	return text
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
	shown := 1
	for shown < min(a.Odd, mostOdd) {
		shown++ // odd sizes, which come first
	}
	var lines []string
	shortened := false
	for _, c := range a.Cautions[:min(shown, len(a.Cautions))] {
		kept, less := cut(FewNames(c, "--full has all"), mostCaution)
		lines, shortened = append(lines, kept), shortened || less
	}
	line := strings.Join(lines, " ")
	if shortened {
		line += " (--full has the rest.)"
	}
	if more := a.Odd - shown; more > 0 {
		line += fmt.Sprintf(" %d more that are odd: --full.", more)
	}
	if safety := NotJudged(); a.Cautions[0] != safety && slices.Contains(a.Cautions, safety) {
		line += " " + safety
	}
	b.under("Beware: ", line)
}

// How much of a caution the short answer shows, and how many of those about odd sizes.
const mostCaution, mostOdd = 240, 2

// cut shortens a text at a sentence, else at a word; less tells that there is more of it.
func cut(text string, most int) (kept string, less bool) {
	r := []rune(text)
	if len(r) <= most {
		return text, false
	}
	kept = string(r[:most])
	if i := strings.LastIndex(kept, ". "); i > 0 {
		return kept[:i+1], true
	}
	if i := strings.LastIndex(kept, " "); i > 0 {
		kept = kept[:i]
	}
	return strings.TrimRight(kept, ",;: ") + " ...", true
}
