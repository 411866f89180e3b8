package jobs

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"time"

	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
)

// Due says that a round's slices must be made before anything more can be joined.
type Due struct {
	Folder   string
	Number   int    // of the step among all of the run, from 0
	Kind     string // of its rounds
	Slices   int
	Missing  []int // of them, counted through all rounds of the step, from 0
	Opened   bool  // just now
	Unopened bool  // not even open: join it first
}

func (d *Due) Error() string {
	if d.Unopened {
		return fmt.Sprintf("%s: no round is open yet; proofmass join opens one", d.Folder)
	}
	return fmt.Sprintf("%s: round %d (%s) is due: %d of its %d slices are to be made", d.Folder, d.Number, d.Kind, len(d.Missing), d.Slices)
}

// Join joins what is made of a study into its folder and opens the next round, or finishes:
// then the outcome is that of Run. While slices are missing the error is a *Due. It waits up
// to that long for slices of a round that was open before, since a network file system may
// show names late.
//
// It takes no lock, since one that another host has left would stop a night, and two joins
// at once write the same bytes; but it respects that of a run. All slices of a step can be
// made by anybody; a step of one slice is made here.
func Join(ctx context.Context, path string, wait time.Duration, o Options) (*Outcome, error) {
	s, err := Read(path, o.Study)
	if err != nil {
		return nil, err
	}
	p, err := Planned(s)
	if err != nil {
		return nil, err
	}
	if err := result.Busy(o.Out); err != nil {
		return nil, ofFolder(err)
	}
	holds, _, err := lookInto(s, o)
	switch {
	case err != nil:
		return nil, err
	case holds == otherTexts:
		return nil, refuse(o, "it holds the result of this study with other texts; proofmass run renews them")
	case holds == toMake:
		if err = join(ctx, p, wait, o); err != nil && !finishedByAnother(err, p, o) {
			return nil, err
		}
	}
	answer, err := report.Read(o.Out)
	if err != nil {
		return nil, err
	}
	return &Outcome{Answer: answer, Again: holds == thisResult, Missed: missed(s, answer), Page: pageOf(o.Out)}, nil
}

// finishedByAnother: parts that are missing may be in the tables by now.
func finishedByAnother(err error, p *plan.Plan, o Options) bool {
	var due *Due
	holds, _, looked := lookInto(p.Study, o)
	return errors.As(err, &due) && looked == nil && holds == thisResult
}

func join(ctx context.Context, p *plan.Plan, wait time.Duration, o Options) (err error) {
	state, old, err := result.Inspect(o.Out)
	if err != nil {
		return err
	}
	if state == result.Finished {
		return refuse(o, "it holds a result that is not whole; proofmass run makes it anew")
	}
	folder, err := result.Make(o.system(), o.Out)
	if err != nil {
		return ofFolder(err)
	}
	o.shared = true
	if state == result.Partial {
		o.Compress = old.Compressed
	}
	j := newJob(ctx, p, folder, o)
	if state == result.Partial {
		j.manifest.Started, j.begun = old.Started, true
	}
	j.journal = newJournal(o.Out, "join", about(p, o)...)
	defer func() { j.journal.end(err) }()
	g := &gate{job: j, wait: wait}
	j.gate = g.pass
	if err := j.giveUp(j.stages(ctx)); err != nil {
		return err
	}
	return page.Draw(folder)
}

// A gate lets a step pass whose slices are all made, and opens one that has none yet.
type gate struct {
	job    *job
	wait   time.Duration
	number int // of the next step
}

func (g *gate) pass(ctx context.Context, step *plan.Step, before *plan.Joined) error {
	j, number := g.job, g.number
	g.number++
	due := &Due{Folder: j.options.Out, Number: number, Kind: string(step.Kind)}
	for _, r := range step.Rounds {
		due.Slices += len(r.Slices)
	}
	if due.Slices == 1 {
		return nil
	}
	there, err := openStep(j.folder, j.parts.others, number, step.Plan.Choice, before)
	if err != nil {
		return err
	}
	due.Opened = !there
	for deadline := time.Now().Add(g.wait); ; {
		if due.Missing = missing(j.folder, step); len(due.Missing) == 0 {
			return nil
		}
		if due.Opened || time.Now().After(deadline) {
			return due
		}
		if err := sleep(ctx, time.Second); err != nil {
			return err
		}
	}
}

// missing are the slices of a step, counted through, that are not seen. Whether those that
// are seen are whole is found when they are read.
func missing(folder *result.Folder, step *plan.Step) (numbers []int) {
	at := 0
	for _, round := range step.Rounds {
		for _, s := range round.Slices {
			if !folder.SeesPart(partKey(round.Key(s))) {
				numbers = append(numbers, at)
			}
			at++
		}
	}
	return numbers
}

// counting counts the parts that are kept.
type counting struct {
	*parts
	kept atomic.Int64
}

// Keep keeps a part.
func (c *counting) Keep(key plan.Key, part run.Part, took time.Duration) error {
	c.kept.Add(1)
	return c.parts.Keep(key, part, took)
}
