package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/study"
	"proofmass/sampling/copula"
	"proofmass/sampling/marginal"
)

// A Tie is a group of drawn inputs that are not independent.
type Tie struct {
	Inputs     []int // numbers of the program's inputs, in the order of Dependence
	Dependence *copula.Dependence
	Whole      bool // never told apart: defaults that the catalogue ties
}

// addTies finds the study's groups among the drawn inputs and makes one factor of
// each: the shares of inputs that come together cannot be told apart.
func (p *Plan) addTies(g *graph) error {
	number := map[string]int{}
	for i, name := range p.Program.Inputs() {
		number[name] = i
	}
	p.inGroup = make([]bool, len(p.Drawn))
	for _, group := range p.Study.Together {
		t := Tie{Dependence: group.Dependence}
		shift := make([]float64, len(group.Inputs))
		for k, name := range group.Inputs {
			p.inGroup[number[name]] = true
			t.Inputs = append(t.Inputs, number[name]) // every input of a study is stored, so each is drawn
			shift[k] = group.Dependence.Pearson(0, k)
		}
		p.Ties = append(p.Ties, t)
		p.mergeFactors(Factor{Name: strings.Join(group.Inputs, " + "), Inputs: t.Inputs, Show: group.Inputs[0], Shift: shift, Columns: group.Inputs})
	}
	return p.tieDefaults(g)
}

// tieDefaults ties the defaults that the catalogue draws together. What the study
// states of them is no default, and leaves the tie.
func (p *Plan) tieDefaults(g *graph) error {
	for _, of := range p.Study.Catalogue.Factors() {
		var inputs []int
		for i, in := range p.Drawn {
			if in.Default && g.quantity(in.Name).Factor == of.Name && !g.hidden(in.Name) {
				inputs = append(inputs, i)
			}
		}
		if len(inputs) < 2 {
			continue
		}
		inputs, spearman, shift := p.joint(of, inputs)
		dependence, err := copula.NewDependence(spearman)
		if err != nil {
			return fmt.Errorf("plan: %s: %w", of.Name, err)
		}
		p.Ties = append(p.Ties, Tie{Inputs: inputs, Dependence: dependence, Whole: true})
		f := Factor{Name: of.Name, Inputs: inputs, Shift: shift}
		most := 0
		for k, i := range inputs {
			p.inGroup[i] = true
			f.Columns = append(f.Columns, p.Drawn[i].Name)
			if math.Abs(shift[k]) > math.Abs(shift[most]) {
				most = k
			}
		}
		f.Show = f.Columns[most]
		p.mergeFactors(f)
	}
	return nil
}

// Tied reports whether a drawn input stands in a group.
func (p *Plan) Tied(input int) bool { return p.inGroup[input] }

// mergeFactors puts a factor in the place of the first of those that it is made of.
func (p *Plan) mergeFactors(group Factor) {
	isPart := func(f Factor) bool { return slices.Contains(group.Inputs, f.Inputs[0]) }
	first := slices.IndexFunc(p.Factors, isPart)
	p.Factors[first] = group
	rest := slices.DeleteFunc(p.Factors[first+1:], isPart)
	p.Factors = p.Factors[:first+1+len(rest)]
}

// singleValues warns of tied inputs that are discrete.
func (p *Plan) singleValues() []string {
	var w []string
	for _, group := range p.Study.Together {
		if names := discrete(p.Study, group); len(names) > 0 {
			w = append(w, fmt.Sprintf("Tied inputs of single values (%s): their rank correlation in the draws is smaller than the one stated.", strings.Join(names, ", ")))
		}
	}
	return w
}

// Together says what a reader must know of inputs that are drawn together.
func (p *Plan) Together() []string {
	var w []string
	for _, group := range p.Study.Together {
		names := strings.Join(group.Inputs, ", ")
		how := "what one of them alone takes away holds what the others bring, so that their shares overlap."
		if len(p.Index.Players) > 0 && p.Index.Rows > 0 {
			how = "an index of one of them alone would hold what the others bring. So they are swapped as one, and Shapley effects share out what they have in common, which is not to say what causes it."
		}
		w = append(w, fmt.Sprintf("%s are tied: %s Their bar in tornado.parquet moves %s, the others to their middle given it.", names, how, group.Inputs[0]))
	}
	if len(w) > 0 {
		w = append(w, "Tied inputs reach their extremes together less often than in some real data (normal copula: no tail dependence). Inputs of different groups are independent.")
	}
	return w
}

func discrete(s *study.Study, group study.Tie) []string {
	var names []string
	for _, in := range s.Inputs {
		if slices.Contains(group.Inputs, in.Name) && marginal.Discrete(in.Marginal) {
			names = append(names, in.Name)
		}
	}
	return names
}
