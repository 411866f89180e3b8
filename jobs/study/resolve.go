package study

import (
	"slices"

	"proofmass/jobs/study/source"
)

// resolve checks what can only be checked when everything is read, and fills in the
// study. It does nothing where there are no declarations to go on with.
func resolve(s *Study, d *declared, errs *source.Collector) {
	if d.top == nil {
		return
	}
	r := &resolver{declared: d, s: s, errs: errs, looped: map[string]bool{}}
	s.Model, s.Baseline = d.model, d.baseline
	r.required()
	if !r.formulas() && r.chooseBaseline() {
		r.resolveCars()
	}
	r.makeGraph()
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
	for _, c := range r.badClaims {
		r.badClaimParts(c)
	}
	if !r.unclear { // what a line that is not understood would have given is not missed twice
		r.checkComputable()
	}
	r.checkAims()
	r.checkFacts()
	r.checkGauges()
	r.indicesOf()
	r.checkTies()
	r.checkGroups()
	r.checkShowIn()
	if r.errs.Count() > 0 {
		return
	}
	r.fill()
	r.tiesInUse()
	r.groupsInUse()
	r.indicesInUse()
	r.choicesInUse()
	r.clashes()
	r.partsAgree()
}

// makeGraph makes the graph of names of what is declared.
func (r *resolver) makeGraph() {
	r.graph = newGraph(r.catalogue, r.s.System)
	for _, st := range r.statements() {
		r.graph.stated[st.Name] = st.Input
	}
	for _, o := range r.outputs {
		if o.Expr != nil {
			r.graph.formulas[o.Name] = o.Expr
		}
	}
	r.s.Graph = r.graph
}

// required reports what a study cannot do without.
func (r *resolver) required() {
	if _, named := r.top["vehicles"]; !r.formulas() && !named && r.errs.Count() == 0 {
		r.errs.Add(Error{Place: Place{File: r.s.Path, Line: 1, Column: 1}, Field: "vehicles", Found: "no vehicles", Allowed: "a study of model: vehicle names at least one; a study without is model: formulas"})
	}
	if !r.formulas() && r.errs.Count() == 0 && !slices.ContainsFunc(r.vehicles, func(d *vehicleDecl) bool { return d.Run }) {
		r.top["vehicles"].Err("no vehicle runs", "a study names at least one vehicle")
	}
	if _, named := r.top["outputs"]; r.formulas() && (!named || len(r.outputs) == 0) && r.errs.Count() == 0 {
		r.errs.Add(Error{Place: Place{File: r.s.Path, Line: 1, Column: 1}, Field: "outputs", Found: "no outputs", Allowed: "a model of formulas has at least one"})
	}
}

// fill puts what was read into the study.
func (r *resolver) fill() {
	live := r.live()
	for _, st := range r.statements() {
		if st.Vehicle == "" || live[st.Name] {
			r.s.Inputs = append(r.s.Inputs, *st.Input)
			r.s.past(st.Name, st.Free)
		}
	}
	for _, o := range r.outputs {
		r.s.Outputs = append(r.s.Outputs, o.Output)
		r.s.past(o.Name, o.Free)
	}
	for _, c := range r.claims {
		r.s.Claims = append(r.s.Claims, c.Claim)
		r.s.past(c.Name, c.Free)
	}
	r.fillFacts()
	r.fillGauges()
	for i, v := range r.s.Vehicles {
		r.s.Vehicles[i].NotTaken = r.notTaken(r.vehicle(v.Name))
		if v.Run {
			r.s.past(v.Name, v.Free)
		}
	}
	r.graph.addClaims(r.s.Claims)
}

// live are the vehicles' statements that a vehicle that runs, a car in its chain of bases
// or an expression reads: what only an unused template states is no input.
func (r *resolver) live() map[string]bool {
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
	for _, d := range r.facts {
		live[d.Of] = true
	}
	for _, d := range r.gauges {
		live[d.Of] = true
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
	for _, l := range d.billed.lines {
		for _, name := range []string{l.Mass, l.Count, l.X, l.Y, l.Z, l.Length, l.Width, l.Height} {
			live[name] = true
		}
	}
}
