package study

import (
	"fmt"
	"math"
	"strings"

	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/vehicle"
)

// A Graph knows every name that a study can speak of: the rule that makes it, what that
// needs, the input that states it or the catalogue's default, and what is missing. It is
// built once, with the study; each name is looked up once. It is not for several
// goroutines at once.
type Graph struct {
	catalogue *Catalogue
	system    *vehicle.System // nil in a model of formulas
	stated    map[string]*Input
	formulas  map[string]*formula.Expr // extra outputs, claims and their margins
	nodes     map[string]*node
}

// node is what the graph knows of one name.
type node struct {
	needs     []string
	input     *Input // stated, or by default
	byDefault bool
	rule      model.Rule // of the model
	err       error      // no rule makes it

	asked   bool  // missing is known
	missing error // of what it rests on
}

// Names of what claims compute; the blank keeps them apart from all others.

// HoldsName is the name under which the graph has whether a claim holds: 1, 0, or
// infeasible. That of AllClaims is whether all hold at once.
func HoldsName(claim string) string { return "holds " + claim }

// MarginName is the name under which the graph has how far inside its limit a claim is.
func MarginName(claim string) string { return "margin " + claim }

func newGraph(catalogue *Catalogue, system *vehicle.System) *Graph {
	return &Graph{catalogue: catalogue, system: system, stated: map[string]*Input{}, formulas: map[string]*formula.Expr{}, nodes: map[string]*node{}}
}

// addClaims takes what claims compute, once it is known.
func (g *Graph) addClaims(claims []Claim) {
	for _, c := range claims {
		g.formulas[HoldsName(c.Name)] = c.Expr
		for i, r := range c.Readings {
			g.formulas[ReadingName(c.Name, i+1)] = r.Expr
		}
		if c.Margin != nil {
			g.formulas[MarginName(c.Name)] = c.Margin
		}
	}
	if len(claims) < 2 {
		return
	}
	rule := jointRule(claims)
	g.nodes[HoldsName(AllClaims)] = &node{rule: rule, needs: rule.Needs}
}

// node finds out, once, where a name comes from: an input of the study, a formula, a
// quantity of the model, or a default of the catalogue.
func (g *Graph) node(name string) *node {
	if n := g.nodes[name]; n != nil {
		return n
	}
	n := &node{}
	g.nodes[name] = n
	if in := g.stated[name]; in != nil {
		if n.input = in; in.Kind == Formula && in.Expr != nil {
			n.needs = in.Expr.Names()
		}
		return n
	}
	if e := g.formulas[name]; e != nil {
		n.needs = e.Names()
		return n
	}
	if g.system == nil {
		n.err = fmt.Errorf("%s is not known", name)
		return n
	}
	if n.rule, n.err = g.system.Rule(name); n.err == nil {
		n.needs = n.rule.Needs
	} else if g.catalogue.DefaultText(name) != "" {
		n.byDefault, n.err = true, nil
	}
	return n
}

// Needs are the names that a name is computed from; none for an input and for what
// nothing makes.
func (g *Graph) Needs(name string) []string { return g.node(name).needs }

// Input is what states a name, or the catalogue's default of it.
func (g *Graph) Input(name string) (*Input, bool) {
	n := g.node(name)
	if n.byDefault && n.input == nil {
		n.input, n.err = g.catalogue.defaultInput(name, g.catalogue.DefaultText(name))
	}
	return n.input, n.input != nil
}

// kind is how a name is known that is stated or has a default; anything else is computed,
// which is as good as a formula.
func (g *Graph) kind(name string) Kind {
	if in, ok := g.Input(name); ok {
		return in.Kind
	}
	return Formula
}

// Missing is what stands in the way of computing a name, nil if nothing does. Where the
// model can't make something the error is a *vehicle.Missing.
func (g *Graph) Missing(name string) error {
	n := g.node(name)
	if n.asked {
		return n.missing
	}
	n.asked = true // a loop, which is reported elsewhere, misses nothing
	n.missing = n.err
	for _, need := range n.needs {
		if n.missing != nil {
			break
		}
		n.missing = g.Missing(need)
	}
	return n.missing
}

// walk visits the names and all that they rest on, each once and before what it needs.
func (g *Graph) walk(visit func(name string), names []string, seen map[string]bool) {
	for _, name := range names {
		if seen[name] {
			continue
		}
		seen[name] = true
		visit(name)
		g.walk(visit, g.Needs(name), seen)
	}
}

// Reach is the names and all that they rest on.
func (g *Graph) Reach(names ...string) map[string]bool {
	seen := map[string]bool{}
	g.walk(func(string) {}, names, seen)
	return seen
}

// loops are the names that need themselves, each loop once, in the order in which the
// names given lead to them.
func (g *Graph) loops(names []string) [][]string {
	const open, done = 1, 2
	state := map[string]int{}
	var found [][]string
	var path []string
	var follow func(name string)
	follow = func(name string) {
		switch state[name] {
		case done:
			return
		case open:
			for i := range path {
				if path[i] == name {
					found = append(found, append([]string(nil), path[i:]...))
				}
			}
			return
		}
		state[name] = open
		path = append(path, name)
		for _, need := range g.Needs(name) {
			follow(need)
		}
		path = path[:len(path)-1]
		state[name] = done
	}
	for _, name := range names {
		follow(name)
	}
	return found
}

// Rule is the rule that makes a name, with its code: expressions have to be checked. An
// input that is drawn has a rule without Eval.
func (g *Graph) Rule(name string) (model.Rule, error) {
	if in, ok := g.Input(name); ok {
		return inputRule(in), nil
	}
	if e := g.formulas[name]; e != nil {
		return formulaRule(name, e), nil
	}
	n := g.node(name)
	return n.rule, n.err
}

func inputRule(in *Input) model.Rule {
	if in.Choice > 0 {
		return model.Sampled(in.Name)
	}
	switch in.Kind {
	case Constant:
		return model.Constant(in.Name, in.Value)
	case Formula:
		rule := formulaRule(in.Name, in.Expr)
		rule.Bounds = []model.Bounds{{Low: in.Low, High: in.High}}
		return rule
	}
	return model.Sampled(in.Name)
}

// formulaRule gives each worker its own clone of the code, which owns its temporaries.
func formulaRule(name string, e *formula.Expr) model.Rule {
	code := e.Program()
	return model.Rule{Out: []string{name}, Needs: e.Names(), Start: func(model.Saving) model.Eval {
		mine := code.Clone()
		return func(out, in [][]float64) { mine.Eval(out[0], in) }
	}}
}

// Limit makes the values outside [low, high] infeasible.
func Limit(x []float64, low, high float64) {
	for i, v := range x {
		if v < low || v > high {
			x[i] = math.NaN()
		}
	}
}

// jointRule is 1 where every claim holds, 0 where one fails, infeasible where any is.
func jointRule(claims []Claim) model.Rule {
	var needs []string
	for _, c := range claims {
		needs = append(needs, HoldsName(c.Name))
	}
	return model.Rule{Out: []string{HoldsName(AllClaims)}, Needs: needs, Eval: func(out, in [][]float64) {
		for i := range out[0] {
			all := 1.0
			for _, holds := range in {
				all *= holds[i] // 1 and 0 multiply exactly; NaN stays
			}
			out[0][i] = all
		}
	}}
}

// baseName is a full name without its vehicle.
func baseName(name string) string { return name[strings.IndexByte(name, '.')+1:] }
