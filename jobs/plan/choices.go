package plan

import (
	"fmt"
	"maps"
	"slices"

	"proofmass/jobs/study"
	"proofmass/model/unit"
	"proofmass/sampling/marginal"
	"proofmass/sensitivity/choose"
)

// Choosing is how the choices of a study are compared. Each has the same draws of all that
// is uncertain, so that what differs between two choices differs in the same draws.
type Choosing struct {
	Count   int
	Figures []ChoiceFigure // that best and front are told from
	Rules   choose.Rules
	Drops   bool // choices leave by rounds
}

// A ChoiceFigure is a figure of each choice, and where samples store what it is of.
type ChoiceFigure struct {
	study.Figure
	Stored int // place among StoredColumns
	Unit   unit.Unit
	Limits []float64 // that it is held to, in that unit
}

// Part is a replicate, or a like part of independent rows, of a slice that holds several.
type Part struct {
	Replicate int // of the design
	From      int // in it
	Rows      int
	Number    int // of the part in the round
}

// planChoices says how choices are compared, once all columns are known.
func (p *Plan) planChoices() error {
	s := p.Study
	if s.Choices == nil {
		return nil
	}
	c := &Choosing{Count: s.Choices.Count(), Drops: s.Choices.Looks > 1}
	rows := p.Sample.Rows / Replicates
	c.Rules = choose.Rules{Level: s.Level, Looks: s.Choices.Looks}
	add := func(f study.Figure) int {
		if i := slices.IndexFunc(c.Figures, func(g ChoiceFigure) bool { return g.Figure == f }); i >= 0 {
			return i
		}
		c.Figures = append(c.Figures, p.choiceFigure(f))
		c.Rules.Figures = append(c.Rules.Figures, choose.Figure{Percentile: f.Share(), Chance: f.At == study.AtChance, Rows: rows})
		return len(c.Figures) - 1
	}
	if b := s.Best; b != nil {
		c.Rules.Best = &choose.Aim{Figure: add(b.Figure), Lower: b.Lower}
		for _, d := range b.SubjectTo {
			i := add(d.Figure)
			limit := c.Figures[i].Unit.FromSI(d.Value)
			c.Figures[i].Limits = append(c.Figures[i].Limits, limit)
			c.Rules.Demands = append(c.Rules.Demands, choose.Demand{Figure: i, Limit: limit, Below: d.Below})
		}
	}
	for _, a := range s.Front {
		c.Rules.Front = append(c.Rules.Front, choose.Aim{Figure: add(a.Figure), Lower: a.Lower})
	}
	p.Choosing = c
	for _, f := range c.Figures {
		if f.Stored < 0 {
			return fmt.Errorf("plan: %s: it is not among the stored columns", f.Figure)
		}
	}
	return nil
}

// choiceFigure finds where samples store what a figure is of.
func (p *Plan) choiceFigure(f study.Figure) ChoiceFigure {
	stored := p.StoredColumns()
	name := f.Of
	if f.At != study.AtChance {
		if i := slices.IndexFunc(p.Columns, func(c Column) bool { return c.Name == f.Of }); i >= 0 {
			return ChoiceFigure{Figure: f, Stored: i, Unit: stored[i].Unit}
		}
	}
	i := slices.IndexFunc(stored, func(s Stored) bool { return s.Name == name })
	return ChoiceFigure{Figure: f, Stored: i, Unit: unit.SI(unit.One)}
}

// ForChoice is the plan of one choice, from 1: its values are what the swept inputs are.
func (p *Plan) ForChoice(choice int) *Plan {
	q := *p
	q.Choice = choice
	q.Drawn = slices.Clone(p.Drawn)
	for i := range q.Drawn {
		if in := &q.Drawn[i]; in.Choice > 0 {
			in.Value = p.Study.Choices.Values[choice-1][in.Choice-1]
			in.Marginal, _ = marginal.Constant(in.Value) // finite: it was read as a number
		}
	}
	return &q
}

// mostLooked is how many choices are looked at before a run.
const mostLooked = 64

// SomeChoices are choices that show between which numbers all of them lie: those with the
// least and the greatest value of anything, and others among them; 0 alone without choices.
func (p *Plan) SomeChoices() []int {
	if p.Choosing == nil {
		return []int{0}
	}
	some := map[int]bool{}
	values := p.Study.Choices.Values
	for k := range p.Study.Choices.Names {
		low, high := 0, 0
		for i, v := range values {
			if v[k] < values[low][k] {
				low = i
			}
			if v[k] > values[high][k] {
				high = i
			}
		}
		some[low+1], some[high+1] = true, true
	}
	for i := range min(mostLooked, len(values)) {
		some[1+i*len(values)/min(mostLooked, len(values))] = true
	}
	return slices.Sorted(maps.Keys(some))
}

// choiceRound is a round of the sample of some choices, in order; the draws are those of the
// design's round of that number.
func (p *Plan) choiceRound(number int, choices []int) Round {
	r := p.SampleRound(number)
	r.Choices = len(choices)
	parts := p.parts(r)
	r.Slices = nil
	for _, choice := range choices {
		for _, part := range parts {
			rows := 0
			for _, x := range part {
				rows += x.Rows
			}
			r.Slices = append(r.Slices, Slice{Number: len(r.Slices), Choice: choice, Replicate: part[0].Replicate, From: part[0].From,
				First: firstOf(r, part[0]), Rows: rows, Parts: part})
		}
	}
	return r
}

// firstOf is the first row of a part in its round.
func firstOf(r Round, part Part) int {
	if r.Replicates == 1 {
		return part.From
	}
	return r.Bound(part.Replicate) + part.From
}

// parts cuts a choice's rows of a round into slices of whole replicates where these are
// small, and into slices of one replicate where they are not. Independent rows are cut into
// as many parts, so that their spread tells the error as that of replicates does.
func (p *Plan) parts(r Round) (slices [][]Part) {
	var last []Part
	held := 0
	for k := range Replicates {
		first, end := r.Rows*k/Replicates, r.Rows*(k+1)/Replicates
		whole := Part{Replicate: k, Rows: end - first, Number: k}
		if r.Replicates == 1 {
			whole.Replicate, whole.From = 0, first
		}
		if last != nil && held+whole.Rows > maxSlice {
			slices = append(slices, last)
			last, held = nil, 0
		}
		switch {
		case whole.Rows == 0:
		case whole.Rows > maxSlice:
			for from := 0; from < whole.Rows; from += maxSlice {
				slices = append(slices, []Part{{whole.Replicate, whole.From + from, min(maxSlice, whole.Rows-from), k}})
			}
		default:
			last, held = append(last, whole), held+whole.Rows
		}
	}
	if last != nil {
		slices = append(slices, last)
	}
	return slices
}

// nextChoices is the next step of the sample of choices: after each look twice as many rows
// of those that are still in it.
func (p *Plan) nextChoices(j *Joined) *Step {
	done, in := j.Rounds[Sample], j.In
	if done == 0 {
		in = nil
		for c := range p.Choosing.Count {
			in = append(in, c+1)
		}
	}
	most := 1 << (p.Choosing.Rules.Looks - 1)
	if done >= most || len(in) == 0 {
		return nil
	}
	return p.step(Sample, done, max(1, done), func(number int) Round { return p.choiceRound(number, in) })
}

// ChoiceRows is about how many rows of all choices are evaluated at most.
func (p *Plan) ChoiceRows() int {
	if p.Choosing == nil {
		return 0
	}
	return p.Choosing.Count * p.Sample.Rows << (p.Choosing.Rules.Looks - 1)
}

// LeastChoiceRows is how many there are if all choices but one leave the race as early as
// can be: what is sure at two looks.
func (p *Plan) LeastChoiceRows() int {
	c := p.Choosing
	if c == nil || !c.Drops {
		return p.ChoiceRows()
	}
	whole := p.ChoiceRows() / c.Count
	return whole + (c.Count-1)*min(2*p.Sample.Rows, whole)
}

// ChoiceSlices is how many slices the rows of all choices make at most.
func (p *Plan) ChoiceSlices() int {
	if p.Choosing == nil {
		return 0
	}
	return p.Choosing.Count * len(p.parts(p.Sample)) << (p.Choosing.Rules.Looks - 1)
}
