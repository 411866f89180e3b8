package plan

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/model"
	"proofmass/model/vehicle"
)

// Levers are what a unit of each lever, pulled at one vehicle, does to what is told of it and
// to what is claimed, all else held.
type Levers struct {
	Evaluation
	Vehicle string
	Pulls   []Pulled
}

// Pulled is an output with and without a lever: outputs of the program.
type Pulled struct {
	Lever       vehicle.Lever
	Name        string
	Quantity    model.Quantity
	With, Plain int
}

// Levers are those of each vehicle that runs, none for a model of formulas.
func (p *Plan) Levers() ([]*Levers, error) {
	if p.Study.System == nil {
		return nil, nil
	}
	var all []*Levers
	g, drawn := newGraph(p.Study), p.drawnNumbers()
	for _, v := range running(p.Study) {
		l, names := &Levers{Vehicle: v}, &numbered{}
		var pulls []*pull
		for _, lever := range vehicle.Levers() {
			of, can := newPull(g, p.Study.System.Pull(v, lever), drawn)
			if !can {
				continue
			}
			pulls = append(pulls, of)
			for _, name := range p.pulledNames(v) {
				if g.evaluable(name, drawn) && of.touches(name) {
					l.Pulls = append(l.Pulls, Pulled{lever, name, g.quantity(name), names.number(of.with(name)), names.number(name)})
				}
			}
		}
		if len(l.Pulls) == 0 {
			continue
		}
		if err := l.compile(p, names.all, ruleOfPulls(g, pulls)); err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
}

// pulledNames are what is told of every vehicle and all that claims speak of, each once.
func (p *Plan) pulledNames(of string) []string {
	names := &numbered{}
	for _, q := range p.Study.System.Quantities() {
		if q.Levers {
			names.number(of + "." + q.Name)
		}
	}
	for _, c := range p.Study.Claims {
		for _, name := range c.Expr.Names() {
			if !undivided(p, name) {
				names.number(name)
			}
		}
	}
	return names.all
}

// A pull is a vehicle with a lever pulled: what the lever moves, and what rests on that by
// the vehicle's own rules, goes by another name. Other vehicles stay as they are, those too
// that count from this one.
type pull struct {
	*graph
	vehicle.Pull
	touched map[string]bool
	of      map[string]string        // names that were handed out: what they are of
	moved   map[string]vehicle.Moved // the same of what the lever moves
}

// newPull leaves out what the lever would move that these draws do not tell, since nobody
// asks for it; can is false where they do not tell by how much another is moved.
func newPull(g *graph, pulled vehicle.Pull, drawn map[string]int) (p *pull, can bool) {
	p = &pull{graph: g, Pull: pulled, touched: map[string]bool{}, of: map[string]string{}, moved: map[string]vehicle.Moved{}}
	p.Moved = nil
	for _, m := range pulled.Moved {
		if !g.evaluable(m.Column, drawn) {
			continue
		}
		for _, need := range m.Needs {
			if !g.evaluable(need, drawn) {
				return p, false
			}
		}
		p.Moved = append(p.Moved, m)
	}
	return p, len(p.Moved) > 0
}

// meant reports whether a column is this quantity of the vehicle: by its full name, and to a
// rule of the vehicle's own by whatever it has the quantity from.
func (p *pull) meant(column string, h vehicle.Held, own bool) bool {
	return column == p.Car+"."+h.Quantity || own && column == h.Column
}

// own reports whether the i-th need of a name's rule is a quantity of the pulled vehicle,
// whatever it is called there, and other whether it is certainly none that moves.
func (p *pull) own(name string, i int) (own, other bool) {
	v, q := Split(name)
	switch {
	case v == "":
		return false, false
	case strings.HasSuffix(q, "_change"), strings.HasSuffix(q, "_difference"): // against the baseline, which comes second
		own = v == p.Car && i == 0 || p.study.Baseline == p.Car && i == 1
	default:
		own = v == p.Car
	}
	return own, !own
}

func (p *pull) find(need string, own bool) (moved *vehicle.Moved, held bool) {
	for _, h := range p.Held {
		if p.meant(need, h, own) {
			return nil, true
		}
	}
	for i := range p.Moved {
		if p.meant(need, p.Moved[i].Held, own) {
			return &p.Moved[i], false
		}
	}
	return nil, false
}

// touches reports whether a name rests on something that the lever moves.
func (p *pull) touches(name string) bool {
	if moved, held := p.find(name, false); moved != nil || held {
		return moved != nil
	}
	if is, known := p.touched[name]; known {
		return is
	}
	p.touched[name] = false // of a loop, which there is none
	for i, need := range p.Needs(name) {
		own, other := p.own(name, i)
		moved, held := p.find(need, own)
		if !other && !held && (moved != nil || p.touches(need)) {
			p.touched[name] = true
		}
	}
	return p.touched[name]
}

// with is what a name goes by where the lever is pulled.
func (p *pull) with(name string) string {
	if moved, _ := p.find(name, false); moved != nil {
		return p.moving(moved)
	}
	if !p.touches(name) {
		return name
	}
	called := fmt.Sprintf("%s with %s of %s", name, p.Name, p.Car)
	p.of[called] = name
	return called
}

func (p *pull) moving(m *vehicle.Moved) string {
	called := fmt.Sprintf("%s moved by %s of %s", m.Quantity, p.Name, p.Car)
	p.moved[called] = *m
	return called
}

// ruleOfPulls finds the rule of a name of one of these, or of the study.
func ruleOfPulls(g *graph, pulls []*pull) func(name string) (model.Rule, error) {
	return func(name string) (model.Rule, error) {
		for _, p := range pulls {
			if m, is := p.moved[name]; is {
				return model.Rule{Out: []string{name}, Needs: m.Needs, Eval: m.Eval}, nil
			}
			if of, is := p.of[name]; is {
				return p.rule(of)
			}
		}
		return g.Rule(name)
	}
}

// rule is that of a name which the lever touches, its needs and what it makes renamed.
func (p *pull) rule(name string) (model.Rule, error) {
	rule, err := p.Rule(name)
	if err != nil {
		return rule, err
	}
	rule.Needs, rule.Out = slices.Clone(rule.Needs), slices.Clone(rule.Out)
	for i, need := range rule.Needs {
		own, other := p.own(name, i)
		switch moved, held := p.find(need, own); {
		case held || other:
		case moved != nil:
			rule.Needs[i] = p.moving(moved)
		default:
			rule.Needs[i] = p.with(need)
		}
	}
	for i, out := range rule.Out {
		rule.Out[i] = p.with(out)
	}
	return rule, nil
}
