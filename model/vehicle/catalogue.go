package vehicle

import (
	"fmt"
	"math"

	"proofmass/model"
	"proofmass/model/unit"
)

// quantity declares one catalogue entry: what the outside sees, and the ways to
// make it.
type quantity struct {
	name, unit, meaning, source string
	limits                      limits
	fallback, fallbackSource    string // the default, in the study's grammar
	judged                      bool   // how wide it is was judged, not measured
	absent                      *absence
	ways                        []way
	outputOnly                  bool // may not be given
	temperature                 bool
	shared                      bool // one value for all cars
	own                         bool // a default of its own for each chain of cars
	step                        bool // an intermediate: no use by itself
	factor                      string
	cause                       string  // to which a change that it makes is counted
	moves                       float64 // how far it goes, in normal scores, where its factor goes one up, unless that is tied
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

func (l limits) bounds() model.Bounds { return model.Bounds{Low: l.low, High: l.high} }

var (
	anyNumber   = limits{math.Inf(-1), math.Inf(1), false}
	positive    = limits{0, math.Inf(1), true}
	nonNegative = limits{0, math.Inf(1), false}
	share       = limits{0, 1, false}
	openShare   = limits{0, 1, true}
	kelvins     = limits{0, math.Inf(1), true}
)

// subjects lists the declarations in the order in which they are shown.
func subjects(drives Drives) [][]quantity {
	return [][]quantity{
		cellQuantities(), flatCellQuantities(), layoutQuantities(), packPartQuantities(), roomQuantities(), layerQuantities(), packQuantities(),
		carMassQuantities(), glazingQuantities(), testMassQuantities(), weightClassQuantities(drives), secondaryQuantities(), sizingQuantities(), handlingQuantities(), packInertiaQuantities(), billPlaceQuantities(),
		sandwichQuantities(), bodyStiffnessQuantities(), bondQuantities(), canQuantities(),
		electricsQuantities(), heatQuantities(), chargeQuantities(), costQuantities(), bondedQuantities(), warmUpQuantities(), equivalentQuantities(),
		airQuantities(), roadLoadQuantities(), driveQuantities(), batteryQuantities(), auxiliaryQuantities(),
		modelErrorQuantities(), energyQuantities(drives), phaseQuantities(drives), consumptionQuantities(drives), rangeQuantities(), steadyQuantities(),
		coldQuantities(drives), elasticityQuantities(drives), ratioQuantities(),
	}
}

// entry is a quantity with its public form.
type entry struct {
	quantity
	public model.Quantity
}

func publish(q quantity) model.Quantity {
	u, err := unit.Parse(q.unit)
	if err != nil {
		panic(fmt.Sprintf("vehicle: unit of %s: %v", q.name, err))
	}
	p := model.Quantity{
		Name: q.name, Unit: u, Meaning: q.meaning, Source: q.source,
		Low: q.limits.low, High: q.limits.high, LowOpen: q.limits.open,
		Default: q.fallback, DefaultSource: q.fallbackSource, DefaultJudged: q.judged,
		Traits: q.traits,
		Stated: !q.outputOnly, Computed: len(q.ways) > 0, Temperature: q.temperature, Better: better(q.name, u.Dimension()),
		Factor: q.factor, ShownAs: q.shownAs,
	}
	p.Cause = q.cause
	if q.usual != (usual{}) {
		p.Usual = model.Band{Low: u.ToSI(q.usual.low), High: u.ToSI(q.usual.high), Source: q.usual.source, Slip: q.usual.slip}
	}
	if q.absent != nil {
		p.Optional, p.Absent = true, q.absent.value
	}
	return p
}
