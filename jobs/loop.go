package jobs

import (
	"context"

	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// loop asks the plan for the next step, makes the slices that are missing, joins them in
// their order, and asks again. It decides nothing: a loop that finds all slices made before
// it comes to the same end.
func (j *job) loop(ctx context.Context) error { return j.follow(ctx, j.view, &plan.Joined{}) }

// follow goes on from what is joined of a view.
func (j *job) follow(ctx context.Context, v view, told *plan.Joined) error {
	for {
		step, err := v.plan.Next(told)
		if err != nil {
			return err
		}
		j.decided(step)
		if len(step.Rounds) == 0 {
			j.manifest.Reduced = j.reduced()
			j.progress.foresee(0)
			return nil
		}
		j.progress.announce(step)
		j.journal.round(step)
		if j.gate != nil {
			if err := j.gate(ctx, step, told); err != nil {
				return err
			}
		}
		for _, round := range step.Rounds {
			if err := j.round(ctx, v, step, round); err != nil {
				return err
			}
		}
		if told, err = v.analyst.Joined(step.Kind, told); err != nil {
			return err
		}
		if step.Kind == plan.Sample && v.plan.Choice == 0 {
			if err := j.dropOut(ctx, told.In); err != nil {
				return err
			}
		}
		j.note(v, step, told)
	}
}

// round makes what is missing of a round and joins it.
func (j *job) round(ctx context.Context, v view, step *plan.Step, round plan.Round) error {
	todo := round.Slices
	if j.options.order != nil {
		todo = j.options.order(todo)
	}
	listed := result.Round{Number: round.Number, Kind: string(step.Kind), Rows: int64(round.All()), Choice: v.plan.Choice}
	path := func(s plan.Slice) string {
		return j.folder.Path(result.SliceName(result.SampleKind, round.Number, s.Number))
	}
	v.analyst.Begin(step, round, path)
	err := v.runner.Make(ctx, step, round, todo, j.parts, func(s plan.Slice, part run.Part) error {
		if file, ok := part.(*run.File); ok {
			listed.Slices = append(listed.Slices, result.SliceFile{File: result.SliceName(result.SampleKind, round.Number, s.Number),
				Choice: int32(s.Choice), FirstRow: int64(round.FirstRow + s.First), Rows: int64(s.Rows), Digest: file.Digest})
		}
		return v.analyst.Join(round, s, part)
	})
	if kept := j.parts.behind.Wait(); err == nil {
		err = kept
	}
	j.manifest.Rounds = append(j.manifest.Rounds, listed)
	if step.Kind == plan.Sample {
		j.manifest.Rows = int64(round.FirstRow + round.Rows)
	}
	return err
}

// decided notes what the step rests on.
func (j *job) decided(step *plan.Step) {
	m := j.manifest
	m.PairsLeftOut = step.PairsLeftOut
	m.Screened = nil
	for _, f := range step.Plan.Index.Aside {
		m.Screened = append(m.Screened, f.Name)
	}
	for _, p := range step.Pairs {
		m.Pairs = append(m.Pairs, [2]string{step.Plan.Index.Swaps[p.One].Name, step.Plan.Index.Swaps[p.Other].Name})
	}
}

// note puts down what was reached.
func (j *job) note(v view, step *plan.Step, told *plan.Joined) {
	j.manifest.IndexRuns = int64(v.analyst.IndexRuns())
	switch step.Kind {
	case plan.Sample:
		if v.plan.Study.Stopping.AtMost > 0 {
			j.manifest.Stopping = &result.Stopping{Chance: report.Known(told.Chance), Percentiles: report.Known(told.Percentiles)}
		}
	case plan.Index:
		j.manifest.HalfWidth = report.Known(step.Plan.Widest(told.Shares))
	}
}
