package plan

import (
	"slices"

	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/model"
)

// Inside is what figures show of vehicles between their inputs and what was asked: masses
// of parts, energies, sizes. It is made from the first draws alone, so that showing it costs
// next to nothing, and no default is drawn for its sake.
type Inside struct {
	Program *model.Program
	Inputs  []int // of each input of the program: its number among the plan's drawn ones
	Columns []Column
}

// Inside says what there is to show; nil where that is nothing.
func (p *Plan) Inside() (*Inside, error) {
	if p.Study.System == nil {
		return nil, nil
	}
	g := newGraph(p.Study)
	drawn := map[string]int{}
	for i, in := range p.Drawn {
		drawn[in.Name] = i
	}
	x := &Inside{}
	var names []string
	for _, v := range running(p.Study) {
		outputs := slices.Concat(p.Study.System.Outputs(v), p.Study.System.Checks(v))
		for _, q := range p.Study.System.Quantities() {
			name := v + "." + q.Name
			if q.Figure == "" || q.Computed && !q.Stated && !slices.Contains(outputs, name) || g.Missing(name) != nil || !g.within(name, drawn) {
				continue
			}
			x.Columns = append(x.Columns, Column{Name: name, Output: len(names), Quantity: q})
			names = append(names, name)
		}
	}
	for _, line := range p.changedLines() {
		for _, v := range running(p.Study) {
			name := v + ".bill." + line.name + ".total"
			if q, known := p.Study.System.Quantity(name); known && g.Missing(name) == nil && g.within(name, drawn) {
				q.Figure = line.figure
				x.Columns = append(x.Columns, Column{Name: name, Output: len(names), Quantity: q})
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return nil, nil
	}
	var err error
	if x.Program, err = model.Compile(names, g.Rule); err != nil {
		return nil, err
	}
	for _, name := range x.Program.Inputs() {
		x.Inputs = append(x.Inputs, drawn[name])
	}
	return x, nil
}

// within reports whether a name rests on no other draws than these.
func (g *graph) within(name string, drawn map[string]int) bool {
	for need := range g.Reach(name) {
		if in, ok := g.Input(need); ok && in.Kind == study.Uncertain {
			if _, known := drawn[need]; !known {
				return false
			}
		}
	}
	return true
}

// A shownLine is a line of a bill that some candidate does not have as the baseline has it.
type shownLine struct{ name, figure string }

func (p *Plan) changedLines() []shownLine {
	var all []shownLine
	system := p.Study.System
	for _, v := range p.Study.Candidates {
		for _, change := range system.BillChanges(v, p.Study.Baseline) {
			line := shownLine{change.Line, result.CarLines}
			if q, _ := system.Quantity(v + "." + change.Part); q.PartOf == packMass {
				line.figure = result.PackLines
			}
			if (line.figure == result.CarLines || system.Explained(v, p.Study.Baseline, packMass)) && !slices.Contains(all, line) {
				all = append(all, line)
			}
		}
	}
	return all
}
