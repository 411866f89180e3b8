package jobs

import (
	"context"
	"slices"
	"time"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// renew makes the result of a study that differs from the one in the folder in its texts
// alone. Nothing is evaluated but what its texts now call a guessed width: the files of the
// sample are written again where what they say of their columns has changed, the tables that
// have texts are made from them, and all others stay as they are.
func (j *job) renew(ctx context.Context, at *site, old *result.Manifest) error {
	there := at.lock.Folder()
	step, err := j.plan.Next(&plan.Joined{})
	if err == nil {
		err = result.LoadSlices(there.Path(""), old)
	}
	if err != nil {
		return err
	}
	m := j.manifest
	m.Rows, m.HalfWidth, m.Screened, m.Pairs, m.IndexRuns, m.PairsLeftOut, m.Stopping = old.Rows, old.HalfWidth, old.Screened, old.Pairs, old.IndexRuns, old.PairsLeftOut, old.Stopping
	m.Rounds, m.Timings, m.Reduced = old.Rounds, old.Timings, old.Reduced
	for name, digest := range old.Tables {
		m.Tables[name] = digest
	}
	if err := j.given(ctx); err != nil {
		return err
	}
	for k := range m.Rounds {
		if m.Rounds[k].Kind != result.SampleKind {
			continue
		}
		if err := j.renewSample(ctx, there, &m.Rounds[k], step); err != nil {
			return err
		}
	}
	rare, _, err := result.Rare.Read(there.Path(""), old)
	if err != nil {
		return err
	}
	j.analyst.SetRare(rare)
	j.progress.only(int(m.Rows), "summary")
	j.progress.begin("summary")
	if err := j.summarise(ctx); err != nil {
		return err
	}
	j.progress.end()
	m.Finished, m.Ended = true, time.Now()
	return j.folder.WriteManifest(m)
}

// renewSample joins a round of the sample from the files that are there, or from new ones
// that say the new texts.
func (j *job) renewSample(ctx context.Context, there *result.Folder, round *result.Round, step *plan.Step) error {
	from := there
	if !j.saysTheSame(there.Path(round.Slices[0].File)) {
		from = j.folder
		round.Slices = slices.Clone(round.Slices)
		err := run.Each(ctx, j.options.Workers, len(round.Slices), func() (func(int) error, error) {
			copier, err := run.NewCopier(j.plan, j.runner.Meta)
			return func(i int) (err error) {
				s := &round.Slices[i]
				s.Digest, err = copier.Copy(there.Path(s.File), j.folder, s.File)
				return err
			}, err
		})
		if err != nil {
			return err
		}
	}
	j.analyst.Begin(step, j.plan.SampleRound(round.Number), func(s plan.Slice) string { return from.Path(round.Slices[s.Number].File) })
	return nil
}

// saysTheSame reports whether a file of the sample has the texts that this study gives it.
func (j *job) saysTheSame(path string) bool {
	t, err := result.ReadTable(path)
	if err != nil || t.Meta["study"] != j.plan.Study.Name {
		return false
	}
	for _, c := range j.plan.StoredColumns() {
		got := t.Column(c.Name)
		if got == nil || got.Unit != c.Unit.String() || got.Meaning != c.Meaning || got.Source != c.Source {
			return false
		}
	}
	return true
}
