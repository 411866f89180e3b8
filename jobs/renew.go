package jobs

import (
	"context"
	"fmt"
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
	if err := result.LoadSlices(there.Path(""), old); err != nil {
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
	told := &plan.Joined{}
	for k := range m.Rounds {
		if m.Rounds[k].Kind != result.SampleKind {
			continue
		}
		var err error
		if told, err = j.renewSample(ctx, there, &m.Rounds[k], told); err != nil {
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
// that say the new texts. The race of choices is run again from what their rows say.
func (j *job) renewSample(ctx context.Context, there *result.Folder, round *result.Round, told *plan.Joined) (*plan.Joined, error) {
	choices := []int{}
	for _, s := range round.Slices {
		if c := int(s.Choice); len(choices) == 0 || c != choices[len(choices)-1] {
			choices = append(choices, c)
		}
	}
	step, planned, err := sampleRound(j.plan, round.Number, choices)
	if err != nil {
		return nil, err
	}
	if j.plan.Choosing != nil && len(planned.Slices) != len(round.Slices) {
		return nil, fmt.Errorf("round %d of the sample has %d files, and its choices take %d", round.Number, len(round.Slices), len(planned.Slices))
	}
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
			return nil, err
		}
	}
	path := func(s plan.Slice) string { return from.Path(round.Slices[s.Number].File) }
	j.analyst.Begin(step, planned, path)
	if j.plan.Choosing == nil || len(j.plan.Choosing.Figures) == 0 {
		return told, nil
	}
	if err := j.raceAgain(ctx, planned, path); err != nil || planned.Number != step.Rounds[len(step.Rounds)-1].Number {
		return told, err
	}
	return j.analyst.Joined(plan.Sample, told)
}

// raceAgain takes the figures by which choices are compared from the files of a round.
func (j *job) raceAgain(ctx context.Context, round plan.Round, path func(plan.Slice) string) error {
	figures, stored := run.Figures{Plan: j.plan}, j.plan.StoredColumns()
	for _, s := range round.Slices {
		if err := ctx.Err(); err != nil {
			return err
		}
		rows, err := result.OpenSlices([]string{path(s)})
		if err != nil {
			return err
		}
		part := &run.File{Figures: figures.Of(s, func(i int) (column []float64) {
			var failed error
			column, failed = rows.Read(stored[i].Name, nil)
			if failed == nil && len(column) != s.Rows {
				failed = fmt.Errorf("%d rows, want %d", len(column), s.Rows)
			}
			if failed != nil {
				err, column = fmt.Errorf("%s: %w", path(s), failed), make([]float64, s.Rows)
			}
			return column
		})}
		if err != nil {
			return err
		}
		if err := j.analyst.Join(round, s, part); err != nil {
			return err
		}
	}
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
