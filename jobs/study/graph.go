package study

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"proofmass/model/formula"
	"proofmass/model/vehicle"
)

// needs are the names that a name is computed from; none for a leaf.
func (r *reader) needs(name string) ([]string, error) {
	if st := r.statement(name); st != nil {
		if st.Kind == Formula && st.Expr != nil {
			return st.Expr.Names(), nil
		}
		return nil, nil
	}
	if o := r.output(name); o != nil {
		if o.Expr == nil {
			return nil, nil
		}
		return o.Expr.Names(), nil
	}
	if r.s.System == nil {
		return nil, nil
	}
	if vehicle.DefaultText(name, false) != "" {
		return nil, nil
	}
	rule, err := r.s.System.Rule(name)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(slices.Clone(rule.Needs), func(need string) bool { return need == name }), nil
}

// visit is how far the search for loops has come with a name.
type visit int

const (
	open visit = iota + 1
	done
)

// checkLoops reports formulas that need themselves, each loop once.
func (r *reader) checkLoops() {
	r.looped, r.lacks = map[string]bool{}, map[string]error{}
	seen := map[string]visit{}
	for _, st := range r.statements() {
		r.follow(st.Name, seen, nil)
	}
	for _, o := range r.outputs {
		r.follow(o.Name, seen, nil)
	}
}

// follow searches depth first; path holds the names that led here.
func (r *reader) follow(name string, seen map[string]visit, path []string) {
	switch seen[name] {
	case done:
		return
	case open:
		r.loop(path[slices.Index(path, name):])
		return
	}
	seen[name] = open
	path = append(path, name)
	needs, _ := r.needs(name) // what is missing is reported elsewhere
	for _, need := range needs {
		r.follow(need, seen, path)
	}
	seen[name] = done
}

// loop reports a loop at its first formula.
func (r *reader) loop(names []string) {
	reported := false
	for _, name := range names {
		r.looped[name] = true
	}
	text := "needs itself"
	if len(names) > 1 {
		text = "needs itself, by way of " + printable(strings.Join(names[1:], ", "), 120)
	}
	for _, name := range names {
		if st := r.statement(name); st != nil && !reported {
			st.expr.err(name+" "+text, "a formula may not need itself")
			reported = true
		} else if o := r.output(name); o != nil && !reported {
			o.expr.err(name+" "+text, "a formula may not need itself")
			reported = true
		}
	}
}

// checkComputable reports expressions that read what cannot be computed.
func (r *reader) checkComputable() {
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
		}
	}
}

func (r *reader) computableExpr(f field, e *formula.Expr) {
	for _, name := range e.Names() {
		if !r.computable(f, e.NameOffset(name), name) {
			return
		}
	}
}

// computable reports whether a name can be computed; where not, the error at the
// expression says what would have to be given.
func (r *reader) computable(f field, offset int, name string) bool {
	err := r.missing(name)
	if err == nil {
		return true
	}
	if lacks := new(vehicle.Missing); errors.As(err, &lacks) && len(lacks.Needs) > 0 {
		f.errAt(offset, name+" cannot be computed", "not given: "+printable(listed(lacks.Needs, "and"), 300)+r.becauseNotTaken(lacks.Needs))
	} else {
		f.errAt(offset, name+" cannot be computed", printable(err.Error(), 200))
	}
	return false
}

// becauseNotTaken explains what a vehicle lacks by what it did not inherit.
func (r *reader) becauseNotTaken(needs []string) string {
	text := ""
	for _, d := range r.vehicles {
		lacks := func(need string) bool { return strings.HasPrefix(need, d.Name+".") }
		if !slices.ContainsFunc(needs, lacks) {
			continue
		}
		if why := r.notTaken(d.Name); why != "" {
			text += "; " + why
		}
	}
	return text
}

// notTaken is what Study.NotTaken says.
func (r *reader) notTaken(name string) string {
	d := r.vehicle(name)
	if d == nil || r.s.System == nil {
		return ""
	}
	return d.notTaken(func(name string) bool {
		_, err := r.s.System.Rule(name)
		return err == nil
	})
}

// missing returns what stands in the way of computing a name.
func (r *reader) missing(name string) error {
	if err, known := r.lacks[name]; known || r.looped[name] {
		return err
	}
	r.lacks[name] = r.missingNow(name)
	return r.lacks[name]
}

func (r *reader) missingNow(name string) error {
	if st := r.statement(name); st != nil {
		return nil // reported at the statement itself, if at all
	}
	needs, err := r.needs(name)
	if err != nil {
		return fmt.Errorf("%w", err)
	}
	for _, need := range needs {
		if err := r.missing(need); err != nil {
			return err
		}
	}
	return nil
}
