package study

import (
	"cmp"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
)

// uncertain reports whether a name is that of an uncertain input that the study
// states; what names in messages those that have to be, more are names that may have
// been meant beside the stated ones.
func (r *resolver) uncertain(f source.Field, name, what string, more ...string) bool {
	st := r.statement(name)
	switch {
	case st == nil && (r.carless() || !r.errs.Full() && r.missed(name, r.inputNames(), "inputs", "own", "vehicles")):
		return false
	case st == nil && r.computed(name):
		f.Err(source.Quote(name)+" is computed", "it follows from inputs: name those")
		return false
	case st == nil:
		f.Err(source.Quote(name)+" is no input of this study", r.inputInstead(name, what, more))
		return false
	case st.broken:
		return false
	case st.Kind == Constant:
		f.Err(name+" is a constant", what+" is uncertain")
		return false
	case st.Kind == Formula:
		f.Err(name+" is a formula", "it follows from what it reads: name that")
		return false
	}
	return true
}

// inputInstead says which input was meant.
func (r *resolver) inputInstead(name, what string, defaults []string) string {
	if r.errs.Full() {
		return "" // is counted, not shown: spare the search
	}
	if stated := r.statedAs(name); stated != "" {
		return "it is stated as " + stated + ": name that"
	}
	known := slices.Clone(defaults)
	for _, st := range r.statements() {
		if st.Kind == Uncertain {
			known = append(known, st.Name)
		}
	}
	if near := source.Nearest(name, known); near != "" {
		return `did you mean "` + near + `"?`
	}
	orDefault := ""
	if len(defaults) > 0 {
		orDefault = ", or a default that it reads"
	}
	return what + " is an uncertain input that the study states" + orDefault
}

// computed reports whether a name that no line states is an output's or that of
// what a vehicle computes.
func (r *resolver) computed(name string) bool {
	if r.output(name) != nil {
		return true
	}
	if r.s.System == nil || r.statedAs(name) != "" {
		return false
	}
	_, err := r.s.System.Rule(name)
	return err == nil
}

// statedAs is the input that a name without a statement of its own stands for: of a
// vehicle's quantity or item that of its first owner, of a bare quantity those of the
// vehicles. It is "" if there is none.
func (r *resolver) statedAs(name string) string {
	owner, quantity, _ := strings.Cut(name, ".")
	if d := r.vehicle(owner); d != nil && d.car != nil {
		return cmp.Or(d.car.Given[quantity], d.items[quantity])
	}
	var stated []string
	for _, d := range r.vehicles {
		if full := d.Name + "." + name; d.stated.named[full] != nil {
			stated = append(stated, full)
		}
	}
	return source.Printable(source.Listed(stated, "or"), 200)
}

// inUse are the names of the study's inputs.
func (r *resolver) inUse() map[string]bool {
	used := make(map[string]bool, len(r.s.Inputs))
	for _, in := range r.s.Inputs {
		used[in.Name] = true
	}
	return used
}

// refuseUnused reports stated inputs that are none of the used ones; names and the
// fields in which they stand are of one length.
func (r *resolver) refuseUnused(names []string, fields []source.Field, used map[string]bool, what string) {
	for i, name := range names {
		if !used[name] && r.statement(name) != nil { // a default is known because it is read
			fields[i].Err(name+" is read by no vehicle that runs", what+" is an input that the study uses")
		}
	}
}
