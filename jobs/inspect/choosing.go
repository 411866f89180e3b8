package inspect

import (
	"fmt"

	"proofmass/jobs/plan"
)

// Choosing is what a study with choices would do.
type Choosing struct {
	Count int      `json:"count"`
	Names []string `json:"names"` // of what is chosen
	First int      `json:"first"` // rows of each choice before the first look
	Looks int      `json:"looks"`
	Least int      `json:"least_rows"` // of all choices, if all but one left as early as can be
	Most  int      `json:"most_rows"`  // if none left
}

// choosing tells of the choices, and counts the runs of all.
func (f *Forecast) choosing(p *plan.Plan) {
	c := p.Choosing
	if c == nil {
		return
	}
	f.Choices = &Choosing{Count: c.Count, Names: p.Study.Choices.Names, First: p.Sample.Rows, Looks: c.Rules.Looks, Least: p.LeastChoiceRows(), Most: p.ChoiceRows()}
	f.Rows = f.Choices.Most / c.Count
	f.Runs += f.Choices.Most - p.Sample.Rows
	for _, figure := range undecided(p) {
		f.Odd = append(f.Odd, fmt.Sprintf("By %s no choice is told from another for sure: that takes 50 rows beyond the percentile in each replicate, more sample.rows.", figure))
	}
}

// undecided are the figures of which replicates have too few rows.
func undecided(p *plan.Plan) []string {
	var all []string
	for i, figure := range p.Choosing.Figures {
		if !p.Choosing.Rules.Figures[i].MayDecide() {
			all = append(all, figure.Figure.String())
		}
	}
	return all
}
