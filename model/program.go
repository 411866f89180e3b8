package model

import (
	"fmt"
	"math"
	"strings"
)

// A Rule computes the columns Out from the columns Needs, all by full name.
//
// Eval fills out[i] from in[j]; all have the same length, out[i] belongs to
// Out[i] and in[j] to Needs[j]. Row k of out depends on row k of in alone, so
// that a row's result does not depend on the block it stands in. Eval keeps and
// changes no column of in and may be called from several goroutines. Start stands in
// its place where an evaluation has a memory: every worker calls it once, with what its
// evaluations may save work by, and has an Eval of its own. A rule without needs is a constant; one with neither Eval nor Start
// stands for a sampled input, a column that the caller fills.
//
// Bounds are those of the columns of Out, nil where none has any. What lies outside
// is infeasible, and with it whatever reads it.
//
// Over names what a dear rule goes over, "" for all others: with bounds of its needs work
// may be saved there.
type Rule struct {
	Out, Needs []string
	Eval       Eval
	Start      func(Saving) Eval
	Bounds     []Bounds
	Over       string
}

// Eval fills the columns out from the columns in, all of equal length, row by row.
type Eval func(out, in [][]float64)

// Drawn reports whether the rule stands for a sampled input.
func (r *Rule) Drawn() bool { return r.Eval == nil && r.Start == nil }

// Bounds are the lowest and the highest value that a column may hold, in SI.
type Bounds struct{ Low, High float64 }

// finite bounds a column that may hold any finite number.
var finite = Bounds{-math.MaxFloat64, math.MaxFloat64}

// Sampled returns the rule of an input whose column the caller fills.
func Sampled(name string) Rule { return Rule{Out: []string{name}} }

// Constant returns the rule that gives name the SI value x in every row.
func Constant(name string, x float64) Rule {
	return Rule{Out: []string{name}, Eval: func(out, _ [][]float64) {
		for i := range out[0] {
			out[0][i] = x
		}
	}}
}

// A Program evaluates the wanted outputs, and nothing else, from sampled inputs.
// It is read-only after Compile and may be shared by any number of workers.
type Program struct {
	inputs, outputs []string
	columns         int    // inputs first, then what rules make
	output          []int  // column of each output
	nodes           []node // each behind the nodes it needs
	reach           []reach
	saving          Saving // of its workers; nil saves nothing
}

// node is a rule whose names have become column numbers.
type node struct {
	eval      Eval
	start     func(Saving) Eval // in its place, for each worker
	out, in   []int
	bounds    []Bounds // of out
	constant  bool     // needs no sampled input
	keepsInfs bool     // a stated constant may be infinite: "no limit"
}

// reach is the set of nodes and columns that an input touches.
type reach struct {
	nodes   []bool
	columns []bool
}

// Compile lays out the rules that the wanted names need, asking find once for
// each name. The error is find's own, or names a loop.
func Compile(wanted []string, find func(name string) (Rule, error)) (*Program, error) {
	c := compiler{find: find, column: map[string]int{}}
	for _, name := range wanted {
		if err := c.visit(name); err != nil {
			return nil, err
		}
	}
	return c.program(wanted), nil
}

// compiler collects rules in an order in which each can be evaluated.
type compiler struct {
	find   func(name string) (Rule, error)
	inputs []string
	column map[string]int // the names met; their numbers are given at the end
	rules  []Rule
	path   []string // the names being visited
}

func (c *compiler) visit(name string) error {
	if _, done := c.column[name]; done {
		return nil
	}
	for i, open := range c.path {
		if open == name {
			return fmt.Errorf("loop: %s", strings.Join(append(c.path[i:], name), " needs "))
		}
	}
	rule, err := c.find(name)
	if err != nil {
		return err
	}
	if rule.Drawn() {
		c.column[name] = len(c.inputs)
		c.inputs = append(c.inputs, name)
		return nil
	}
	c.path = append(c.path, name)
	for _, need := range rule.Needs {
		if err := c.visit(need); err != nil {
			return err
		}
	}
	c.path = c.path[:len(c.path)-1]
	for _, out := range rule.Out {
		c.column[out] = 0
	}
	c.rules = append(c.rules, rule)
	return nil
}

// program numbers the columns and finds out what each input reaches.
func (c *compiler) program(wanted []string) *Program {
	p := &Program{inputs: c.inputs, outputs: wanted, columns: len(c.inputs)}
	for _, rule := range c.rules {
		for _, out := range rule.Out {
			c.column[out] = p.columns
			p.columns++
		}
	}
	p.nodes = make([]node, len(c.rules))
	for i, rule := range c.rules {
		p.nodes[i] = node{eval: rule.Eval, start: rule.Start, in: c.numbers(rule.Needs), out: c.numbers(rule.Out), bounds: rule.finite(), keepsInfs: len(rule.Needs) == 0}
	}
	p.output = c.numbers(wanted)
	p.findReach()
	return p
}

// finite are the bounds of each column of Out, infinite ones made finite.
func (r *Rule) finite() []Bounds {
	all := make([]Bounds, len(r.Out))
	for i := range all {
		all[i] = finite
		if r.Bounds != nil {
			all[i] = Bounds{max(r.Bounds[i].Low, finite.Low), min(r.Bounds[i].High, finite.High)}
		}
	}
	return all
}

func (c *compiler) numbers(names []string) []int {
	n := make([]int, len(names))
	for i, name := range names {
		n[i] = c.column[name]
	}
	return n
}

func (p *Program) findReach() {
	p.reach = make([]reach, len(p.inputs))
	moved := make([]bool, p.columns)
	for i := range p.inputs {
		r := reach{make([]bool, len(p.nodes)), make([]bool, p.columns)}
		r.columns[i], moved[i] = true, true
		for k := range p.nodes {
			for _, in := range p.nodes[k].in {
				r.nodes[k] = r.nodes[k] || r.columns[in]
			}
			for _, out := range p.nodes[k].out {
				r.columns[out] = r.nodes[k]
				moved[out] = moved[out] || r.nodes[k]
			}
		}
		p.reach[i] = r
	}
	for k := range p.nodes {
		p.nodes[k].constant = !moved[p.nodes[k].out[0]]
	}
}

// Inputs are the names of the sampled columns that the program reads.
func (p *Program) Inputs() []string { return p.inputs }

// Outputs are the wanted names, in the order they were asked for.
func (p *Program) Outputs() []string { return p.outputs }

// Reaches reports whether the output can depend on the input, by their numbers.
func (p *Program) Reaches(input, output int) bool {
	return p.reach[input].columns[p.output[output]]
}
