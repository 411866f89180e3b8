package plan

import (
	"math"
	"slices"

	"proofmass/jobs/study"
	"proofmass/model"
)

// An Inspection is what is looked at in a few draws before a run: every quantity
// that the outputs and claims rest on, and those with which they should agree, each
// as its rule gives it, bounds or not.
type Inspection struct {
	Program *model.Program
	Inputs  []int // of each input of the program: its number among the plan's drawn ones

	looks  []look // of each output of the program, each behind what it is made from
	number map[string]int
}

// look is one quantity and what it is made from.
type look struct {
	name     string
	quantity model.Quantity
	bounds   model.Bounds
	needs    []int // the looks among these
	node     bool  // a line of the study, or one repeated
}

// Inspection says what to look at.
func (p *Plan) Inspection() (*Inspection, error) {
	g := newGraph(p.Study)
	b := inspector{graph: g, x: &Inspection{number: map[string]int{}}, drawn: map[string]int{}, can: map[string]bool{}}
	for i, in := range p.Drawn {
		b.drawn[in.Name] = i
	}
	for _, name := range p.Program.Outputs() {
		b.visit(name)
	}
	for _, name := range g.comparable() {
		b.visit(name)
	}
	names := make([]string, len(b.x.looks))
	for i, l := range b.x.looks {
		names[i] = l.name
	}
	var err error
	b.x.Program, err = model.Compile(names, func(name string) (model.Rule, error) {
		rule, err := g.Rule(name)
		rule.Bounds = nil
		return rule, err
	})
	if err != nil {
		return nil, err
	}
	for _, name := range b.x.Program.Inputs() {
		b.x.Inputs = append(b.x.Inputs, b.drawn[name])
	}
	return b.x, nil
}

// comparable are the quantities of running vehicles that say whether others agree, and
// whether they are of a usual size.
func (g *graph) comparable() []string {
	var names []string
	for _, v := range running(g.study) {
		for _, name := range append(g.study.System.Outputs(v), g.study.System.Checks(v)...) {
			if q := g.quantity(name); q.RestOf != "" || q.RouteTo != "" || q.Usual != (model.Band{}) {
				names = append(names, name)
				if q.RouteTo != "" {
					names = append(names, v+"."+q.RouteTo)
				}
			}
		}
	}
	return names
}

// inspector lists what can be computed from the draws of a plan.
type inspector struct {
	*graph
	x     *Inspection
	drawn map[string]int
	can   map[string]bool
}

// visit lists what the name is made from, then the name. It reports whether the draws
// give it: no default is drawn for the sake of a look.
func (b *inspector) visit(name string) bool {
	if can, known := b.can[name]; known {
		return can
	}
	b.can[name] = false // a loop was refused before
	rule, err := b.Rule(name)
	if err != nil {
		return false
	}
	if _, drawn := b.drawn[name]; rule.Drawn() && !drawn {
		return false
	}
	l := look{name: name, quantity: b.quantity(name), bounds: model.Bounds{Low: math.Inf(-1), High: math.Inf(1)}, node: len(rule.Needs) == 0}
	for _, need := range rule.Needs {
		if !b.visit(need) {
			return false
		}
		l.needs = append(l.needs, b.x.number[need])
	}
	for i, out := range rule.Out {
		if out == name && rule.Bounds != nil {
			l.bounds = rule.Bounds[i]
		}
	}
	v, q := Split(name)
	if node := stated(b.study, v, q); node != "" && slices.Equal(rule.Needs, []string{node}) {
		l.node = true
	}
	b.can[name] = true
	b.x.number[name] = len(b.x.looks)
	b.x.looks = append(b.x.looks, l)
	return true
}

// restsOn lists the looks that one is made from, itself among them.
func (x *Inspection) restsOn(name string) map[string]bool {
	all := map[string]bool{}
	var walk func(k int)
	walk = func(k int) {
		if all[x.looks[k].name] {
			return
		}
		all[x.looks[k].name] = true
		for _, need := range x.looks[k].needs {
			walk(need)
		}
	}
	if k, ok := x.number[name]; ok {
		walk(k)
	}
	return all
}

// Inspected is the plan that knows what the draws of an inspection show: raw columns
// of its program's outputs, and those of the plan's own program. What is infeasible in
// every draw gets no index runs.
func (p *Plan) Inspected(x *Inspection, raw, kept [][]float64) (*Plan, error) {
	q := *p
	q.never = make([]bool, len(kept))
	for output, column := range kept {
		q.never[output] = infeasible(column) == len(column)
	}
	j := judge{plan: p, x: x, raw: raw, clean: make([][]bool, len(raw)), odd: map[string]bool{}}
	j.impossible()
	j.disagreements()
	j.bases()
	j.unusual()
	j.broken()
	q.Contradictions, q.odd, q.Slips = j.contradictions, j.texts, j.slips
	q.odd = append(q.odd, q.neverFeasible(j.rows())...)
	q.odd = append(q.odd, q.lookAtFacts(kept)...)
	q.Index = Indices{}
	return &q, q.planIndices(newGraph(p.Study))
}

func infeasible(column []float64) int {
	n := 0
	for _, v := range column {
		if v != v {
			n++
		}
	}
	return n
}

// stated finds the input that gives a quantity of a vehicle, which a claim may rest on
// by its own name.
func stated(s *study.Study, vehicle, quantity string) string {
	for _, car := range s.Cars {
		if car.Name == vehicle {
			return car.Given[quantity]
		}
	}
	return ""
}
