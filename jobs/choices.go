package jobs

import (
	"context"
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity/choose"
)

// summariseChoices joins the slices of each choice into the tables of statistics and
// claims, and those into the table of choices. It notes for which choices sensitivity is
// told. Of the statistics only a few thousand rows are in memory, however many choices
// there are.
func (j *job) summariseChoices(ctx context.Context) error {
	summary, err := result.Summary.Grow(j.folder)
	if err != nil {
		return err
	}
	claims, err := result.Claims.Grow(j.folder)
	if err != nil {
		summary.Drop()
		return err
	}
	chosen, err := j.choose(ctx, summary, claims)
	if err != nil {
		summary.Drop()
		claims.Drop()
		return err
	}
	j.focus = focus(j.plan, chosen)
	meta := summaryMeta(j.plan)
	meta[report.MetaTied] = "[]"
	if len(j.focus) > 0 {
		tied, err := j.told().analyst.Tied()
		if err != nil {
			summary.Drop()
			claims.Drop()
			return err
		}
		meta[report.MetaTied] = encode(tied)
	}
	if j.manifest.Tables[result.SummaryTable], err = summary.Close(meta); err != nil {
		claims.Drop()
		return err
	}
	if len(j.plan.Claims) == 0 {
		claims.Drop()
	} else if j.manifest.Tables[result.ClaimsTable], err = claims.Close(nil); err != nil {
		return err
	}
	if err := j.jointOfChoice(chosen); err != nil {
		return err
	}
	return j.write(result.ChoicesTable, choiceTable(j.plan, chosen).Table(choiceMeta(j.plan, j.focus)))
}

// jointOfChoice tells of the choice that the answer is about how its claims come together.
func (j *job) jointOfChoice(chosen []analyse.Chosen) error {
	told := 1
	if len(j.focus) > 0 {
		told = j.focus[0]
	}
	of := j.analyst.OfChoice(told)
	if len(of.Plan.Claims) < 2 {
		return nil
	}
	chance := map[string]float64{}
	for i, c := range of.Plan.Claims {
		chance[c.Name] = chosen[told-1].Claims[i].Value
	}
	return j.joint(of, chance)
}

// choose goes through the choices.
func (j *job) choose(ctx context.Context, summary *result.Growing[result.SummaryRow], claims *result.Growing[result.ClaimRow]) ([]analyse.Chosen, error) {
	var chosen []analyse.Chosen
	for c := 1; c <= j.plan.Choosing.Count; c++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		x, err := j.joinChoice(c)
		if err == nil {
			err = summary.Add(x.Summary...)
		}
		if err == nil {
			err = claims.Add(x.Claims...)
		}
		if err != nil {
			return nil, err
		}
		chosen = append(chosen, x.Chosen)
	}
	return chosen, nil
}

// mostFocus is of how many choices of a front sensitivity is told.
const mostFocus = 10

// focus are the choices of which sensitivity is told: the best, else those surely on the
// front, or that may be on it where none surely is; all where the study asks for indices. One
// that is alone is told of like a study without choices.
func focus(p *plan.Plan, chosen []analyse.Chosen) []int {
	var all []int
	pick := func(word func(c *analyse.Chosen) choose.Word, want choose.Word) (picked []int) {
		for i := range chosen {
			if word(&chosen[i]) == want {
				picked = append(picked, i+1)
			}
		}
		return picked
	}
	for c := range chosen {
		all = append(all, c+1)
	}
	front := func(c *analyse.Chosen) choose.Word { return c.Standing.Front }
	lead := 0
	if p.Study.Best != nil {
		lead = leader(p, chosen)
	}
	switch {
	case p.Study.Indices.Stated && lead > 0: // the rest of the answer is of the first
		return append([]int{lead}, slices.DeleteFunc(all, func(c int) bool { return c == lead })...)
	case p.Study.Indices.Stated:
		return all
	case lead > 0:
		return []int{lead}
	case p.Study.Best != nil:
		return nil
	case len(all) == 1:
		return all
	case len(p.Study.Front) == 0:
		return nil
	}
	picked := pick(front, choose.Yes)
	if len(picked) == 0 {
		picked = pick(front, choose.Maybe)
	}
	return picked[:min(len(picked), mostFocus)]
}

// leader is the choice that may be the best and whose figure is, among those that keep the
// demands as far as is known, and of equals one that may be on the front; 0 where none may be.
func leader(p *plan.Plan, chosen []analyse.Chosen) int {
	lead, keeps := 0, false
	rules := &p.Choosing.Rules
	for i := range chosen {
		c := &chosen[i]
		if c.Standing.Best == choose.No {
			continue
		}
		fit := true
		for _, d := range rules.Demands {
			v := c.Figures[d.Figure].Value
			fit = fit && (!d.Below && v >= d.Limit || d.Below && v <= d.Limit)
		}
		better := lead == 0 || fit && !keeps
		if !better && fit == keeps {
			x, y := c.Figures[rules.Best.Figure].Value, chosen[lead-1].Figures[rules.Best.Figure].Value
			better = !rules.Best.Lower && x > y || rules.Best.Lower && x < y ||
				x == y && c.Standing.Front != choose.No && chosen[lead-1].Standing.Front == choose.No
		}
		if better {
			lead, keeps = i+1, fit
		}
	}
	return lead
}

// choiceTable is the table of choices.
func choiceTable(p *plan.Plan, chosen []analyse.Chosen) *result.ChoiceTable {
	t := &result.ChoiceTable{}
	choices := p.Study.Choices
	for _, name := range choices.Names {
		q, _ := p.Study.Quantity(name)
		t.Set = append(t.Set, result.Column{Name: stored(name), Unit: q.Unit.String(), Meaning: q.Meaning, Source: q.Source})
	}
	figures, from := choiceFigures(p)
	t.Figures = figures
	for i := range chosen {
		c := &chosen[i]
		row := result.ChoiceRow{ChoiceFacts: result.ChoiceFacts{Choice: int64(i + 1), Rows: int64(c.Rows), DroppedIn: math.NaN(), DroppedFor: math.NaN(),
			Best: string(c.Standing.Best), Front: string(c.Standing.Front)}}
		if c.Standing.Out {
			row.DroppedIn, row.DroppedFor = float64(c.Standing.Look+1), float64(c.Standing.For+1)
			if c.Standing.For == choose.Unfit {
				row.DroppedFor = choose.Unfit
			}
		}
		for k, name := range choices.Names {
			q, _ := p.Study.Quantity(name)
			row.Set = append(row.Set, q.Unit.FromSI(choices.Values[i][k]))
			if k > 0 {
				row.Chosen += ", "
			}
			row.Chosen += name + " " + choices.Texts[i][k]
		}
		for _, f := range from {
			row.Figures = append(row.Figures, f(c))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// choiceFigures are the figures of the table, each once: what best and front ask for,
// chances of claims, outputs.
func choiceFigures(p *plan.Plan) (columns []result.Column, from []func(*analyse.Chosen) result.Estimate) {
	add := func(name, unit, meaning string, f func(*analyse.Chosen) result.Estimate) {
		taken := slices.ContainsFunc(columns, func(c result.Column) bool { return c.Name == name }) || slices.Contains(setNames(p), name)
		if !taken {
			columns, from = append(columns, result.Column{Name: name, Unit: unit, Meaning: meaning}), append(from, f)
		}
	}
	for i, f := range p.Choosing.Figures {
		meaning := f.At + " of " + f.Of + " in the draws"
		add(f.Column(), f.Unit.String(), meaning, func(c *analyse.Chosen) result.Estimate { return c.Figures[i] })
	}
	for i, claim := range p.Claims {
		add(study.Figure{Of: claim.Name, At: study.AtChance}.Column(), "1", "chance that it holds: "+claim.Text, func(c *analyse.Chosen) result.Estimate { return c.Claims[i] })
	}
	for i, o := range p.Index.Outputs {
		name := p.Program.Outputs()[o]
		q, _ := p.Study.Quantity(name)
		for k, at := range []string{"mean", "p05", "p50", "p95"} {
			f := study.Figure{Of: name, At: at}
			add(f.Column(), q.Unit.String(), at+" of "+name+" in the draws", func(c *analyse.Chosen) result.Estimate { return c.Outputs[4*i+k] })
		}
	}
	return columns, from
}

func setNames(p *plan.Plan) []string {
	var names []string
	for _, name := range p.Study.Choices.Names {
		names = append(names, stored(name))
	}
	return names
}

// choiceMeta says for the answer what the choices were compared by.
func choiceMeta(p *plan.Plan, focus []int) map[string]string {
	s := p.Study
	asked := report.ChoicesAsked{Names: s.Choices.Names, Focus: focus, Looks: p.Choosing.Rules.Looks, Rows: p.Sample.Rows << (p.Choosing.Rules.Looks - 1),
		Lost: 1 - s.Level, Drops: p.Choosing.Drops}
	aim := func(a study.Aim) report.ChoiceAim {
		return report.ChoiceAim{Column: a.Column(), Of: a.Of, At: a.At, Lower: a.Lower}
	}
	if s.Best != nil {
		best := aim(s.Best.Aim)
		asked.Best = &best
		for _, d := range s.Best.SubjectTo {
			asked.Demands = append(asked.Demands, d.Text)
		}
	}
	for _, a := range s.Front {
		asked.Front = append(asked.Front, aim(a))
	}
	for i, f := range p.Choosing.Figures {
		if !p.Choosing.Rules.Figures[i].MayDecide() {
			asked.Undecided = append(asked.Undecided, f.Figure.String())
		}
	}
	return map[string]string{report.MetaChoices: encodeOne(asked)}
}

// sensitivityOfChoices tells what decides each of the choices in focus, one after the other.
func (j *job) sensitivityOfChoices(ctx context.Context) error {
	if len(j.plan.Index.Targets) == 0 {
		return nil
	}
	var found deciding
	runs, widest := int64(0), (*float64)(nil)
	for _, c := range j.focus {
		v := j.ofChoice(c)
		if _, err := v.analyst.Summary(); err != nil { // how widely its rows spread
			return err
		}
		err := j.follow(ctx, v, &plan.Joined{Rounds: map[plan.Kind]int{plan.Sample: 1}})
		if err == nil {
			err = v.decide(&found)
		}
		if err != nil {
			return fmt.Errorf("choice %d: %w", c, err)
		}
		runs += int64(v.analyst.IndexRuns())
		if h := j.manifest.HalfWidth; h != nil && (widest == nil || *h > *widest) {
			widest = h
		}
	}
	j.manifest.IndexRuns, j.manifest.HalfWidth = runs, widest
	if len(j.focus) == 0 {
		return nil
	}
	return j.writeDeciding(&found)
}
