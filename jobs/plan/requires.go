package plan

import (
	"fmt"

	"proofmass/jobs/study"
	"proofmass/model"
)

// A Requirement is how far inside one claim a point of the inputs' normal scores lies. The
// program's first output is the margin, the others are what the items show.
type Requirement struct {
	Evaluation
	Claim  Claim
	Scores []int // the drawn inputs that may move
	Items  []RequiredItem
}

// A RequiredItem is an input as a reader knows it.
type RequiredItem struct {
	Name     string
	Quantity model.Quantity
	Output   int   // of the program: its value
	Scores   []int // places among the requirement's scores: one, but for what is drawn as one
}

// Requirements are those of each claim that has a margin which some input reaches.
func (p *Plan) Requirements() ([]*Requirement, error) {
	var all []*Requirement
	g := newGraph(p.Study)
	for _, c := range p.Claims {
		if c.Margin < 0 || !p.varies(c.Margin) || p.isNever(c.Margin) {
			continue
		}
		r := &Requirement{Claim: c}
		names := &numbered{}
		names.number(study.MarginName(c.Name))
		for _, f := range p.Factors {
			if p.Reaches(f, c.Margin) {
				r.add(p, f, names)
			}
		}
		if err := r.compile(p, names.all, g.Rule); err != nil {
			return nil, fmt.Errorf("%s: %w", c.Name, err)
		}
		all = append(all, r)
	}
	return all, nil
}

// add lets the inputs of a factor move. Those that are stored are items of their own; hidden
// ones are shown as one, by what they make.
func (r *Requirement) add(p *Plan, f Factor, names *numbered) {
	stored := len(f.Columns) == len(f.Inputs)
	for k, i := range f.Inputs {
		stored = stored && f.Columns[k] == p.Drawn[i].Name
	}
	column := func(name string) RequiredItem {
		for _, c := range p.Columns {
			if c.Name == name {
				return RequiredItem{Name: name, Quantity: c.Quantity, Output: names.number(name)}
			}
		}
		return RequiredItem{Name: name, Output: names.number(name)}
	}
	hidden := RequiredItem{}
	for k, i := range f.Inputs {
		at := len(r.Scores)
		r.Scores = append(r.Scores, i)
		if stored {
			item := column(f.Columns[k])
			item.Scores = []int{at}
			r.Items = append(r.Items, item)
		} else {
			hidden.Scores = append(hidden.Scores, at)
		}
	}
	if !stored {
		item := column(f.Show)
		item.Scores = hidden.Scores
		r.Items = append(r.Items, item)
	}
}
