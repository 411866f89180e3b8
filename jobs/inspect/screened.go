package inspect

import (
	"context"
	"time"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/run"
)

// screened is the plan without swaps of their own for inputs that do next to nothing: the
// first rounds of the loop that decide it, kept nowhere, where they take no longer than
// somebody waits. check foretells by it.
func screened(ctx context.Context, p *plan.Plan) (_ *plan.Plan, done bool, _ error) {
	const (
		patience = 0.5   // s
		effect   = 20e-6 // of a pair of an input and a target: sums, intervals
	)
	s := &p.Index.Screening
	if s.Rows == 0 || p.Index.FirstRounds() == 0 {
		return p, false, nil
	}
	swap := (&run.Runner{Plan: p}).Try(20*time.Millisecond, spent).Swap
	if swap*float64(s.Runs())+effect*float64(len(s.Factors)*len(s.Targets)) > patience {
		return p, false, nil
	}
	told := &plan.Joined{Rounds: map[plan.Kind]int{plan.Sample: p.MostRounds(), plan.Tornado: 1}}
	step, err := p.Next(told)
	if err != nil {
		return nil, false, err
	}
	a, round := &analyse.Analyst{}, step.Rounds[0]
	a.Begin(step, round, nil)
	err = (&run.Runner{}).Make(ctx, step, round, round.Slices, nowhere{}, func(s plan.Slice, part run.Part) error { return a.Join(round, s, part) })
	if err != nil {
		return nil, false, err
	}
	p, err = p.Screened(a.Negligible())
	return p, true, err
}

// nowhere keeps nothing.
type nowhere struct{}

func (nowhere) Known(*plan.Step, plan.Key) run.Part          { return nil }
func (nowhere) Keep(plan.Key, run.Part, time.Duration) error { return nil }
