package jobs

import (
	"context"
	"fmt"
	"maps"
	"math/bits"
	"slices"
	"time"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// mend makes again the files of the sample that are not as a finished result lists them, and
// no other, where all else of it is whole: its tables were made of the same bytes. It says how
// many there were; none where more is damaged, or where what is made differs from what was.
func mend(ctx context.Context, p *plan.Plan, folder *result.Folder, m *result.Manifest, o Options) (mended int, err error) {
	damaged, err := result.DamagedSlices(folder.Path(""), m)
	if err != nil || len(damaged) == 0 {
		return 0, nil // the whole result is made anew
	}
	folder.Pack(m.Compressed)
	journal := newJournal(o.Out, "run", about(p, o)...)
	defer func() { journal.end(err, "mended", mended) }()
	r := &run.Runner{Plan: p, Workers: o.Workers, Folder: folder, Meta: sampleMeta(p)}
	for _, number := range slices.Sorted(maps.Keys(damaged)) {
		files := damaged[number]
		step, round, err := sampleRound(p, number, files.Choices)
		if err != nil {
			return mended, err
		}
		var todo []plan.Slice
		for _, s := range round.Slices {
			if _, wanted := files.Damaged[s.Number]; wanted {
				todo = append(todo, s)
			}
		}
		same, store := 0, &onlyFiles{}
		err = r.Make(ctx, step, round, todo, store, func(s plan.Slice, part run.Part) error {
			if file, ok := part.(*run.File); ok && file.Digest == files.Damaged[s.Number] {
				same++
			}
			return nil
		})
		if waited := store.behind.Wait(); err == nil {
			err = waited
		}
		if err != nil {
			return mended, fmt.Errorf("damaged files of the sample are made again: %w", err)
		}
		if same < len(files.Damaged) {
			return 0, nil
		}
		mended += same
	}
	return mended, nil
}

// onlyFiles stores the files of the sample, and no parts: nothing is to go on later.
type onlyFiles struct{ behind run.Behind }

func (o *onlyFiles) Known(*plan.Step, plan.Key) run.Part { return nil }

func (o *onlyFiles) Keep(_ plan.Key, part run.Part, _ time.Duration) error {
	if file := run.FileIn(part); file != nil {
		o.behind.Do(file.Commit)
	}
	return o.behind.Err()
}

// sampleRound is a round of the sample, of choices those.
func sampleRound(p *plan.Plan, number int, choices []int) (*plan.Step, plan.Round, error) {
	if p.Choosing == nil {
		step, err := p.Next(&plan.Joined{})
		return step, p.SampleRound(number), err
	}
	before := 0 // rounds double from look to look
	if number > 0 {
		before = 1 << (bits.Len(uint(number)) - 1)
	}
	step, err := p.Next(&plan.Joined{Rounds: map[plan.Kind]int{plan.Sample: before}, In: choices})
	if err != nil || number-before >= len(step.Rounds) {
		return nil, plan.Round{}, fmt.Errorf("there is no round %d of the sample: %w", number, err)
	}
	return step, step.Rounds[number-before], nil
}
