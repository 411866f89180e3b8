package record

import (
	"fmt"
	"io"
	"strings"

	"proofmass/jobs/report"
)

// Text tells a record at a terminal of so many columns; 0: 80.
func (r *Record) Text(out io.Writer, columns int) error {
	t := &text{report.Lines{Width: report.LineWidth(columns)}}
	t.Para(r.headline(), "")
	for i := range r.Predictions {
		t.prediction(r, &r.Predictions[i])
	}
	t.calibration(r.Calibration)
	t.claims(r.Claims)
	for _, note := range r.Notes {
		t.Para("Note: "+note, "")
	}
	_, err := io.WriteString(out, t.String())
	return err
}

// text is what a record is told in.
type text struct{ report.Lines }

// headline says first how many lie inside, and how the claims did.
func (r *Record) headline() string {
	var told []string
	if len(r.Calibration) > 0 {
		inside, n := 0, 0
		for i := range r.Outcomes {
			if o := &r.Outcomes[i]; o.Inside != nil {
				n++
				if *o.Inside {
					inside++
				}
			}
		}
		told = append(told, fmt.Sprintf("%d of %s inside what nine in ten draws foretold", inside, report.Numbered(n, "quantity", "quantities")))
	}
	if c := r.Claims; c != nil {
		told = append(told, fmt.Sprintf("%d of %s held, where %.1f were to be expected", c.Held, report.Numbered(c.N, "claim", "claims"), c.Foretold))
	}
	if len(told) == 0 {
		told = append(told, "no outcome can be scored")
	}
	return fmt.Sprintf("%s against %s: %s.", report.Numbered(len(r.Predictions), "prediction", "predictions"), report.Printable(r.Against), strings.Join(told, "; "))
}

// prediction tells the outcomes of one result, below when it was made.
func (t *text) prediction(r *Record, p *Prediction) {
	var mine []*Outcome
	for i := range r.Outcomes {
		if r.Outcomes[i].Folder == p.Folder {
			mine = append(mine, &r.Outcomes[i])
		}
	}
	if len(mine) == 0 {
		return
	}
	t.WriteString("\n")
	t.Para(fmt.Sprintf("%s, foretold on %s (%s); %s", report.Printable(p.Study), p.Ended.UTC().Format("2006-01-02"), report.Printable(p.Folder), order(mine)), "")
	t.Para("study digest "+p.Digest, "  ")
	for _, o := range mine {
		t.Para(o.head(), "  ")
		t.Para(o.InWords(), "    ")
	}
}

// order says whether the prediction came first.
func order(all []*Outcome) string {
	count := map[string]int{}
	for _, o := range all {
		count[o.Came]++
	}
	switch {
	case count[First] == len(all):
		return "every measurement is of a later day."
	case count[Late] == len(all):
		return "LATE: no measurement is of a later day, so this is no prediction."
	case count[Late] > 0:
		return fmt.Sprintf("LATE for %d of %d: they were measured on that day or before.", count[Late], len(all))
	case count[First] > 0:
		return fmt.Sprintf("%d of %d measurements are of a later day; of the others the file does not say.", count[First], len(all))
	}
	return "when it was measured the file does not say (measured_on)."
}

// head names the quantity and what was measured.
func (o *Outcome) head() string {
	name := report.Printable(o.Name)
	if o.Kind == kindClaim {
		if o.Value == 1 {
			return name + ": it held"
		}
		return name + ": it did not hold"
	}
	said := fmt.Sprintf("%s: %s", name, report.WithUnit(report.Short(o.Value), o.Unit))
	if o.SD != nil {
		said += fmt.Sprintf(" (sd %s)", report.Short(*o.SD))
	}
	return said
}

// InWords says what was foretold and how good that was.
func (o *Outcome) InWords() string {
	if o.Kind == kindClaim {
		return o.claimInWords()
	}
	if o.Inside == nil {
		return "every draw is infeasible: it can't be scored."
	}
	where := "inside"
	switch {
	case *o.Inside:
	case o.Value < *o.P05:
		where = "BELOW it"
	default:
		where = "ABOVE it"
	}
	n := report.Numbers(o.P05, o.P50, o.P95)
	words := fmt.Sprintf("foretold %s, nine in ten %s to %s: %s; CRPS %s", n[1], n[0], n[2], where, report.WithUnit(report.Short(*o.CRPS), o.Unit))
	if o.Guess != nil {
		words += fmt.Sprintf(", of the guess %s %s", report.Short(*o.Guess), report.Short(*o.GuessScore))
	}
	if o.Sharper != nil {
		words += "; " + sharper(*o.Sharper)
	}
	if o.Announced != nil {
		words += fmt.Sprintf(", of the announced %s %s", report.Short(*o.Announced), report.Short(*o.AnnouncedScore))
	}
	return words + "."
}

// sharper says the ratio of two widths.
func sharper(ratio float64) string {
	switch {
	case ratio < 1/1.05:
		return fmt.Sprintf("sharper than the guess: %.2g of its width", ratio)
	case ratio > 1.05:
		return fmt.Sprintf("vaguer than the guess: %.2g times its width", ratio)
	}
	return "as wide as the guess"
}

func (o *Outcome) claimInWords() string {
	if o.Brier == nil {
		return "no chance was foretold."
	}
	words := fmt.Sprintf("foretold with a chance of %s; Brier score %s", report.Often(*o.Chance), report.Short(*o.Brier))
	if o.Guess != nil {
		words += fmt.Sprintf(", of the guess %s %s", report.Often(*o.Guess), report.Short(*o.GuessScore))
	}
	return words + "."
}

// calibration tells whether nine in ten were nine in ten.
func (t *text) calibration(all []Calibration) {
	if len(all) == 0 || all[0].Studies < 2 { // one study shows nothing of it
		return
	}
	t.WriteString("\nWERE THEY AS SURE AS THEY SHOULD BE?\n")
	for i := range all {
		if c := &all[i]; c.Name != All || len(all) > 2 { // of one quantity its own line says it
			t.Para("- "+c.InWords(), "  ")
		}
	}
	t.Para("Nine in ten are meant to be inside; the range is what luck allows in 19 of 20 cases. CRPS: how far off, all draws counted; smaller is better.", "")
}

// InWords says how many lie inside, and what the scores come to.
func (c *Calibration) InWords() string {
	if c.Name == All {
		return fmt.Sprintf("all quantities: %.3g of %s inside, each counted once by the mean of its outcomes; %d to %d are as it should be", c.Inside, report.Numbered(c.Studies, "study", "studies"), c.Fewest, c.Most)
	}
	words := fmt.Sprintf("%s: %.3g of %d inside", report.Printable(c.Name), c.Inside, c.Studies)
	if c.N > c.Studies {
		words = fmt.Sprintf("%s: of %d outcomes in %s, each study counted once, %.3g inside", report.Printable(c.Name), c.N, report.Numbered(c.Studies, "study", "studies"), c.Inside)
	}
	words += fmt.Sprintf(" (%d to %d)", c.Fewest, c.Most)
	if c.Uneven != nil {
		words += "; " + c.placed()
	}
	if c.CRPS != nil {
		words += "; mean CRPS " + report.WithUnit(report.Short(*c.CRPS), c.Unit)
	}
	if c.Skill != nil {
		words += fmt.Sprintf("; against the guess of %s %s", report.Numbered(c.Guessed, "outcome", "outcomes"), better(*c.Skill))
	}
	if c.Width != nil {
		words += ", " + sharper(*c.Width)
	}
	if c.Said != nil {
		words += fmt.Sprintf("; the announcements' %s, where the prediction has %s", report.Short(*c.Said), report.Short(*c.OfSaid))
	}
	return words
}

// placed tells of the fifths in which the outcomes lie.
func (c *Calibration) placed() string {
	words := fmt.Sprintf("in fifths of the draws from low to high %s outcomes", strings.Trim(strings.ReplaceAll(fmt.Sprint(c.Fifths), " ", ", "), "[]"))
	if c.uneven() {
		return words + ", more uneven than luck allows"
	}
	return words + ", as even as luck leaves them"
}

func better(skill float64) string {
	switch {
	case skill < -1:
		return fmt.Sprintf("%.1f times as far off", 1-skill)
	case skill < 0:
		return fmt.Sprintf("%.0f %% worse", -100*skill)
	}
	return fmt.Sprintf("%.0f %% better", 100*skill)
}

// claims tells how the chances did.
func (t *text) claims(c *Chances) {
	if c == nil || c.N == 1 { // the line of one says all of it
		return
	}
	t.WriteString("\nCLAIMS\n")
	t.Para(fmt.Sprintf("%d of %s held, where %.1f were to be expected. Brier score %s (0 is best; 1 in 2 said of each has 0.25) = %s (chances that did not come true as often as stated) - %s (cases told apart) + %s (how mixed the outcomes are).",
		c.Held, report.Numbered(c.N, "claim", "claims"), c.Foretold, report.Short(c.Brier), report.Short(*c.Reliability), report.Short(*c.Resolution), report.Short(*c.Uncertainty)), "")
	if c.Guess != nil {
		t.Para(fmt.Sprintf("The guesses of %d of them have %s, the predictions there %s.", c.Guessed, report.Short(*c.Guess), report.Short(*c.OwnGuessed)), "")
	}
}
