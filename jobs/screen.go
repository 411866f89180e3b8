package jobs

import (
	"context"

	"proofmass/jobs/plan"
	"proofmass/jobs/run"
	"proofmass/sensitivity"
)

// Screened is the plan without swaps of their own for inputs that do next to
// nothing, and the effects by which that was decided; the plan itself and nil where
// nothing is to be screened.
func Screened(ctx context.Context, p *plan.Plan, r *run.Runner) (*plan.Plan, *sensitivity.Effects, error) {
	if p.Index.Screening.Rows == 0 {
		return p, nil, nil
	}
	effects, err := r.Screen(ctx)
	if err != nil {
		return nil, nil, err
	}
	q, err := p.Screened(effects.Negligible(plan.Negligible(), p.Study.Level))
	return q, effects, err
}
