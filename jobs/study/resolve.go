package study

import (
	"slices"
)

// resolve checks what can only be checked when everything is read, and fills in
// the study.
func (r *reader) resolve() {
	if r.top == nil {
		return
	}
	r.required()
	system := true
	if !r.formulas() {
		system = r.chooseBaseline() && r.resolveCars()
	}
	r.incomplete = !system
	r.checkLoops()
	for _, st := range r.statements() {
		r.formulaType(st)
	}
	for _, o := range r.outputs {
		r.outputType(o)
	}
	for _, c := range r.claims {
		r.claimTypes(c)
	}
	if !r.misspelt { // what a misspelt line would have given is not missed twice
		r.checkComputable()
	}
	r.indicesOf()
	r.checkTies()
	r.checkGroups()
	if r.errs.count > 0 {
		return
	}
	r.fill()
	r.tiesInUse()
	r.groupsInUse()
	r.indicesInUse()
	r.clashes()
	r.givenParts()
}

// required reports what a study cannot do without.
func (r *reader) required() {
	if _, named := r.top["vehicles"]; !r.formulas() && !named && r.errs.count == 0 {
		r.main.add(Error{r.s.Path, 1, 1, "vehicles", "no vehicles", "a study of model: vehicle names at least one; a study without is model: formulas"})
	}
	if !r.formulas() && r.errs.count == 0 && !slices.ContainsFunc(r.vehicles, func(d *vehicleDecl) bool { return d.Run }) {
		r.top["vehicles"].err("no vehicle runs", "a study names at least one vehicle")
	}
	if _, named := r.top["outputs"]; r.formulas() && (!named || len(r.outputs) == 0) && r.errs.count == 0 {
		r.main.add(Error{r.s.Path, 1, 1, "outputs", "no outputs", "a model of formulas has at least one"})
	}
}

// statements are all inputs in file order: shared, own, then each vehicle's.
func (r *reader) statements() []*statement {
	all := slices.Concat(r.inputs.order, r.own.order)
	for _, d := range r.vehicles {
		all = slices.Concat(all, d.stated.order, d.displaced.order, d.added.order)
	}
	return all
}

// fill puts what was read into the study.
func (r *reader) fill() {
	live := r.live()
	for _, st := range r.statements() {
		if st.Vehicle == "" || live[st.Name] {
			r.s.Inputs = append(r.s.Inputs, st.Input)
		}
	}
	for _, o := range r.outputs {
		r.s.Outputs = append(r.s.Outputs, o.Output)
	}
	for _, c := range r.claims {
		r.s.Claims = append(r.s.Claims, c.Claim)
	}
	r.s.find, r.s.notTaken = r.quantity, r.notTaken
}

// live are the vehicles' statements that a vehicle that runs, a car in its chain of bases
// or an expression reads: what only an unused template states is no input.
func (r *reader) live() map[string]bool {
	live := map[string]bool{}
	expression := func(names []string) {
		for _, name := range names {
			live[name] = true
		}
	}
	for _, st := range r.statements() {
		if d := r.vehicle(st.Vehicle); d != nil && d.Run {
			live[st.Name] = true
		}
		if st.Kind == Formula {
			expression(st.Expr.Names())
		}
	}
	for _, o := range r.outputs {
		expression(o.Expr.Names())
	}
	for _, c := range r.claims {
		expression(c.Expr.Names())
	}
	for _, d := range r.vehicles {
		for car := d; d.Run && car != nil; car = r.vehicle(car.car.Base) {
			car.markLive(live)
		}
	}
	return live
}

func (d *vehicleDecl) markLive(live map[string]bool) {
	for _, name := range d.car.Given {
		live[name] = true
	}
	for _, name := range d.items {
		live[name] = true
	}
}
