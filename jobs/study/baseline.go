package study

import "proofmass/jobs/study/source"

// baselineName reads which vehicle the others are compared with.
func (r *reader) baselineName(v source.Field) {
	if r.notInFormulas(v, "baseline") {
		return
	}
	r.baseline, _ = v.Text("the name of a vehicle is expected")
}

// chooseBaseline settles the baseline: the stated vehicle, which then runs, or the
// first of the study. It reports whether there is one.
func (r *resolver) chooseBaseline() bool {
	if f, stated := r.top["baseline"]; stated {
		d := r.vehicle(r.s.Baseline)
		if d == nil {
			if r.s.Baseline != "" && !r.missed(r.s.Baseline, r.vehicleNames(), "vehicles") {
				f.Err(f.What()+" is no vehicle of this study", suggestNames(r.s.Baseline, r.vehicleNames()))
			}
			return false
		}
		d.Run = true
		return true
	}
	for _, d := range r.vehicles {
		if d.Run {
			r.s.Baseline = d.Name
			return true
		}
	}
	return false
}

// suggestNames says which vehicle was meant, or lists them.
func suggestNames(name string, names []string) string {
	if near := source.Nearest(name, names); near != "" {
		return `did you mean "` + near + `"?`
	}
	if len(names) == 0 {
		return "the study has no vehicles"
	}
	return "vehicles: " + source.Printable(source.Listed(names, "and"), 200)
}
