package jobs

import (
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// saw adds what a slice saw of evaluations over reduced schedules.
func (j *job) saw(s run.Seen) {
	j.seen.Add(s)
}

// reduced is what the manifest tells of them, nil where all steps are taken.
func (j *job) reduced() *result.Reduced {
	if j.plan.Reduction == nil {
		return nil
	}
	s := &j.seen
	r := &result.Reduced{Evaluations: s.Evaluations, Outside: s.Outside, Checked: s.Checked, Worst: s.Worst, Redone: s.Redone}
	for _, made := range j.plan.Reduction.Made() {
		r.Schedules = append(r.Schedules, result.ReducedSchedule{Schedule: made.Schedule, Steps: made.Steps, Points: made.Points, Worst: made.Worst, List: made.Digest})
	}
	return r
}
