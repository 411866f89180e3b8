package vehicle

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"proofmass/model"
)

// A Model is a catalogue of quantities over schedules, from which the systems of studies
// are made. It is read-only after New and serves any number of goroutines.
type Model struct {
	drives  Drives
	order   []*entry
	named   map[string]*entry
	parts   map[string][]string          // of a whole, as they are declared
	made    map[string]map[string]string // of a quantity: what it is made from, to what must be given beside
	factors []Factor
}

// Options are what a model has of its own.
type Options struct {
	Drives     Drives     // instead of the published ones
	Quantities []Addition // beside the built-in ones
}

// An Addition is a quantity that a model has beside the built-in ones. Its traits serve
// as those of any other: a part of a whole is a part wherever parts are added up.
type Addition struct {
	model.Quantity
	Needs []string   // the quantities of the same car that make it; none if nothing does
	Eval  model.Eval // its column from theirs
	Own   bool       // its default is drawn for each chain of cars apart
	Moves float64    // how far it goes, in normal scores, where its factor goes one up
}

// BuiltIn is the model that is used where a study is not given another.
var BuiltIn = sync.OnceValue(func() *Model {
	m, err := New(Options{})
	if err != nil {
		panic(err) // what is built in is part of the program
	}
	return m
})

// New makes a model. The error is of what the options add: a name that is taken, or
// leads nowhere, or a schedule over which nothing can be computed.
func New(o Options) (*Model, error) {
	m := &Model{drives: o.Drives, named: map[string]*entry{}, parts: map[string][]string{}, made: map[string]map[string]string{}}
	if m.drives == nil {
		m.drives = Published()
	}
	if err := m.drives.check(); err != nil {
		return nil, err
	}
	for _, q := range slices.Concat(subjects(m.drives)...) {
		if err := m.declare(&entry{quantity: q, public: publish(q)}); err != nil {
			return nil, err
		}
	}
	for _, a := range o.Quantities {
		if err := m.declare(a.entry()); err != nil {
			return nil, err
		}
	}
	for _, q := range billQuantities(m.billParts()) {
		if err := m.declare(&entry{quantity: q, public: publish(q)}); err != nil {
			return nil, err
		}
	}
	for _, e := range m.order {
		for i := range e.ways {
			e.ways[i].from = m.expanded(e.ways[i].from)
		}
	}
	if err := m.checkAdditions(o.Quantities); err != nil {
		return nil, err
	}
	for _, e := range m.order {
		m.made[e.name] = m.makers(e.name)
	}
	m.factors = m.allFactors()
	return m, nil
}

func (m *Model) declare(e *entry) error {
	if m.named[e.name] != nil {
		return fmt.Errorf("vehicle: %s: declared twice", e.name)
	}
	if e.name == "" || strings.ContainsAny(e.name, ".!=: ") {
		return fmt.Errorf("vehicle: %q: a name has letters, digits and _", e.name)
	}
	m.order = append(m.order, e)
	m.named[e.name] = e
	if whole := e.traits.PartOf; whole != "" {
		m.parts[whole] = append(m.parts[whole], e.name)
	}
	return nil
}

// entry is the addition as the built-in quantities are declared.
func (a Addition) entry() *entry {
	q := quantity{name: a.Name, unit: a.Unit.String(), meaning: a.Meaning, source: a.Source, limits: limits{a.Low, a.High, a.LowOpen},
		fallback: a.Default, fallbackSource: a.DefaultSource, judged: a.DefaultJudged, outputOnly: !a.Stated, temperature: a.Temperature,
		own: a.Own, factor: a.Factor, moves: a.Moves, shownAs: a.ShownAs, traits: a.Traits}
	if a.Optional {
		q.absent = absent(a.Absent)
	}
	if a.Eval != nil {
		q.ways = []way{{needs: a.Needs, eval: a.Eval}}
	}
	e := &entry{quantity: q, public: a.Quantity}
	e.public.Computed = len(q.ways) > 0
	return e
}

// checkAdditions refuses names that lead nowhere.
func (m *Model) checkAdditions(added []Addition) error {
	for _, a := range added {
		for _, name := range slices.Concat(a.Needs, a.ShownAs, []string{a.Beside, a.PartOf, a.RestOf, a.RouteTo, a.Question}, a.Convention.Where, a.Convention.Unless) {
			if name != "" && m.named[name] == nil {
				return fmt.Errorf("vehicle: %s: %q is no quantity of the model", a.Name, name)
			}
		}
		if a.Factor != "" && !slices.ContainsFunc(builtInFactors, func(f Factor) bool { return f.Name == a.Factor }) {
			return fmt.Errorf("vehicle: %s: %q is no factor of the model", a.Name, a.Factor)
		}
	}
	return nil
}

// partsMark stands before a whole in what a way is made from, for all of its parts.
const partsMark = "parts:"

// expanded puts the parts of a whole in the place of the mark.
func (m *Model) expanded(from []string) []string {
	var all []string
	for _, name := range from {
		if whole, of := strings.CutPrefix(name, partsMark); of {
			all = append(all, m.parts[whole]...)
		} else {
			all = append(all, name)
		}
	}
	return all
}

// Drives are the schedules of the model, in the order in which they are shown.
func (m *Model) Drives() Drives { return slices.Clone(m.drives) }

// Quantities returns every quantity of the model, by subject: cells, pack, car, road
// load, losses, energy, range.
func (m *Model) Quantities() []model.Quantity {
	all := make([]model.Quantity, len(m.order))
	for i, e := range m.order {
		all[i] = e.public
	}
	return all
}

// Find returns the quantity of that name.
func (m *Model) Find(name string) (model.Quantity, bool) {
	e := m.named[name]
	if e == nil {
		return model.Quantity{}, false
	}
	return e.public, true
}

// DefaultText returns the default of a quantity in the study's own grammar, "" if
// there is none. name is what a Rule needs: a plain quantity, or a full name where
// cars have a default of their own: a certified car's model_error_own, a chain's
// drive_draw.
func (m *Model) DefaultText(name string) string {
	car, q, full := strings.Cut(name, ".")
	if full {
		if q == "model_error_own" && car != "" {
			return certifiedOwnError
		}
		if e := m.named[q]; e != nil && e.own && car != "" {
			return e.fallback
		}
		return ""
	}
	if e := m.named[name]; e != nil {
		return e.fallback
	}
	return ""
}
