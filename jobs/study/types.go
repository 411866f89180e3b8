package study

import (
	"errors"
	"math"
	"strings"

	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
)

// nameError says what is wrong with a name in an expression.
type nameError struct{ found, allowed string }

func (e *nameError) Error() string { return e.found + "; " + e.allowed }

// errKnown stands for a name whose own error is already reported.
var errKnown = errors.New("already reported")

var errUnknown = errors.New("not known")

// expressionError reports what the formula package or a name found wrong, at the
// place within the text.
func (f field) expressionError(err error) {
	if errors.Is(err, errKnown) {
		return
	}
	offset := 0
	if e := new(formula.Error); errors.As(err, &e) {
		offset = e.Offset
	}
	if e := new(nameError); errors.As(err, &e) {
		f.errAt(offset, e.found, e.allowed)
		return
	}
	found, allowed, _ := strings.Cut(err.Error(), "; ")
	f.errAt(offset, printable(found, 200), printable(allowed, 200))
}

// typeOf is the type of a name in an expression.
func (r *reader) typeOf(name string) (formula.Type, error) {
	if r.looped[name] {
		return formula.Type{}, errKnown
	}
	if st := r.statement(name); st != nil {
		if st.broken || !r.formulaType(st) {
			return formula.Type{}, errKnown
		}
		t := formula.Type{Dimension: st.Unit.Dimension(), Temperature: st.temperature}
		_, inCatalogue := vehicle.Find(st.Quantity)
		t.Either = !st.temperature && st.Kind != Formula && (r.formulas() || !inCatalogue) // K is a temperature and a difference
		return t, nil
	}
	if o := r.output(name); o != nil {
		if !r.outputType(o) {
			return formula.Type{}, errKnown
		}
		return formula.Type{Dimension: o.Unit.Dimension(), Temperature: o.temperature}, nil
	}
	q, err := r.modelQuantity(name)
	return formula.Type{Dimension: q.Unit.Dimension(), Temperature: q.Temperature}, err
}

// statement finds an input by its full name, nil if none states it.
func (r *reader) statement(name string) *statement {
	for _, list := range []statements{r.inputs, r.own} {
		if st := list.named[name]; st != nil {
			return st
		}
	}
	owner, _, _ := strings.Cut(name, ".")
	if d := r.vehicle(owner); d != nil {
		for _, list := range []statements{d.stated, d.displaced, d.added} {
			if st := list.named[name]; st != nil {
				return st
			}
		}
	}
	return nil
}

// modelQuantity describes a name that no line of the study states: what a vehicle
// computes or inherits, or a shared default of the catalogue.
func (r *reader) modelQuantity(name string) (model.Quantity, error) {
	owner, rest, full := strings.Cut(name, ".")
	switch {
	case r.formulas():
		return model.Quantity{}, r.unknownName(name)
	case full && r.vehicle(owner) == nil:
		return model.Quantity{}, &nameError{quote(owner) + " is no vehicle of this study", suggestNames(owner, r.vehicleNames())}
	case r.incomplete:
		return model.Quantity{}, errKnown
	case full:
		if q, ok := r.s.System.Quantity(name); ok {
			return q, nil
		}
		return model.Quantity{}, r.unknownQuantity(owner, rest)
	}
	q, known := vehicle.Find(name)
	if _, err := r.s.System.Rule(name); known && (q.Default != "" || err == nil) {
		return q, nil
	}
	if known {
		return q, &nameError{name + " is stated nowhere for all vehicles", "name one vehicle's: " + r.s.Baseline + "." + name}
	}
	return q, r.unknownName(name)
}

func (r *reader) unknownName(name string) error {
	if r.errs.full() {
		return errUnknown // is counted, not shown: spare the search
	}
	var known []string
	for _, st := range r.statements() {
		known = append(known, st.Name)
	}
	for _, o := range r.outputs {
		known = append(known, o.Name)
	}
	if !r.formulas() {
		known = append(known, catalogueNames()...)
	}
	allowed := "an expression names inputs, own quantities, outputs and vehicle.quantity"
	if r.formulas() {
		allowed = "an expression names inputs and outputs of this study"
	}
	if near := nearest(name, known); near != "" {
		allowed = `did you mean "` + near + `"?`
	}
	return &nameError{quote(name) + " is not known", allowed}
}

// unknownQuantity says what was meant by a quantity that a vehicle does not have.
func (r *reader) unknownQuantity(owner, name string) error {
	if r.errs.full() {
		return errUnknown
	}
	base, suffix := name, ""
	for _, s := range []string{"_change", "_difference"} {
		if b, ok := strings.CutSuffix(name, s); ok {
			base, suffix = b, s
		}
	}
	q, known := vehicle.Find(base)
	switch {
	case known && owner == r.s.Baseline:
		return &nameError{quote(owner+"."+name) + " is not known", owner + " is the baseline, against which the others change"}
	case known && q.Temperature && suffix == "_change":
		return &nameError{quote(owner+"."+name) + " is not known", "a temperature has no change in %: use " + base + "_difference"}
	}
	var names []string
	for _, q := range vehicle.Catalogue() {
		names = append(names, q.Name)
	}
	if near := nearest(base, names); near != "" {
		return &nameError{quote(owner+"."+name) + " is not known", `did you mean "` + owner + "." + near + suffix + `"?`}
	}
	return &nameError{quote(owner+"."+name) + " is not known", "the catalogue is shown by: proofmass list outputs"}
}

// quantity describes any name that an expression may use, see Study.Quantity.
func (r *reader) quantity(name string) (model.Quantity, bool) {
	if st := r.statement(name); st != nil {
		q := model.Quantity{Name: name, Unit: st.Unit, Low: st.Low, High: st.High, Meaning: st.Free.Meaning, Source: st.Free.Source, Temperature: st.temperature, Stated: true}
		if known, ok := vehicle.Find(st.Quantity); ok && !r.formulas() {
			known.Source = st.Free.Source
			q = known
		}
		return q, true
	}
	if o := r.output(name); o != nil {
		return model.Quantity{Name: name, Unit: o.Unit, Low: math.Inf(-1), High: math.Inf(1), Meaning: o.Meaning,
			Source: o.Free.Source, Temperature: o.temperature, Computed: true}, true
	}
	q, err := r.modelQuantity(name)
	return q, err == nil
}

// formulaType checks the expression of a formula input, once, and reports whether
// its type is known.
func (r *reader) formulaType(st *statement) bool {
	if st.broken || st.Kind != Formula || st.checked {
		return !st.broken
	}
	st.checked = true
	st.broken = r.looped[st.Name] || !r.checkFormula(st)
	return !st.broken
}

func (r *reader) checkFormula(st *statement) bool {
	t, err := st.Expr.Check(r.typeOf)
	if err != nil {
		st.expr.expressionError(err)
		return false
	}
	if t.Bool {
		st.expr.err("a condition", "a formula gives a number; if(condition, a, b) makes one of a condition")
		return false
	}
	_, inCatalogue := vehicle.Find(st.Quantity)
	settled := st.unitGiven || st.isItem() || inCatalogue && !r.formulas()
	if !settled {
		st.Unit, st.temperature = r.coherent(t.Dimension), t.Temperature
		return true
	}
	if t.Dimension != st.Unit.Dimension() {
		st.expr.err("the formula has the dimension "+t.Dimension.String(), st.Quantity+" has "+st.Unit.Dimension().String()+", as in "+st.Unit.String())
		return false
	}
	if t.Dimension == unit.Kelvin && !t.Either && t.Temperature != st.temperature {
		st.expr.err("the formula gives "+temperatureWord(t.Temperature), st.Quantity+" is "+temperatureWord(st.temperature))
		return false
	}
	return true
}

func temperatureWord(absolute bool) string {
	if absolute {
		return "a temperature"
	}
	return "a difference of temperatures"
}

// isItem reports whether the statement is a displaced or added mass.
func (st *statement) isItem() bool {
	return strings.HasPrefix(st.Quantity, "displaced.") || strings.HasPrefix(st.Quantity, "added.")
}

// outputType checks the expression of an extra output, once.
func (r *reader) outputType(o *outputDecl) bool {
	if o.broken || o.checked {
		return !o.broken
	}
	o.checked = true
	o.broken = r.looped[o.Name] || !r.checkOutput(o)
	return !o.broken
}

func (r *reader) checkOutput(o *outputDecl) bool {
	t, err := o.Expr.Check(r.typeOf)
	if err != nil {
		o.expr.expressionError(err)
		return false
	}
	if t.Bool {
		o.expr.err("a condition", "an output is a number; a condition is a claim: {holds: condition}")
		return false
	}
	o.temperature = t.Temperature
	if o.hasUnit && o.Unit.Dimension() != t.Dimension {
		o.unitField.err(o.unitField.what()+" has the dimension "+o.Unit.Dimension().String(), "the formula has "+t.Dimension.String())
		return false
	}
	if o.hasUnit && o.Unit.Absolute() && !t.Temperature {
		o.unitField.err(o.unitField.what()+" is a temperature", "the formula gives a difference, in K")
		return false
	}
	if !o.hasUnit {
		o.Unit = r.coherent(t.Dimension)
	}
	return true
}

// coherent is the SI unit of a dimension, with the study's own currency for money.
func (r *reader) coherent(d unit.Dimension) unit.Unit {
	si := unit.SI(d)
	if r.money.code == "" {
		return si
	}
	if u, err := unit.Parse(strings.ReplaceAll(si.String(), "money", r.money.code)); err == nil {
		return u
	}
	return si
}
