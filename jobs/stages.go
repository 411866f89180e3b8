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
