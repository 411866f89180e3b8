package plan

import (
	"fmt"
	"slices"

	"proofmass/jobs/study"
	"proofmass/model/vehicle"
)

// addFactors groups the program's inputs into factors, in the order of the stored
// columns, which is that of the study. Hidden inputs stand where the first column that
// shows them does.
func (p *Plan) addFactors(g *graph) {
	number := map[string]int{}
	hidden := map[string][]int{} // by their factor
	for i, name := range p.Program.Inputs() {
		if p.Drawn[i].Choice > 0 {
			continue // what is decided is no factor
		}
		number[name] = i
		if g.hidden(name) {
			hidden[factorName(g, name)] = append(hidden[factorName(g, name)], i)
		}
	}
	shown := map[string]Factor{} // by the column that shows it
	for name, inputs := range hidden {
		f := p.hiddenFactor(g, name, inputs)
		shown[f.Show] = f
	}
	for _, c := range p.Columns {
		if i, ok := number[c.Name]; ok {
			p.Factors = append(p.Factors, Factor{Name: c.Name, Inputs: []int{i}, Show: c.Name, Shift: []float64{1}, Columns: []string{c.Name}})
		} else if f, ok := shown[c.Name]; ok {
			p.Factors = append(p.Factors, f)
		}
	}
	for _, f := range p.Factors {
		p.order = append(p.order, f.Inputs...)
	}
}

// factorName is the name of the factor that a default belongs to: of a chain of cars, by
// the car at its root.
func factorName(g *graph, input string) string {
	name := g.quantity(input).Factor
	if owner, _ := Split(input); owner != "" {
		return owner + "." + name
	}
	return name
}

// hiddenFactor is one factor of hidden inputs, independent of one another.
func (p *Plan) hiddenFactor(g *graph, name string, inputs []int) Factor {
	_, plain := Split(name)
	of, _ := p.Study.Catalogue.FactorNamed(plain)
	f := Factor{Name: name}
	f.Inputs, _, f.Shift = p.joint(of, inputs)
	for _, i := range f.Inputs {
		for _, column := range g.shownAs(p.Drawn[i].Name) {
			if !slices.Contains(f.Columns, column) {
				f.Columns = append(f.Columns, column)
			}
		}
	}
	f.Show = f.Columns[0]
	return f
}

// joint are these inputs in the order of the factor, with how they are drawn.
func (p *Plan) joint(of vehicle.Factor, inputs []int) (ordered []int, spearman [][]float64, shift []float64) {
	var names []string
	for _, name := range of.Quantities {
		for _, i := range inputs {
			if p.Drawn[i].Quantity == name {
				ordered, names = append(ordered, i), append(names, name)
			}
		}
	}
	spearman, shift = of.Joint(names)
	return ordered, spearman, shift
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
		if wanted[c.Name] && c.Input == nil && p.varies(c.Output) && !p.isNever(c.Output) {
			outputs = append(outputs, c.Output)
		}
	}
	return outputs, nil
}

// isNever reports whether no draw of an inspection has the output.
func (p *Plan) isNever(output int) bool { return p.never != nil && p.never[output] }

// varies reports whether any sampled input reaches the output.
func (p *Plan) varies(output int) bool {
	for input := range p.Program.Inputs() {
		if p.Drawn[input].Choice == 0 && p.Program.Reaches(input, output) {
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
			if c.Name == name || name == study.AllClaims {
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
			if asked && !p.isNever(p.Columns[i].Output) && p.varies(p.Columns[i].Output) && !slices.Contains(outputs, p.Columns[i].Output) {
				outputs = append(outputs, p.Columns[i].Output)
			}
		}
	}
	return outputs, nil
}

// shownOutputs are the program outputs by which the factors are shown, in the
// factors' order.
func (p *Plan) shownOutputs() []int {
	var outputs []int
	for _, f := range p.Factors {
		i := slices.IndexFunc(p.Columns, func(c Column) bool { return c.Name == f.Show })
		outputs = append(outputs, p.Columns[i].Output)
	}
	return outputs
}
