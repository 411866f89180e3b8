package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/model"
	"proofmass/sensitivity/split"
)

// RestOfAll is the cause that stands for what no other says: a vehicle that is computed from
// other things, or a number of its own that belongs to no cause.
const RestOfAll = "all else"

// An Evaluation is a program and the columns of the plan's draws that it reads.
type Evaluation struct {
	Program *model.Program
	Inputs  []int // of each input of the program: its number among the plan's drawn ones
}

// A Splitting is how the gain of a candidate over the baseline is made of its causes, before it
// is known in which of their quantities the two differ.
type Splitting struct {
	Evaluation
	Candidate, Baseline string
	pairs               []pair
	outputs             []splitOutput
	graph               *graph
}

// A pair is a quantity of a cause, of candidate and baseline: outputs of the program.
type pair struct {
	quantity, cause string
	own, base       int
}

// splitOutput is what is to be split, with every cause made, with none, and of the
// baseline: outputs of the program.
type splitOutput struct {
	name            string
	all, none, base int
}

// Causes are the hybrids of one candidate, evaluated for its outputs.
type Causes struct {
	Evaluation
	Candidate, Baseline string
	Outputs             []CausedOutput
	Mass                *Ledger // nil where it is not told
}

// A CausedOutput is split among the causes that it rests on, in the order of their names.
type CausedOutput struct {
	Name     string
	Quantity model.Quantity
	Causes   []string
	Sets     []split.Set // of them, as package split wants them
	Values   []int       // outputs of the program, one a set
	Relative bool        // nil for a candidate that is the baseline
	Itself   bool        // it is the quantity of a cause, or its gain
	Mass     int         // the cause that the ledger divides, -1: none
}

// A Ledger divides a change of kerb mass: outputs of the program.
type Ledger struct {
	Own, Base int
	Items     []LedgerItem
}

// A LedgerItem is a sum of columns with their signs.
type LedgerItem struct {
	Name    string
	Columns []int
	Signs   []float64
}

// Splittings are those of every candidate that has something to split.
func (p *Plan) Splittings() ([]*Splitting, error) {
	if p.Study.System == nil {
		return nil, nil
	}
	var all []*Splitting
	for _, v := range running(p.Study) {
		if v == p.Study.Baseline {
			continue
		}
		s, err := p.split(v)
		if err != nil {
			return nil, err
		}
		if s != nil {
			all = append(all, s)
		}
	}
	return all, nil
}

// split finds what may cause the gains of a candidate, and of what.
func (p *Plan) split(candidate string) (*Splitting, error) {
	s := &Splitting{Candidate: candidate, Baseline: p.Study.Baseline, graph: newGraph(p.Study)}
	made := newHybrid(s.graph, "", candidate, s.Baseline)
	whole := newHybrid(s.graph, "all else ", candidate, s.Baseline)
	whole.addRest()
	names, drawn := &numbered{}, p.drawnNumbers()
	for _, q := range p.Study.System.Quantities() {
		own, base := candidate+"."+q.Name, s.Baseline+"."+q.Name
		if q.Cause != "" && s.graph.evaluable(own, drawn) && s.graph.evaluable(base, drawn) {
			made.add(q.Name, q.Cause)
			s.pairs = append(s.pairs, pair{q.Name, q.Cause, names.number(own), names.number(base)})
		}
	}
	for _, name := range p.splitNames(candidate) {
		if s.graph.evaluable(name, drawn) && made.output(name, 0) != name {
			s.outputs = append(s.outputs, splitOutput{name, names.number(name), names.number(made.output(name, 0)), names.number(whole.output(name, 0))})
		}
	}
	if len(s.outputs) == 0 {
		return nil, nil
	}
	return s, s.compile(p, names.all, ruleOf(made, whole))
}

// numbered gives names their numbers as outputs of a program.
type numbered struct{ all []string }

func (n *numbered) number(name string) int {
	if at := slices.Index(n.all, name); at >= 0 {
		return at
	}
	n.all = append(n.all, name)
	return len(n.all) - 1
}

// splitNames are what claims speak of and the gains of headline quantities, each once.
func (p *Plan) splitNames(candidate string) []string {
	names := &numbered{}
	for _, c := range p.Study.Claims {
		for _, name := range c.Expr.Names() {
			if v, _ := Split(name); (v == candidate || v == "") && !undivided(p, name) {
				names.number(name)
			}
		}
	}
	for _, q := range p.Study.Headline() {
		name := candidate + "." + q + "_change"
		if slices.ContainsFunc(p.Columns, func(c Column) bool { return c.Name == name }) {
			names.number(name)
		}
	}
	return names.all
}

func undivided(p *Plan, name string) bool {
	q, _ := p.Study.Quantity(name)
	return q.Undivided
}

func (p *Plan) drawnNumbers() map[string]int {
	drawn := map[string]int{}
	for i, in := range p.Drawn {
		drawn[in.Name] = i
	}
	return drawn
}

// evaluable reports whether a name can be had from these draws alone.
func (g *graph) evaluable(name string, drawn map[string]int) bool {
	return g.Missing(name) == nil && g.within(name, drawn)
}

func (e *Evaluation) compile(p *Plan, names []string, find func(string) (model.Rule, error)) error {
	var err error
	if e.Program, err = model.Compile(names, find); err != nil {
		return fmt.Errorf("plan: causes: %w", err)
	}
	drawn := p.drawnNumbers()
	for _, name := range e.Program.Inputs() {
		at, known := drawn[name]
		if !known {
			return fmt.Errorf("plan: causes: %s is not drawn", name)
		}
		e.Inputs = append(e.Inputs, at)
	}
	return nil
}

// Causes makes the hybrids of the causes in which candidate and baseline differ in some row:
// columns are the outputs of the split's program. It is nil where nothing differs.
func (s *Splitting) Causes(p *Plan, columns [][]float64) (*Causes, error) {
	c := &Causes{Candidate: s.Candidate, Baseline: s.Baseline}
	stated := newHybrid(s.graph, "", s.Candidate, s.Baseline)
	withRest := newHybrid(s.graph, "all else ", s.Candidate, s.Baseline)
	for _, pair := range s.pairs {
		if !same(columns[pair.own], columns[pair.base]) {
			stated.add(pair.quantity, pair.cause)
			withRest.add(pair.quantity, pair.cause)
		}
	}
	withRest.addRest()
	names := &numbered{}
	c.Mass = s.ledger(p, names)
	mass := s.graph.quantity(s.Candidate + "." + wholeMass).Cause
	for _, o := range s.outputs {
		h := stated
		if !alike(columns[o.none], columns[o.base], columns[o.all]) {
			h = withRest
		}
		out := h.caused(o.name, names)
		out.Mass = slices.Index(out.Causes, mass)
		if c.Mass == nil {
			out.Mass = -1
		}
		if len(out.Causes) > 1 || len(out.Causes) == 1 && out.Mass >= 0 {
			c.Outputs = append(c.Outputs, out)
		}
	}
	if len(c.Outputs) == 0 {
		return nil, nil
	}
	return c, c.compile(p, names.all, ruleOf(stated, withRest))
}

// caused are the causes that a name rests on, and its hybrids.
func (h *hybrid) caused(name string, names *numbered) CausedOutput {
	out := CausedOutput{Name: name, Quantity: h.quantity(name), Relative: strings.HasSuffix(name, "_change") || strings.HasSuffix(name, "_difference")}
	gained := strings.TrimSuffix(strings.TrimSuffix(name, "_change"), "_difference")
	out.Itself = h.causeOf(gained, false, "") >= 0
	touched := h.touches(name)
	if k := h.causeOf(name, false, ""); k >= 0 {
		touched = 1 << k
	}
	var bits []int
	for k, cause := range h.causes {
		if touched&(1<<k) != 0 {
			bits, out.Causes = append(bits, k), append(out.Causes, cause)
		}
	}
	out.Sets = split.Combinations(len(bits))
	for _, s := range out.Sets {
		var made split.Set
		for i, k := range bits {
			made |= s >> i & 1 << k
		}
		out.Values = append(out.Values, names.number(h.output(name, made)))
	}
	return out
}

// same reports whether two columns have the same values, none counting as one.
func same(x, y []float64) bool {
	for i, v := range x {
		if v != y[i] && (v == v || y[i] == y[i]) {
			return false
		}
	}
	return true
}

// roundingOf is what rounding may leave of the difference of two columns that are the same
// thing computed in two ways, as a share of what they hold.
const roundingOf = 1e-9

// alike reports whether no row has more between x and y than rounding leaves, beside the
// largest value that any of the columns has.
func alike(x, y, z []float64) bool {
	scale := 0.0
	for _, column := range [][]float64{x, y, z} {
		for _, v := range column {
			if math.Abs(v) > scale {
				scale = math.Abs(v)
			}
		}
	}
	for i, v := range x {
		if v == v != (y[i] == y[i]) || math.Abs(v-y[i]) > float64(roundingOf*scale) {
			return false
		}
	}
	return true
}
