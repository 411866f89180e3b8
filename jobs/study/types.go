package study

import (
	"errors"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/unit"
)

var errUnknown = errors.New("not known")

// typeOf is the type of a name in an expression.
func (r *resolver) typeOf(name string) (formula.Type, error) {
	if r.looped[name] {
		return formula.Type{}, source.ErrReported
	}
	if st := r.statement(name); st != nil {
		if st.broken || !r.formulaType(st) {
			return formula.Type{}, source.ErrReported
		}
		t := formula.Type{Dimension: st.Unit.Dimension(), Temperature: st.Temperature}
		_, inCatalogue := r.catalogue.Find(st.Quantity)
		t.Either = !st.Temperature && st.Kind != Formula && (r.formulas() || !inCatalogue) // K is a temperature and a difference
		return t, nil
	}
	if o := r.output(name); o != nil {
		if !r.outputType(o) {
			return formula.Type{}, source.ErrReported
		}
		return formula.Type{Dimension: o.Unit.Dimension(), Temperature: o.Temperature}, nil
	}
	q, err := r.modelQuantity(name)
	return formula.Type{Dimension: q.Unit.Dimension(), Temperature: q.Temperature}, err
}

// modelQuantity describes a name that no line of the study states: what a vehicle
// computes or inherits, or a shared default of the catalogue.
func (r *resolver) modelQuantity(name string) (model.Quantity, error) {
	owner, rest, full := strings.Cut(name, ".")
	switch {
	case r.formulas():
		return model.Quantity{}, r.unknownName(name)
	case full && r.vehicle(owner) == nil && r.missed(owner, r.vehicleNames(), "vehicles"):
		return model.Quantity{}, source.ErrReported
	case full && r.vehicle(owner) == nil:
		return model.Quantity{}, &source.Message{Found: source.Quote(owner) + " is no vehicle of this study", Allowed: suggestNames(owner, r.vehicleNames())}
	case r.carless():
		return model.Quantity{}, source.ErrReported
	case full:
		if q, ok := r.s.System.Quantity(name); ok {
			return q, nil
		}
		return model.Quantity{}, r.unknownQuantity(owner, rest)
	}
	q, known := r.catalogue.Find(name)
	if _, err := r.s.System.Rule(name); known && (q.Default != "" || err == nil) {
		return q, nil
	}
	if known {
		return q, &source.Message{Found: name + " is stated nowhere for all vehicles", Allowed: "name one vehicle's: " + r.s.Baseline + "." + name}
	}
	return q, r.unknownName(name)
}

func (r *resolver) unknownName(name string) error {
	if r.errs.Full() {
		return errUnknown // is counted, not shown: spare the search
	}
	if r.s.isWithdrawn(name) {
		return &source.Message{Found: source.Quote(name) + " was withdrawn", Allowed: "what reads it is withdrawn too, or reads something else"}
	}
	known := r.inputNames()
	for _, o := range r.outputs {
		known = append(known, o.Name)
	}
	if r.missed(name, known, "inputs", "own", "outputs", "choices") {
		return source.ErrReported
	}
	if !r.formulas() {
		known = append(known, r.catalogueNames()...)
	}
	allowed := "an expression names inputs, own quantities, outputs and vehicle.quantity"
	if r.formulas() {
		allowed = "an expression names inputs and outputs of this study"
	}
	if near := source.Nearest(name, known); near != "" {
		allowed = `did you mean "` + near + `"?`
	}
	return &source.Message{Found: source.Quote(name) + " is not known", Allowed: allowed}
}

// unknownQuantity says what was meant by a quantity that a vehicle does not have.
func (r *resolver) unknownQuantity(owner, name string) error {
	if r.errs.Full() {
		return errUnknown
	}
	base, suffix := name, ""
	for _, s := range []string{"_change", "_difference"} {
		if b, ok := strings.CutSuffix(name, s); ok {
			base, suffix = b, s
		}
	}
	q, known := r.catalogue.Find(base)
	switch {
	case known && owner == r.s.Baseline:
		return &source.Message{Found: source.Quote(owner+"."+name) + " is not known", Allowed: owner + " is the baseline, against which the others change"}
	case known && q.Temperature && suffix == "_change":
		return &source.Message{Found: source.Quote(owner+"."+name) + " is not known", Allowed: "a temperature has no change in %: use " + base + "_difference"}
	}
	var names []string
	for _, q := range r.catalogue.Quantities() {
		names = append(names, q.Name)
	}
	if near := source.Nearest(base, names); near != "" {
		return &source.Message{Found: source.Quote(owner+"."+name) + " is not known", Allowed: `did you mean "` + owner + "." + near + suffix + `"?`}
	}
	return &source.Message{Found: source.Quote(owner+"."+name) + " is not known", Allowed: "the catalogue is shown by: proofmass list outputs"}
}

// quantity describes any name that an expression may use, see Study.Quantity.
func (r *resolver) quantity(name string) (model.Quantity, bool) {
	if st := r.statement(name); st != nil {
		return r.s.inputQuantity(st.Input), true
	}
	if o := r.output(name); o != nil {
		return o.Output.quantity(), true
	}
	q, err := r.modelQuantity(name)
	return q, err == nil
}

// formulaType checks the expression of a formula input, once, and reports whether
// its type is known.
func (r *resolver) formulaType(st *statement) bool {
	if st.broken || st.Kind != Formula || st.checked {
		return !st.broken
	}
	st.checked = true
	st.broken = r.looped[st.Name] || !r.checkFormula(st)
	return !st.broken
}

func (r *resolver) checkFormula(st *statement) bool {
	t, err := st.Expr.Check(r.typeOf)
	if err != nil {
		uncertain.ExpressionError(st.expr, err)
		return false
	}
	if t.Bool {
		st.expr.Err("a condition", "a formula gives a number; if(condition, a, b) makes one of a condition")
		return false
	}
	_, inCatalogue := r.catalogue.Find(st.Quantity)
	settled := st.unitStated || st.isItem() || inCatalogue && !r.formulas()
	if !settled {
		st.Unit, st.Temperature = r.coherent(t.Dimension), t.Temperature
		return true
	}
	if t.Dimension != st.Unit.Dimension() {
		st.expr.Err("the formula has the dimension "+t.Dimension.String(), st.Quantity+" has "+st.Unit.Dimension().String()+", as in "+st.Unit.String())
		return false
	}
	if t.Dimension == unit.Kelvin && !t.Either && t.Temperature != st.Temperature {
		st.expr.Err("the formula gives "+temperatureWord(t.Temperature), st.Quantity+" is "+temperatureWord(st.Temperature))
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

// outputType checks the expression of an extra output, once.
func (r *resolver) outputType(o *outputDecl) bool {
	if o.broken || o.checked {
		return !o.broken
	}
	o.checked = true
	o.broken = r.looped[o.Name] || !r.checkOutput(o)
	return !o.broken
}

func (r *resolver) checkOutput(o *outputDecl) bool {
	t, err := o.Expr.Check(r.typeOf)
	if err != nil {
		uncertain.ExpressionError(o.expr, err)
		return false
	}
	if t.Bool {
		o.expr.Err("a condition", "an output is a number; a condition is a claim: {holds: condition}")
		return false
	}
	o.Temperature = t.Temperature
	if o.hasUnit && o.Unit.Dimension() != t.Dimension {
		o.unitField.Err(o.unitField.What()+" has the dimension "+o.Unit.Dimension().String(), "the formula has "+t.Dimension.String())
		return false
	}
	if o.hasUnit && o.Unit.Absolute() && !t.Temperature {
		o.unitField.Err(o.unitField.What()+" is a temperature", "the formula gives a difference, in K")
		return false
	}
	if !o.hasUnit {
		o.Unit = r.coherent(t.Dimension)
		if name := o.Expr.Name(); name != "" { // a copy is shown as what it copies
			if q, known := r.quantity(name); known {
				o.Unit = q.Unit
			}
		}
	}
	return true
}

// coherent is the SI unit of a dimension, with the study's own currency for money.
func (r *resolver) coherent(d unit.Dimension) unit.Unit {
	si := unit.SI(d)
	if r.numbers.Currency() == "" {
		return si
	}
	if u, err := unit.Parse(strings.ReplaceAll(si.String(), "money", r.numbers.Currency())); err == nil {
		return u
	}
	return si
}
