package study

import (
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/study/uncertain"
	"proofmass/model"
)

// agree is how far a stated mass may be from the sum of its parts when all are
// constants: more is a slip of the pen, not a remainder.
const agree = 0.001

// partsAgree refuses a mass that contradicts its parts where every part is stated
// and nothing is uncertain.
func (r *resolver) partsAgree() {
	if r.s.System == nil || r.errs.Count() > 0 {
		return
	}
	for _, rest := range r.s.quantities(func(q model.Quantity) bool { return q.RestOf != "" }) {
		parts := r.s.quantities(func(q model.Quantity) bool { return q.PartOf == rest.RestOf && !q.IfAny })
		for _, v := range r.s.Vehicles {
			d := r.vehicle(v.Name)
			if _, stated := d.car.Given[rest.RestOf]; stated {
				r.compareParts(d, rest, parts)
			}
		}
	}
}

// compareParts looks at what the parts of a stated mass leave of it, as the model
// reckons it, where every part is known.
func (r *resolver) compareParts(d *vehicleDecl, rest model.Quantity, parts []model.Quantity) {
	outputs := r.s.System.Outputs(d.Name)
	for _, part := range parts {
		if _, stated := d.car.Given[part.Name]; !stated && !slices.Contains(outputs, d.Name+"."+part.Name) {
			return
		}
	}
	total := rest.RestOf
	values, ok := r.constants([]string{d.Name + "." + total, d.Name + "." + rest.Name})
	if !ok {
		return
	}
	if off := -values[1] / values[0]; math.Abs(off) > agree {
		st := r.statement(d.car.Given[total])
		st.value.Err(fmt.Sprintf("%s is %s, but its parts add up to %s (%+.2g %%)", total, uncertain.InUnit(values[0], rest.Unit), uncertain.InUnit(values[0]-values[1], rest.Unit), 100*off),
			"parts that are all given as constants agree within 0.1 %: leave out the total, or what is in doubt")
	}
}

// constants evaluates names that rest on constants alone.
func (r *resolver) constants(names []string) ([]float64, bool) {
	program, err := model.Compile(names, r.constantRule)
	if err != nil {
		return nil, false
	}
	w := program.NewWorker(1)
	w.Run(1)
	values := make([]float64, len(names))
	for i := range names {
		values[i] = w.Output(i)[0]
		if values[i] != values[i] {
			return nil, false
		}
	}
	return values, true
}

// constantRule finds the rule of a name, and fails where a draw is needed.
func (r *resolver) constantRule(name string) (model.Rule, error) {
	st := r.statement(name)
	switch {
	case st == nil:
		return r.s.System.Rule(name)
	case st.Kind == Constant && st.Choice == 0:
		return model.Constant(name, st.Value), nil
	}
	return model.Rule{}, fmt.Errorf("%s is not a constant", name)
}
