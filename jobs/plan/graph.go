package plan

import (
	"errors"
	"fmt"
	"strings"

	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
	"proofmass/sampling/marginal"
)

// graph is the study's graph of names, and what this plan takes of the catalogue.
type graph struct {
	*study.Graph
	study    *study.Study
	defaults []study.Input   // in the order in which they are first needed
	taken    map[string]bool // names that are known to be computable, and all they rest on
	shown    map[string][]string
}

func newGraph(s *study.Study) *graph {
	return &graph{Graph: s.Graph, study: s, taken: map[string]bool{}, shown: map[string][]string{}}
}

// compile chooses the columns, then builds the program.
func (g *graph) compile(p *Plan) error {
	wanted, err := g.wanted(p)
	if err != nil {
		return err
	}
	find := func(name string) (model.Rule, error) {
		rule, err := g.Rule(name)
		p.addDear(rule)
		return rule, err
	}
	if p.Program, err = model.Compile(wanted, find); err != nil {
		return fmt.Errorf("plan: %w", err)
	}
	for _, name := range p.Program.Inputs() {
		in, _ := g.Input(name)
		d := Drawn{*in}
		if d.Choice > 0 {
			d.Marginal, _ = marginal.Constant(d.Value) // the first choice's
		}
		p.Drawn = append(p.Drawn, d)
	}
	p.Defaults = g.defaults
	p.unread = g.unread(p)
	return nil
}

// unread are the study's inputs, constants too, that no output or claim reads.
func (g *graph) unread(p *Plan) []string {
	var asked []string
	for _, c := range p.Columns {
		if c.Input == nil {
			asked = append(asked, c.Name)
		}
	}
	for _, c := range p.Claims {
		asked = append(asked, study.HoldsName(c.Name))
	}
	read := g.Reach(append(asked, p.Study.Indices.Of...)...)
	var names []string
	for _, in := range p.Study.Inputs {
		if !read[in.Name] {
			names = append(names, in.Name)
		}
	}
	return names
}

// canHave reports whether name can be computed, noting the defaults it takes; if it
// cannot, it takes none.
func (g *graph) canHave(name string) error {
	if err := g.Missing(name); err != nil {
		return err
	}
	g.take(name)
	return nil
}

func (g *graph) take(name string) {
	if g.taken[name] {
		return
	}
	g.taken[name] = true
	if in, ok := g.Input(name); ok && in.Default {
		g.defaults = append(g.defaults, *in)
	}
	for _, need := range g.Needs(name) {
		g.take(need)
	}
}

// quantity is the declaration of a full name, for units and meanings.
func (g *graph) quantity(name string) model.Quantity {
	if in, ok := g.Input(name); ok && in.Default {
		q, _ := g.study.Catalogue.Find(in.Quantity)
		return q
	}
	if q, ok := g.study.Quantity(name); ok {
		return q
	}
	return model.Quantity{Name: name, Unit: unit.SI(unit.One)}
}

// missing is the reason in a user's words why an output cannot be had.
func missing(err error) string {
	var m *vehicle.Missing
	switch {
	case !errors.As(err, &m):
		return err.Error()
	case len(m.Needs) == 0:
		return m.Error()
	case len(m.Needs) == 1 && m.Needs[0] == m.Name:
		return m.Name + " is not given, nor what it could be computed from"
	}
	return "not given: " + strings.Join(m.Needs, ", ")
}
