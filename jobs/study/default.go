package study

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/model/vehicle"
)

// defaultInput reads a default of the catalogue by the grammar of the study.
func defaultInput(name, text string) (Input, error) {
	quantity := name[strings.IndexByte(name, '.')+1:]
	q, ok := vehicle.Find(quantity)
	if !ok || text == "" {
		return Input{}, fmt.Errorf("%s: the catalogue has no default", name)
	}
	var errs collector
	src := &source{path: "catalogue", data: []byte("value: " + text + "\n"), errs: &errs, money: &money{}}
	root, ok := src.load()
	if !ok {
		return Input{}, errs.all(src.path)
	}
	pairs, _ := root.pairs("")
	st, ok := readItem(name, &q, pairs[0])
	if !ok || st.Kind == Formula {
		return Input{}, fmt.Errorf("%s: its default %q is wrong: %w", name, text, errs.all(src.path))
	}
	in := st.Input
	in.Quantity, in.Default, in.Place = quantity, true, Place{File: "catalogue"}
	if owner, _, full := strings.Cut(name, "."); full {
		in.Vehicle = owner
	}
	in.Free.Source = q.DefaultSource
	return in, nil
}

// lossesConstant reports whether every loss that a running vehicle's consumption
// reads is a constant of the study: the model's own error is then larger, for it
// has to say what the losses' spread does not.
func (s *Study) lossesConstant() bool {
	losses := vehicle.Losses()
	known := false
	for _, v := range s.Vehicles {
		if !v.Run || s.System == nil {
			continue
		}
		for _, leaf := range s.leaves(v.Name + ".udds_ac_consumption") {
			known = true
			in, stated := s.input(leaf)
			if quantity := leaf[strings.IndexByte(leaf, '.')+1:]; slices.Contains(losses, quantity) && s.variable(leaf) && !(stated && in.Kind == Constant) {
				return false
			}
		}
	}
	return known
}

// variable reports whether a loss that the study does not state as a constant is
// drawn: a default may be a constant too.
func (s *Study) variable(leaf string) bool {
	if _, stated := s.input(leaf); stated {
		return true
	}
	in, err := defaultInput(leaf, vehicle.DefaultText(leaf, false))
	return err == nil && in.Kind != Constant
}

// input finds an input of the study by its full name.
func (s *Study) input(name string) (Input, bool) {
	for i := range s.Inputs {
		if s.Inputs[i].Name == name {
			return s.Inputs[i], true
		}
	}
	return Input{}, false
}

// leaves are the names from which the model computes a name: inputs of the study
// and defaults.
func (s *Study) leaves(name string) []string {
	var all []string
	seen := map[string]bool{}
	var walk func(name string)
	walk = func(name string) {
		if seen[name] {
			return
		}
		seen[name] = true
		rule, err := s.System.Rule(name)
		if _, stated := s.input(name); stated || err != nil {
			all = append(all, name)
			return
		}
		for _, need := range rule.Needs {
			walk(need)
		}
	}
	if _, err := s.System.Rule(name); err == nil {
		walk(name)
	}
	return all
}

// defaultsRead are the defaults of the catalogue that running vehicles, outputs or
// claims read, with their kinds.
func (r *reader) defaultsRead() map[string]Kind {
	if r.defaulted != nil {
		return r.defaulted
	}
	r.defaulted = map[string]Kind{}
	seen := map[string]bool{}
	for _, name := range r.wanted() {
		r.findDefaults(name, seen)
	}
	return r.defaulted
}

// wanted are the names that a run may have to compute.
func (r *reader) wanted() []string {
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
	return names
}

func (r *reader) findDefaults(name string, seen map[string]bool) {
	if seen[name] {
		return
	}
	seen[name] = true
	if text := vehicle.DefaultText(name, false); text != "" && r.statement(name) == nil && r.s.System != nil {
		if in, err := defaultInput(name, text); err == nil {
			r.defaulted[name] = in.Kind
		}
	}
	needs, _ := r.needs(name) // what is missing is reported elsewhere
	for _, need := range needs {
		r.findDefaults(need, seen)
	}
}
