package jobs

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
)

// Planned is the plan of a study that knows what a few draws show: what is odd,
// impossible or contradicts itself.
func Planned(s *study.Study) (*plan.Plan, error) {
	p, err := plan.New(s)
	if err != nil {
		return nil, &UsageError{err}
	}
	x, err := p.Inspection()
	if err != nil {
		return nil, err
	}
	raw, kept := (&run.Runner{Plan: p}).Inspect(x)
	if p, err = p.Inspected(x, raw, kept); err != nil {
		return nil, err
	}
	pilot, err := p.Pilot()
	if pilot == nil || err != nil {
		return p, err
	}
	lowest, highest := (&run.Runner{Plan: p}).Pilot(pilot)
	return p.Reduced(pilot, lowest, highest), nil
}
