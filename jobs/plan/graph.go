package plan

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
)

// Joint is the name of the claim that all claims hold together.
const Joint = "all_claims"

// graph finds the rule of every name that a study can speak of.
type graph struct {
	study    *study.Study
	input    map[string]study.Input
	formula  map[string]*formula.Expr // extra outputs, claims and margins
	defaults []study.Input
	had      map[string]bool // known to be computable
}

// Names of what claims compute; the blank keeps them apart from all others.
func holdsName(claim string) string  { return "holds " + claim }
func marginName(claim string) string { return "margin " + claim }

func newGraph(s *study.Study) *graph {
	g := &graph{study: s, input: map[string]study.Input{}, formula: map[string]*formula.Expr{}, had: map[string]bool{}}
	for _, in := range s.Inputs {
		g.input[in.Name] = in
	}
	for _, o := range s.Outputs {
		g.formula[o.Name] = o.Expr
	}
	for _, c := range s.Claims {
		g.formula[holdsName(c.Name)] = c.Expr
		if c.Margin != nil {
			g.formula[marginName(c.Name)] = c.Margin
		}
	}
	return g
}

// find is the way from a name to its rule: an input of the study, a formula, a
// quantity of the model, or a default of the catalogue.
func (g *graph) find(name string) (model.Rule, error) {
	if in, ok := g.input[name]; ok {
		return inputRule(in), nil
	}
	if e, ok := g.formula[name]; ok {
		return formulaRule(name, e), nil
	}
	if name == holdsName(Joint) {
		return g.jointRule(), nil
	}
	if g.study.System == nil {
		return model.Rule{}, fmt.Errorf("%s is not known", name)
	}
	rule, err := g.study.System.Rule(name)
	if err == nil {
		return rule, nil
	}
	in, noDefault := g.study.Default(name)
	if noDefault != nil {
		return model.Rule{}, err
	}
	g.input[name] = in
	g.defaults = append(g.defaults, in)
	return inputRule(in), nil
}

func inputRule(in study.Input) model.Rule {
	switch in.Kind {
	case study.Constant:
		return model.Constant(in.Name, in.Value)
	case study.Formula:
		return limited(formulaRule(in.Name, in.Expr), in.Low, in.High)
	}
	return model.Sampled(in.Name)
}

// formulaRule gives each block its own clone of the code, since code owns its
// temporaries and a rule may be evaluated by several workers.
func formulaRule(name string, e *formula.Expr) model.Rule {
	code := e.Program()
	clones := sync.Pool{New: func() any { return code.Clone() }}
	return model.Rule{Out: []string{name}, Needs: e.Names(), Eval: func(out, in [][]float64) {
		mine := clones.Get().(*formula.Code)
		mine.Eval(out[0], in)
		clones.Put(mine)
	}}
}

// limited makes values outside [low, high] infeasible.
func limited(r model.Rule, low, high float64) model.Rule {
	eval := r.Eval
	r.Eval = func(out, in [][]float64) {
		eval(out, in)
		Limit(out[0], low, high)
	}
	return r
}

// Limit makes the values outside [low, high] infeasible.
func Limit(x []float64, low, high float64) {
	for i, v := range x {
		if v < low || v > high {
			x[i] = math.NaN()
		}
	}
}

// jointRule is 1 where every claim holds, 0 where one fails, infeasible where any
// is.
func (g *graph) jointRule() model.Rule {
	var needs []string
	for _, c := range g.study.Claims {
		needs = append(needs, holdsName(c.Name))
	}
	return model.Rule{Out: []string{holdsName(Joint)}, Needs: needs, Eval: func(out, in [][]float64) {
		for i := range out[0] {
			all := 1.0
			for _, holds := range in {
				all *= holds[i] // 1 and 0 multiply exactly; NaN stays
			}
			out[0][i] = all
		}
	}}
}

// compile chooses the columns, then builds the program.
func (g *graph) compile(p *Plan) error {
	wanted, err := g.wanted(p)
	if err != nil {
		return err
	}
	if p.Program, err = model.Compile(wanted, g.find); err != nil {
		return fmt.Errorf("plan: %w", err)
	}
	for _, name := range p.Program.Inputs() {
		p.Drawn = append(p.Drawn, Drawn{g.input[name]})
	}
	p.Defaults = g.defaults
	p.unread = g.unread(p)
	return nil
}

// unread are the study's inputs, constants too, that no output or claim reads.
func (g *graph) unread(p *Plan) []string {
	read := map[string]bool{}
	var walk func(name string)
	walk = func(name string) {
		if read[name] {
			return
		}
		read[name] = true
		rule, err := g.find(name)
		if err != nil {
			return // compiled without it
		}
		for _, need := range rule.Needs {
			walk(need)
		}
	}
	for _, c := range p.Columns {
		if c.Input == nil {
			walk(c.Name)
		}
	}
	for _, c := range p.Claims {
		walk(holdsName(c.Name))
	}
	for _, name := range p.Study.Indices.Of {
		walk(name) // a claim's name finds no rule, and the claim was walked
	}
	var names []string
	for _, in := range p.Study.Inputs {
		if !read[in.Name] {
			names = append(names, in.Name)
		}
	}
	return names
}

// canHave reports whether name can be computed, noting the defaults it takes; if
// it cannot, it takes none. What is known to be computable is not followed again, so
// that a long chain of outputs costs no more than its length.
func (g *graph) canHave(name string) error {
	before, visited := len(g.defaults), []string(nil)
	_, err := model.Compile([]string{name}, func(name string) (model.Rule, error) {
		if g.had[name] {
			return model.Sampled(name), nil
		}
		visited = append(visited, name)
		return g.find(name)
	})
	if err == nil {
		for _, name := range visited {
			g.had[name] = true
		}
		return nil
	}
	for _, in := range g.defaults[before:] {
		delete(g.input, in.Name)
	}
	g.defaults = g.defaults[:before]
	return err
}

// quantity is the declaration of a full name, for units and meanings.
func (g *graph) quantity(name string) model.Quantity {
	if in, ok := g.input[name]; ok && in.Default {
		q, _ := vehicle.Find(in.Quantity)
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
