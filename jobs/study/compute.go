package study

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/formula"
	"proofmass/model/vehicle"
)

// checkLoops reports formulas that need themselves, each loop once, at its first one.
func (r *resolver) checkLoops() {
	var names []string
	for _, st := range r.statements() {
		names = append(names, st.Name)
	}
	for _, o := range r.outputs {
		names = append(names, o.Name)
	}
	for _, loop := range r.graph.loops(names) {
		for _, name := range loop {
			r.looped[name] = true
		}
		text := "needs itself"
		if len(loop) > 1 {
			text = "needs itself, by way of " + source.Printable(strings.Join(loop[1:], ", "), 120)
		}
		for _, name := range loop {
			if f, ok := r.expressionOf(name); ok {
				f.Err(name+" "+text, "a formula may not need itself")
				break
			}
		}
	}
}

// expressionOf is where the expression of an input or an output stands.
func (r *resolver) expressionOf(name string) (source.Field, bool) {
	if st := r.statement(name); st != nil {
		return st.expr, true
	}
	if o := r.output(name); o != nil {
		return o.expr, true
	}
	return source.Field{}, false
}

// checkComputable reports expressions that read what cannot be computed.
func (r *resolver) checkComputable() {
	for _, st := range r.statements() {
		if st.Kind == Formula && !st.broken {
			r.computableExpr(st.expr, st.Expr)
		}
	}
	for _, o := range r.outputs {
		if !o.broken {
			r.computableExpr(o.expr, o.Expr)
		}
	}
	for _, c := range r.claims {
		switch {
		case c.Expr == nil || c.Text == "":
		case c.hasHolds:
			r.computableExpr(c.holds, c.Expr)
		default:
			r.computable(c.of, 0, c.Of)
			for i, reading := range c.Readings {
				r.computable(c.meanings[i], 0, reading.Of)
			}
		}
	}
}

func (r *resolver) computableExpr(f source.Field, e *formula.Expr) {
	for _, name := range e.Names() {
		if !r.computable(f, e.NameOffset(name), name) {
			return
		}
	}
}

// computable reports whether a name can be computed; where not, the error at the
// expression says what would have to be given. What is wrong with an input or an output
// of the study is said there and not again where it is read.
func (r *resolver) computable(f source.Field, offset int, name string) bool {
	if _, declared := r.expressionOf(name); declared || r.looped[name] {
		return true
	}
	err := r.graph.Missing(name)
	if err == nil {
		return true
	}
	if lacks := new(vehicle.Missing); errors.As(err, &lacks) && len(lacks.Needs) > 0 {
		f.ErrAt(offset, name+" cannot be computed", "not given: "+source.Printable(source.Listed(lacks.Needs, "and"), 300)+r.becauseNotTaken(lacks.Needs))
	} else {
		f.ErrAt(offset, name+" cannot be computed", source.Printable(err.Error(), 200))
	}
	return false
}

// becauseNotTaken explains what a vehicle lacks by what it did not inherit.
func (r *resolver) becauseNotTaken(needs []string) string {
	text := ""
	for _, d := range r.vehicles {
		lacks := func(need string) bool { return strings.HasPrefix(need, d.Name+".") }
		if !slices.ContainsFunc(needs, lacks) {
			continue
		}
		if why := r.notTaken(d); why != "" {
			text += "; " + why
		}
	}
	return text
}

// notTaken says which computed quantities the vehicle neither takes over nor can
// compute, and what changes them; "" if there are none.
func (r *resolver) notTaken(d *vehicleDecl) string {
	var lost, follow []string
	for _, q := range slices.Sorted(maps.Keys(d.undone)) {
		if _, stated := d.car.Given[q]; !stated && r.graph.node(d.Name+"."+q).err != nil {
			lost = append(lost, q)
		}
	}
	part := func(q string) bool {
		known, _ := r.catalogue.Find(q)
		return known.Optional && slices.Contains(lost, q)
	}
	reasons := map[string][]string{}
	for _, q := range lost {
		if slices.ContainsFunc(r.catalogue.MadeFrom(q), part) {
			follow = append(follow, q)
		} else {
			reasons[d.undone[q]] = append(reasons[d.undone[q]], q)
		}
	}
	var all []string
	for _, part := range slices.Sorted(maps.Keys(reasons)) {
		it := "it"
		if len(reasons[part]) > 1 {
			it = "them"
		}
		all = append(all, d.Name+" does not take over "+source.Listed(reasons[part], "and")+", which its "+part+" may change: state "+it+" too")
	}
	if len(follow) > 0 {
		all = append(all, source.Listed(follow, "and")+" may follow from them")
	}
	return strings.Join(all, "; ")
}

// defaultsRead are the defaults of the catalogue that running vehicles, outputs or
// claims read, with their kinds.
func (r *resolver) defaultsRead() map[string]Kind {
	if r.defaulted == nil {
		r.defaulted = map[string]Kind{}
		r.graph.walk(func(name string) {
			if in, ok := r.graph.Input(name); ok && in.Default {
				r.defaulted[name] = in.Kind
			}
		}, r.wanted(), map[string]bool{})
	}
	return r.defaulted
}

// wanted are the names that a run may have to compute.
func (r *resolver) wanted() []string {
	var names []string
	for _, v := range r.s.Vehicles {
		if v.Run && r.s.System != nil {
			names = append(names, r.s.System.Outputs(v.Name)...)
		}
	}
	for _, o := range r.outputs {
		names = append(names, o.Name)
	}
	for _, c := range r.claims {
		if c.Expr != nil {
			names = append(names, c.Expr.Names()...)
		}
	}
	for _, d := range r.facts {
		names = append(names, d.Of)
	}
	return names
}
