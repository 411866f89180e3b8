package jobs

import (
	"context"
	"math"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// sample evaluates the sample: one round, or as many as the half-widths asked for
// need. What is decided depends on the joined rows of the rounds before alone.
func (j *job) sample(ctx context.Context) error {
	j.foreseen = j.plan.FirstIndexRuns()
	j.progress = newCounter(j.plan.Sample.Rows+j.foreseen, j.options.Progress)
	j.runner = &run.Runner{Plan: j.plan, Workers: j.options.Workers, Tick: j.progress.tick}
	j.analyst = &analyse.Analyst{Plan: j.plan, Workers: j.options.Workers}
	if err := j.round(ctx, 0); err != nil {
		return err
	}
	growth := j.plan.Study.Growth
	if growth.AtMost == 0 {
		return nil
	}
	for {
		chance, percentiles, err := j.analyst.HalfWidths()
		if err != nil {
			return err
		}
		done := len(j.manifest.Rounds)
		j.manifest.Growth = reached(chance, percentiles)
		more := furtherRounds(done, j.plan.MostRounds(), max(times(chance, growth.Chance), times(percentiles, growth.Percentiles)))
		if more == 0 {
			return nil
		}
		j.progress.add(more * j.plan.Sample.Rows)
		for k := range more {
			if err := j.round(ctx, done+k); err != nil {
				return err
			}
		}
	}
}

// reached are half-widths for the manifest, NaN as nothing.
func reached(chance, percentiles float64) *result.Growth {
	g := &result.Growth{}
	if chance == chance {
		g.Chance = &chance
	}
	if percentiles == percentiles {
		g.Percentiles = &percentiles
	}
	return g
}

// times is how many times as wide as asked a half-width is: 0 where nothing is
// asked, infinite where it is not known.
func times(half, asked float64) float64 {
	switch {
	case asked == 0:
		return 0
	case half != half:
		return math.Inf(1)
	}
	return half / asked
}

// furtherRounds is how many rounds to add to done ones whose half-width is wide
// times that asked for: what the square root of the rows promises, at most as many
// again, and no more than most in all. Few steps, since a half-width that is looked
// at often is by chance small at one of the looks.
func furtherRounds(done, most int, wide float64) int {
	if wide <= 1 || done >= most {
		return 0
	}
	more := done
	if need := float64(done) * wide * wide; need < 2*float64(done) {
		more = max(1, int(math.Ceil(need))-done)
	}
	return min(more, most-done)
}

// round evaluates one round of the sample into slice files.
func (j *job) round(ctx context.Context, number int) error {
	r := j.plan.SampleRound(number)
	digests, err := j.runner.Sample(ctx, j.folder, r, map[string]string{"study": j.plan.Study.Name})
	if err != nil {
		return err
	}
	round := result.Round{Number: r.Number, Kind: string(plan.Sample), Rows: int64(r.Rows)}
	var paths []string
	for i, s := range r.Slices {
		name := result.SliceName(round.Kind, round.Number, s.Number)
		round.Slices = append(round.Slices, result.SliceFile{File: name, FirstRow: int64(r.FirstRow + s.First), Rows: int64(s.Rows), Digest: digests[i]})
		paths = append(paths, j.folder.Path(name))
	}
	j.analyst.Add(r, paths)
	j.manifest.Rounds = append(j.manifest.Rounds, round)
	j.manifest.Rows = int64(r.FirstRow + r.Rows)
	return nil
}
