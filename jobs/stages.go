package jobs

import (
	"context"
	"time"

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
	v := j.told()
	x, err := v.plan.Inside()
	if x == nil || err != nil {
		return err
	}
	table, err := v.analyst.Inside(x, v.runner.Inside(x))
	if err != nil {
		return err
	}
	return j.write(result.InsideTable, table)
}

// causes makes the table of what the gains of candidates are made of.
func (j *job) causes(ctx context.Context) error {
	v := j.told()
	splittings, err := v.plan.Splittings()
	if err != nil {
		return err
	}
	var rows []result.CauseRow
	for _, s := range splittings {
		columns, err := v.runner.Evaluate(ctx, &s.Evaluation)
		if err != nil {
			return err
		}
		causes, err := s.Causes(v.plan, columns)
		if causes == nil || err != nil {
			if err != nil {
				return err
			}
			continue
		}
		if columns, err = v.runner.Evaluate(ctx, &causes.Evaluation); err != nil {
			return err
		}
		divided, err := v.analyst.Causes(causes, columns, j.means)
		if err != nil {
			return err
		}
		rows = append(rows, divided...)
	}
	return writeRows(j, result.Causes, rows)
}

// levers makes the table of what a unit of each lever does.
func (j *job) levers(ctx context.Context) error {
	v := j.told()
	all, err := v.plan.Levers()
	if err != nil {
		return err
	}
	var rows []result.LeverRow
	for _, l := range all {
		columns, err := v.runner.Evaluate(ctx, &l.Evaluation)
		if err != nil {
			return err
		}
		told, err := v.analyst.Levers(l, columns)
		if err != nil {
			return err
		}
		rows = append(rows, told...)
	}
	return writeRows(j, result.Levers, rows)
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
