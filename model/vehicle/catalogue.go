package vehicle

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proofmass/model"
	"proofmass/model/unit"
)

// quantity declares one catalogue entry: what the outside sees, and the ways to
// make it.
type quantity struct {
	name, unit, meaning, source string
	limits                      limits
	fallback, fallbackSource    string // the default, in the study's grammar
	absent                      *absence
	ways                        []way
	outputOnly                  bool // may not be given
	temperature                 bool
	shared                      bool // one value for all cars
	own                         bool // a default of its own for each chain of cars
	step                        bool // an intermediate: no use by itself
	factor                      string
	shownAs                     []string
	traits                      model.Traits
	usual                       usual
}

// usual is a quantity's band in its display unit.
type usual struct {
	low, high    float64
	source, slip string
}

// Where bands come from.
const (
	practice = "common practice, no source"
	sheets   = "data sheets or rules in general, from memory"
	derived  = "computed from usual values of its parts, no source"
)

// absence says what an optional quantity counts as if it is left out, and which
// others, if given, show that it was forgotten and not left out.
type absence struct {
	value  float64
	unless []string
}

func absent(value float64, unless ...string) *absence { return &absence{value: value, unless: unless} }

// limits bound a quantity in SI.
type limits struct {
	low, high float64
	open      bool
}

var (
	anyNumber   = limits{math.Inf(-1), math.Inf(1), false}
	positive    = limits{0, math.Inf(1), true}
	nonNegative = limits{0, math.Inf(1), false}
	share       = limits{0, 1, false}
	openShare   = limits{0, 1, true}
	kelvins     = limits{0, math.Inf(1), true}
)

// subjects lists the declarations in the order in which they are shown.
func subjects() [][]quantity {
	return [][]quantity{
		cellQuantities(), layoutQuantities(), packPartQuantities(), packQuantities(),
		carMassQuantities(), glazingQuantities(), testMassQuantities(),
		airQuantities(), roadLoadQuantities(), driveQuantities(), batteryQuantities(), auxiliaryQuantities(),
		modelErrorQuantities(), energyQuantities(), consumptionQuantities(), rangeQuantities(), steadyQuantities(),
		coldQuantities(), elasticityQuantities(), ratioQuantities(),
	}
}

// entry is a quantity with its public form.
type entry struct {
	quantity
	public model.Quantity
}

// book is the catalogue, made once.
type book struct {
	order []*entry
	named map[string]*entry
}

var catalogue *book

// The ways of the declarations ask the catalogue in their turn, so it can't be an
// initialiser.
func init() { catalogue = newBook(subjects()) }

func newBook(subjects [][]quantity) *book {
	b := &book{named: map[string]*entry{}}
	for _, q := range slices.Concat(subjects...) {
		if b.named[q.name] != nil {
			panic("vehicle: declared twice: " + q.name)
		}
		e := &entry{quantity: q, public: publish(q)}
		b.order = append(b.order, e)
		b.named[q.name] = e
	}
	return b
}

func publish(q quantity) model.Quantity {
	u, err := unit.Parse(q.unit)
	if err != nil {
		panic(fmt.Sprintf("vehicle: unit of %s: %v", q.name, err))
	}
	p := model.Quantity{
		Name: q.name, Unit: u, Meaning: q.meaning, Source: q.source,
		Low: q.limits.low, High: q.limits.high, LowOpen: q.limits.open,
		Default: q.fallback, DefaultSource: q.fallbackSource,
		Traits: q.traits,
		Stated: !q.outputOnly, Computed: len(q.ways) > 0, Temperature: q.temperature, Better: better(q.name, u.Dimension()),
		Factor: q.factor, ShownAs: q.shownAs,
	}
	if q.usual != (usual{}) {
		p.Usual = model.Band{Low: u.ToSI(q.usual.low), High: u.ToSI(q.usual.high), Source: q.usual.source, Slip: q.usual.slip}
	}
	if q.absent != nil {
		p.Optional, p.Absent = true, q.absent.value
	}
	return p
}

// Catalogue returns every quantity of the model, by subject: cells, pack, car, road
// load, losses, energy, range.
func Catalogue() []model.Quantity {
	all := make([]model.Quantity, len(catalogue.order))
	for i, e := range catalogue.order {
		all[i] = e.public
	}
	return all
}

// Find returns the quantity of that name.
func Find(name string) (model.Quantity, bool) {
	e := catalogue.named[name]
	if e == nil {
		return model.Quantity{}, false
	}
	return e.public, true
}

// Words returns the words that stand for numbers of a quantity that is a choice
// (layout: hexagonal | square), and nil for any other.
func Words(quantity string) map[string]float64 {
	q, _ := Find(quantity)
	return q.Words
}

// DefaultText returns the default of a quantity in the study's own grammar, "" if
// there is none. name is what a Rule needs: a plain quantity, or a full name where
// cars have a default of their own: a certified car's model_error_own, a chain's
// drive_draw.
func DefaultText(name string) string {
	car, q, full := strings.Cut(name, ".")
	if full {
		if q == "model_error_own" && car != "" {
			return certifiedOwnError
		}
		if e := catalogue.named[q]; e != nil && e.own && car != "" {
			return e.fallback
		}
		return ""
	}
	if e := catalogue.named[name]; e != nil {
		return e.fallback
	}
	return ""
}

// MadeFrom returns the quantities that q is made from, at any depth and by any way,
// in alphabetical order; kerb_mass also lists "displaced" and "added". A car that states
// one of them does not inherit a value of q that its base was given. What usually
// changes without q is left out: a new pack mass leaves a given energy as it was.
func MadeFrom(q string) []string {
	seen := map[string]bool{}
	var walk func(name string)
	walk = func(name string) {
		e := catalogue.named[name]
		if e == nil {
			return
		}
		for _, w := range e.ways {
			for _, part := range w.undone {
				seen[part] = true
			}
			if w.fixed {
				continue
			}
			for _, need := range slices.Concat(w.needs, w.from) {
				if part, ok := bare(need); ok && !seen[part] {
					seen[part] = true
					walk(part)
				}
			}
		}
	}
	walk(q)
	delete(seen, q)
	names := make([]string, 0, len(seen))
	for name := range seen {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
