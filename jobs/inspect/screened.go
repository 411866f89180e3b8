package inspect

import (
	"context"
	"time"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/run"
)

// screened is the plan without swaps of their own for inputs that do next to nothing: the
// first rounds of the loop that decide it, kept nowhere. check foretells by it.
func screened(ctx context.Context, p *plan.Plan) (*plan.Plan, error) {
	if p.Index.Screening.Rows == 0 || p.Index.FirstRounds() == 0 {
		return p, nil
	}
	told := &plan.Joined{Rounds: map[plan.Kind]int{plan.Sample: p.MostRounds(), plan.Tornado: 1}}
	step, err := p.Next(told)
	if err != nil {
		return nil, err
	}
	a, round := &analyse.Analyst{}, step.Rounds[0]
	a.Begin(step, round, nil)
	err = (&run.Runner{}).Make(ctx, step, round, round.Slices, nowhere{}, func(s plan.Slice, part run.Part) error { return a.Join(round, s, part) })
	if err != nil {
		return nil, err
	}
	return p.Screened(a.Negligible())
}

// nowhere keeps nothing.
type nowhere struct{}

func (nowhere) Known(*plan.Step, plan.Key) run.Part          { return nil }
func (nowhere) Keep(plan.Key, run.Part, time.Duration) error { return nil }
