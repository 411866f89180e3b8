package vehicle

import (
	"fmt"
	"strings"

	"proofmass/model"
)

// A Car is one car of a study as its file states it: nothing is inherited here any
// more.
type Car struct {
	Name string
	// Given holds the full name of the node that gives a quantity, for each that is
	// given: its own, an inherited or a shared one.
	Given map[string]string
	// Undone are quantities that its bases were given and that it does not hold, as it
	// states what they are made from: what cannot be made anew never counts as nil.
	Undone []string
	// Displaced and Added are the full names of the item nodes.
	Displaced, Added []string
	// Bill are the weighed lines of its parts.
	Bill []BillLine
	// Base is the car that it is based on and counts its masses and its coast-down from,
	// "" if none.
	Base string

	Certified bool    // ask for the certified figure, with the test's own scatter
	SizeFor   SizeFor // what its parallel strings follow from; then they are given by their own name
	MassBasis string  // "us_curb" (or "") or "eu_running_order", with a driver of 75 kg
}

// A System is the model of all cars of a study. It is read-only after NewSystem.
type System struct {
	model    *Model
	cars     map[string]*car
	baseline *car
}

// car is a Car with the source of each of its quantities.
type car struct {
	Car
	base    *car // nil if none
	root    *car // at the end of the chain of bases, nil without a base
	running bool // its masses include a driver
	sources map[string]*source
	nested  *nested // of a car that is sized; own is below nil where it cannot be
}

// Suffixes of what a candidate has beside each of its quantities.
const (
	changeSuffix     = "_change"
	differenceSuffix = "_difference"
)

// NewSystem decides for each car where each of its quantities comes from. cars
// include templates that are not run; every car but the baseline is a candidate.
func (m *Model) NewSystem(cars []Car, baseline string) (*System, error) {
	s := &System{model: m, cars: map[string]*car{}}
	for _, c := range cars {
		if s.cars[c.Name] != nil {
			return nil, fmt.Errorf("vehicle %q: named twice", c.Name)
		}
		if c.Name == "" || strings.Contains(c.Name, ".") {
			return nil, fmt.Errorf("vehicle %q: a name has letters, digits and _", c.Name)
		}
		s.cars[c.Name] = &car{Car: c, sources: map[string]*source{}}
	}
	s.baseline = s.cars[baseline]
	if s.baseline == nil {
		return nil, fmt.Errorf("baseline %q: no such vehicle", baseline)
	}
	for _, c := range cars {
		if err := s.check(s.cars[c.Name]); err != nil {
			return nil, err
		}
	}
	for _, c := range cars {
		for _, e := range s.model.order {
			s.source(s.cars[c.Name], e.name)
		}
	}
	for _, c := range cars {
		if err := s.size(s.cars[c.Name]); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func (s *System) check(c *car) error {
	switch c.MassBasis {
	case "", "us_curb":
	case "eu_running_order":
		c.running = true
	default:
		return &Refused{c.Name, fmt.Sprintf("mass_basis %q", c.MassBasis), "it is us_curb or eu_running_order"}
	}
	if err := s.chain(c); err != nil {
		return err
	}
	if c.gives([]string{"displaced_from"}) && len(c.Displaced) > 0 {
		return &Refused{c.Name + ".displaced_from", "items under displaced beside it", "what is displaced is given item by item or follows from stiffness, never both"}
	}
	for q, node := range c.Given {
		e := s.model.named[q]
		switch {
		case e == nil:
			return fmt.Errorf("%s: %q is no quantity of the model", c.Name, q)
		case e.outputOnly:
			return &Refused{c.Name + "." + q, "computed, and not to be given", ""}
		case e.shared && strings.Contains(node, "."):
			return &Refused{c.Name + "." + q, "one value serves every vehicle", "state it under inputs"}
		}
	}
	return nil
}

// chain finds the car's base and the root of its chain.
func (s *System) chain(c *car) error {
	c.base = s.cars[c.Base]
	if c.base == nil && c.Base != "" {
		return fmt.Errorf("%s: based on %q: no such vehicle", c.Name, c.Base)
	}
	above := c.base
	for range s.cars {
		if above == nil {
			return nil
		}
		c.root, above = above, s.cars[above.Base]
	}
	return fmt.Errorf("%s: based on itself", c.Name)
}

// Rule returns the rule that makes name: "car.quantity", one of these followed by
// _change or _difference for a candidate, or a shared computed quantity
// (model_error_city). Its needs are full names: other quantities of cars, nodes that
// give one, or a plain quantity for which the study has nothing and whose default,
// DefaultText, is to be made. If it can't be made the error is a *Missing.
func (s *System) Rule(name string) (model.Rule, error) {
	carName, q, full := strings.Cut(name, ".")
	if !full {
		return s.sharedRule(name)
	}
	c := s.cars[carName]
	if c == nil {
		return model.Rule{}, fmt.Errorf("%s: no vehicle is called %q", name, carName)
	}
	if s.model.named[q] != nil {
		return s.ruleOf(c, q)
	}
	if strings.HasPrefix(q, billPrefix) {
		return s.billRule(c, q)
	}
	base, suffix, ok := s.relative(c, q)
	if !ok {
		return model.Rule{}, fmt.Errorf("%s: no such quantity", name)
	}
	return s.relativeRule(c, base, suffix)
}

func (s *System) sharedRule(name string) (model.Rule, error) {
	e := s.model.named[name]
	if e == nil || !e.shared || len(e.ways) == 0 {
		return model.Rule{}, fmt.Errorf("%s: no shared quantity that can be computed", name)
	}
	w := e.ways[0] // needs nothing but other shared quantities
	return model.Rule{Out: []string{name}, Needs: w.needs, Eval: w.eval, Start: w.start, Bounds: []model.Bounds{e.public.Bounds()}}, nil
}

func (s *System) ruleOf(c *car, q string) (model.Rule, error) {
	name, from := c.Name+"."+q, s.source(c, q)
	switch from.kind {
	case given, defaulted, sharedMade:
		if from.name == name {
			return model.Rule{}, fmt.Errorf("%s: an input, which no rule makes", name)
		}
		return model.Rule{Out: []string{name}, Needs: []string{from.name}, Eval: copyColumn}, nil
	case left:
		return model.Constant(name, s.model.named[q].absent.value), nil
	case made:
		outs := from.way.out
		if len(outs) == 0 {
			outs = []string{q}
		}
		rule := model.Rule{Needs: from.needs, Eval: from.way.eval, Start: from.way.start, Over: from.way.over}
		for _, out := range outs {
			rule.Out = append(rule.Out, c.Name+"."+out)
			bounds := s.model.named[out].public.Bounds()
			if from.way.by == byBill && s.model.named[out].limits == positive {
				bounds = nonNegative.bounds() // all lines of it may have been removed
			}
			rule.Bounds = append(rule.Bounds, bounds)
		}
		return rule, nil
	}
	return model.Rule{}, s.missing(c, q)
}

// relative splits the name of a candidate's change or difference.
func (s *System) relative(c *car, q string) (base, suffix string, ok bool) {
	if c == s.baseline {
		return "", "", false
	}
	for _, suffix := range []string{changeSuffix, differenceSuffix} {
		base, found := strings.CutSuffix(q, suffix)
		e := s.model.named[base]
		if found && e != nil && !(suffix == changeSuffix && e.temperature) {
			return base, suffix, true
		}
	}
	return "", "", false
}

func (s *System) relativeRule(c *car, q, suffix string) (model.Rule, error) {
	own, err := s.reference(c, q)
	if err != nil {
		return model.Rule{}, err
	}
	reference, err := s.reference(s.baseline, q)
	if err != nil {
		return model.Rule{}, err
	}
	if from := s.source(s.baseline, q); suffix == changeSuffix && from.kind == left {
		return model.Rule{}, &Missing{Name: c.Name + "." + q + suffix, Needs: []string{reference}} // no change against nothing
	}
	w := from2(relativeChange, own, reference)
	if suffix == differenceSuffix {
		w = difference(own, reference)
	}
	if driver := c.driver() - s.baseline.driver(); driver != 0 && s.model.named[q].traits.HoldsDriver {
		w = onBasisOf(driver, suffix, own, reference)
	}
	return model.Rule{Out: []string{c.Name + "." + q + suffix}, Needs: w.needs, Eval: w.eval}, nil
}

// onBasisOf compares masses on the mass basis of the baseline: driver is what the car's
// own counts in beyond it.
func onBasisOf(driver float64, suffix, own, reference string) way {
	if suffix == differenceSuffix {
		return from2(func(own, reference float64) float64 { return own - driver - reference }, own, reference)
	}
	return from2(func(own, reference float64) float64 { return relativeChange(own-driver, reference) }, own, reference)
}

// relativeChange is exactly nil for equal values.
func relativeChange(own, reference float64) float64 { return own/reference - 1 }

// Quantity describes a full name that Rule knows: its unit and meaning. A change is
// shown in per cent, a difference in the unit of what differs.
func (s *System) Quantity(name string) (model.Quantity, bool) {
	carName, q, full := strings.Cut(name, ".")
	if !full {
		return s.model.Find(name)
	}
	c := s.cars[carName]
	if c == nil {
		return model.Quantity{}, false
	}
	if e := s.model.named[q]; e != nil {
		return e.public, true
	}
	if strings.HasPrefix(q, billPrefix) {
		return billQuantity(q)
	}
	base, suffix, ok := s.relative(c, q)
	if !ok {
		return model.Quantity{}, false
	}
	return relativeQuantity(s.model.named[base].public, suffix, s.baseline.Name), true
}

// Quantities returns every quantity of the model, by subject.
func (s *System) Quantities() []model.Quantity { return s.model.Quantities() }

// Outputs returns the full names of the computed quantities that can be had for the
// car, given ones included, in the catalogue's order, those that are for checks alone
// left out. A candidate has their changes and differences beside them.
func (s *System) Outputs(carName string) []string {
	return s.computed(carName, false)
}

// Checks returns the full names of those that are for checks alone.
func (s *System) Checks(carName string) []string { return s.computed(carName, true) }

func (s *System) computed(carName string, aside bool) []string {
	c := s.cars[carName]
	if c == nil {
		return nil
	}
	var names []string
	for _, e := range s.model.order {
		if kind := s.source(c, e.name).kind; (len(e.ways) > 0 || s.byBill(c, e.name)) && (kind == given || kind == made) && s.serves(c, e) && e.traits.Aside == aside {
			names = append(names, carName+"."+e.name)
		}
	}
	return names
}

// serves is false for an intermediate of a question that the car was not asked: a
// range in the cold without its temperature, WLTP without its mass, the error of a
// consumption that cannot be had.
func (s *System) serves(c *car, e *entry) bool {
	return e.traits.Question == "" || s.has(c, e.traits.Question)
}
