package jobs

import (
	"context"
	"time"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
)

// given copies the study and every other file read into the folder, so that the
// folder alone repeats the run.
func (j *job) given(context.Context) error {
	for i, f := range j.plan.Study.Files {
		if _, err := j.folder.WriteGiven(givenName(i, f), f.Data); err != nil {
			return err
		}
	}
	return nil
}

// inside makes the table of what figures show beside what was asked.
func (j *job) inside(context.Context) error {
	if len(j.focus) > 0 { // figures are of the choice that is told
		defer func(p *plan.Plan) { j.plan, j.runner.Plan = p, p }(j.plan)
		j.plan = j.plan.ForChoice(j.focus[0])
		j.runner.Plan = j.plan
	}
	x, err := j.plan.Inside()
	if x == nil || err != nil {
		return err
	}
	table, err := j.analyst.Inside(x, j.runner.Inside(x))
	if err != nil {
		return err
	}
	return j.write(result.InsideTable, table)
}

// causes makes the table of what the gains of candidates are made of.
func (j *job) causes(ctx context.Context) error {
	if len(j.focus) > 0 {
		defer func(p *plan.Plan) { j.plan, j.runner.Plan, j.analyst.Plan = p, p, p }(j.plan)
		j.plan = j.plan.ForChoice(j.focus[0])
		j.runner.Plan, j.analyst.Plan = j.plan, j.plan
	}
	splittings, err := j.plan.Splittings()
	if err != nil {
		return err
	}
	var rows []result.CauseRow
	for _, s := range splittings {
		columns, err := j.runner.Evaluate(ctx, &s.Evaluation)
		if err != nil {
			return err
		}
		causes, err := s.Causes(j.plan, columns)
		if causes == nil || err != nil {
			if err != nil {
				return err
			}
			continue
		}
		if columns, err = j.runner.Evaluate(ctx, &causes.Evaluation); err != nil {
			return err
		}
		divided, err := j.analyst.Causes(causes, columns, j.means)
		if err != nil {
			return err
		}
		rows = append(rows, divided...)
	}
	if len(rows) == 0 {
		return nil
	}
	return j.write(result.CausesTable, result.Causes.Make(rows, nil))
}

// levers makes the table of what a unit of each lever does.
func (j *job) levers(ctx context.Context) error {
	if len(j.focus) > 0 {
		defer func(p *plan.Plan) { j.plan, j.runner.Plan, j.analyst.Plan = p, p, p }(j.plan)
		j.plan = j.plan.ForChoice(j.focus[0])
		j.runner.Plan, j.analyst.Plan = j.plan, j.plan
	}
	all, err := j.plan.Levers()
	if err != nil {
		return err
	}
	var rows []result.LeverRow
	for _, l := range all {
		columns, err := j.runner.Evaluate(ctx, &l.Evaluation)
		if err != nil {
			return err
		}
		told, err := j.analyst.Levers(l, columns)
		if err != nil {
			return err
		}
		rows = append(rows, told...)
	}
	if len(rows) == 0 {
		return nil
	}
	return j.write(result.LeversTable, result.Levers.Make(rows, nil))
}

// finish writes the finished manifest, then removes what is in the tables now: the parts, and
// the samples where the study keeps only summaries. The other way round a kill between the
// two would lose them before there is a result.
func (j *job) finish() error {
	m := j.manifest
	if j.plan.Study.Keep == "summary" {
		for i := range m.Rounds {
			m.Rounds[i].Drop()
		}
	}
	m.Finished, m.Ended = true, time.Now()
	if err := j.folder.WriteManifest(m); err != nil {
		return err
	}
	return j.folder.DropUnlisted(m)
}
