package study

import (
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/study/uncertain"
	"proofmass/model"
	"proofmass/model/vehicle"
)

// levels are masses that may be stated at the top, and their parts.
var levels = []struct {
	total string
	parts []string
}{
	{"pack_mass", []string{"cells_mass", "filler_mass", "bond_mass", "face_sheet_mass", "tray_mass", "rail_mass", "cross_member_mass",
		"module_mass", "cooling_mass", "coolant_mass", "busbar_mass", "electronics_mass", "pack_other_mass"}},
	{"kerb_mass", []string{"pack_mass", "body_mass", "closures_mass", "glazing_mass", "adhesive_mass", "interior_mass", "chassis_mass",
		"drive_unit_mass", "low_voltage_mass", "fluids_mass"}},
}

// agree is how far a stated mass may be from the sum of its parts when all are
// constants: more is a slip of the pen, not a remainder.
const agree = 0.001

// partsAgree refuses a mass that contradicts its parts where every part is stated
// and nothing is uncertain.
func (r *resolver) partsAgree() {
	if r.s.System == nil || r.errs.Count() > 0 {
		return
	}
	for _, v := range r.s.Vehicles {
		d := r.vehicle(v.Name)
		for _, level := range levels {
			if _, stated := d.car.Given[level.total]; stated {
				r.compareParts(d, level.total, level.parts)
			}
		}
	}
}

func (r *resolver) compareParts(d *vehicleDecl, total string, parts []string) {
	wanted := []string{d.Name + "." + total}
	outputs := r.s.System.Outputs(d.Name)
	for _, part := range parts {
		name := d.Name + "." + part
		if _, stated := d.car.Given[part]; !stated && !slices.Contains(outputs, name) {
			return
		}
		wanted = append(wanted, name)
	}
	values, ok := r.constants(wanted)
	if !ok {
		return
	}
	sum := 0.0
	for _, x := range values[1:] {
		sum += x
	}
	if total == "kerb_mass" && d.MassBasis == "eu_running_order" {
		sum += 75 // the driver whom this basis includes
	}
	if off := sum/values[0] - 1; math.Abs(off) > agree {
		st := r.statement(d.car.Given[total])
		q, _ := vehicle.Find(total)
		st.value.Err(fmt.Sprintf("%s is %s, but its parts add up to %s (%+.2g %%)", total, uncertain.InUnit(values[0], q.Unit), uncertain.InUnit(sum, q.Unit), 100*off),
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
	case st.Kind == Constant:
		return model.Constant(name, st.Value), nil
	}
	return model.Rule{}, fmt.Errorf("%s is not a constant", name)
}
