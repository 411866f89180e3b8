package plan

import (
	"fmt"
	"math"
	"slices"
)

// addFactors groups the program's inputs into factors, in the order of the
// stored columns, which is that of the study.
func (p *Plan) addFactors() {
	number := map[string]int{}
	for i, name := range p.Program.Inputs() {
		number[name] = i
	}
	var pair []int
	for _, name := range []string{"model_error_z1", "model_error_z2"} {
		if i, ok := number[name]; ok {
			pair = append(pair, i)
		}
	}
	for _, c := range p.Columns {
		if i, ok := number[c.Name]; ok {
			p.Factors = append(p.Factors, Factor{Name: c.Name, Inputs: []int{i}, Show: c.Name, Shift: []float64{1}})
		} else if len(pair) > 0 && c.Input == nil && slices.Contains(modelErrorColumns, c.Name) {
			p.Factors = append(p.Factors, Factor{Name: modelError, Inputs: pair, Show: c.Name, Shift: p.modelErrorShift(pair)})
			pair = nil
		}
	}
	for _, f := range p.Factors {
		p.order = append(p.order, f.Inputs...)
	}
}

// modelErrorShift puts both factors of the model's error at the same percentile of
// their own: with ln city = s1 z1 and ln highway = s2 (r z1 + sqrt(1-r^2) z2), a
// score z of both means z1 = z and z2 = z sqrt((1-r)/(1+r)).
func (p *Plan) modelErrorShift(pair []int) []float64 {
	if len(pair) < 2 {
		return []float64{1}
	}
	r := p.medians()["model_error_correlation"]
	return []float64{1, math.Sqrt((1 - r) / (1 + r))}
}

// askedOutputs are the outputs whose indices are wanted: those the study lists,
// else what claims use and the headline set.
func (p *Plan) askedOutputs(g *graph) ([]int, error) {
	if len(p.Study.Indices.Of) > 0 {
		return p.listedOutputs()
	}
	wanted := map[string]bool{}
	for _, name := range g.headlineNames() {
		wanted[name] = true
	}
	for _, c := range p.Study.Claims {
		for _, name := range c.Expr.Names() {
			wanted[name] = true
		}
	}
	if p.Study.System == nil {
		for _, o := range p.Study.Outputs {
			wanted[o.Name] = true
		}
	}
	var outputs []int
	for _, c := range p.Columns {
		if wanted[c.Name] && c.Input == nil && p.varies(c.Output) {
			outputs = append(outputs, c.Output)
		}
	}
	return outputs, nil
}

// varies reports whether any sampled input reaches the output.
func (p *Plan) varies(output int) bool {
	for input := range p.Program.Inputs() {
		if p.Program.Reaches(input, output) {
			return true
		}
	}
	return false
}

// listedOutputs resolves `indices: {of: [...]}`; a claim stands for what it uses.
func (p *Plan) listedOutputs() ([]int, error) {
	var outputs []int
	for _, name := range p.Study.Indices.Of {
		var names []string
		for _, c := range p.Study.Claims {
			if c.Name == name || name == Joint {
				names = append(names, c.Expr.Names()...)
			}
		}
		if names == nil {
			names = []string{name}
		}
		for _, n := range names {
			i := slices.IndexFunc(p.Columns, func(c Column) bool { return c.Name == n })
			if i < 0 {
				return nil, fmt.Errorf("plan: indices.of: %s is not among the stored outputs", n)
			}
			asked := n == name || p.Columns[i].Input == nil // an input that a claim names is not asked for itself
			if asked && p.varies(p.Columns[i].Output) && !slices.Contains(outputs, p.Columns[i].Output) {
				outputs = append(outputs, p.Columns[i].Output)
			}
		}
	}
	return outputs, nil
}

// ShownOutputs are the program outputs by which the factors are shown, in the
// factors' order.
func (p *Plan) ShownOutputs() []int {
	var outputs []int
	for _, f := range p.Factors {
		i := slices.IndexFunc(p.Columns, func(c Column) bool { return c.Name == f.Show })
		outputs = append(outputs, p.Columns[i].Output)
	}
	return outputs
}
