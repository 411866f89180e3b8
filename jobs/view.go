package jobs

import (
	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/run"
)

// A view is what a stage works from: a plan, who reads what it gave, who evaluates it. A run
// has one; each choice has its own, with its values for what is swept and its own files.
type view struct {
	plan    *plan.Plan
	analyst *analyse.Analyst
	runner  *run.Runner
}

// ofChoice is the view of a choice, from 1, once the sample is joined.
func (v view) ofChoice(choice int) view {
	analyst, runner := v.analyst.OfChoice(choice), *v.runner
	runner.Plan = analyst.Plan
	return view{analyst.Plan, analyst, &runner}
}

// told is the view of what the answer and its figures are of: the first choice in focus, if
// there are choices.
func (j *job) told() view {
	if len(j.focus) > 0 {
		return j.ofChoice(j.focus[0])
	}
	return j.view
}
