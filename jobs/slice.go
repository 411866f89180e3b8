package jobs

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
)

// A Share is slices K - 1, K - 1 + N, ... of what there is.
type Share struct{ K, N int }

// SliceOptions say how to make slices of a folder whose rounds others open and join.
type SliceOptions struct {
	Share   Share
	Round   int           // the step of that number, as Due tells it; negative: the last that is open
	Wait    time.Duration // for a round to be seen: a network file system may show names late
	Workers int           // 0: one a processor
}

// Made is what became of a share.
type Made struct {
	Slices int // of the share
	New    int // of them, made now
	Took   time.Duration
}

// Slice makes what is missing of a share of the open round. It takes no lock: each part
// appears whole under its name, and whoever else makes it writes the same bytes. Where no
// round is open the error is a *Due.
func Slice(ctx context.Context, dir string, o SliceOptions) (*Made, error) {
	opened, err := openedIn(ctx, dir, o.Round, o.Wait)
	if err != nil || opened == nil {
		return &Made{}, err
	}
	return opened.make(ctx, o)
}

// An openedFolder is one with an open step.
type openedFolder struct {
	folder *result.Folder
	plan   *plan.Plan
	step   *plan.Step
	number int
}

// openedIn waits until the round is seen; nil if all is finished.
func openedIn(ctx context.Context, dir string, round int, wait time.Duration) (*openedFolder, error) {
	for deadline := time.Now().Add(wait); ; {
		opened, done, err := lookForOpened(dir, round)
		if done || opened != nil {
			return opened, nil
		}
		if late := err == nil || errors.Is(err, fs.ErrNotExist); !late {
			return nil, err
		}
		if time.Now().After(deadline) {
			if err != nil {
				return nil, &UsageError{err}
			}
			return nil, &Due{Folder: dir, Number: max(0, round), Unopened: true}
		}
		if err := sleep(ctx, time.Second); err != nil {
			return nil, err
		}
	}
}

// sleep waits, or until the context ends.
func sleep(ctx context.Context, d time.Duration) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(d):
		return nil
	}
}

// lookForOpened reads a folder whose result is being made; done if it is.
func lookForOpened(dir string, round int) (opened *openedFolder, done bool, err error) {
	if err := IsFolder(dir); err != nil {
		return nil, false, &UsageError{err}
	}
	state, m, err := result.Inspect(dir)
	switch {
	case err != nil:
		return nil, false, &UsageError{err}
	case state == result.Finished:
		return nil, true, nil
	case state == result.Empty:
		return nil, false, nil
	case m.Program != Version:
		return nil, false, &UsageError{fmt.Errorf("%s: version %s of the program began it, and this is version %s", dir, m.Program, Version)}
	}
	if _, err := os.Lstat(filepath.Join(dir, result.StudyFile)); errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil // the manifest is written before the study's files
	}
	folder, _, err := result.Open(dir)
	if err != nil {
		return nil, false, err
	}
	folder.Pack(m.Compressed)
	p, err := planIn(dir, m)
	if err != nil {
		return nil, false, err
	}
	step, number, err := openedStep(p, folder, newParts(folder, p.Study, Options{}).others, round)
	if step == nil || err != nil {
		return nil, false, err
	}
	return &openedFolder{folder, p, step, number}, false, nil
}

// planIn is the plan of the study that a folder holds, which must be the manifest's.
func planIn(dir string, m *result.Manifest) (*plan.Plan, error) {
	s, err := Read(filepath.Join(dir, result.StudyFile), study.Options{})
	if err != nil {
		return nil, err
	}
	if Digest(s) != m.StudyDigest {
		return nil, fmt.Errorf("%s: the study in it is not the one that was begun; remove the folder and begin anew", dir)
	}
	return Planned(s)
}

// make makes a share of the open step's slices, all its rounds counted through. What was made
// is told after an error too.
func (f *openedFolder) make(ctx context.Context, o SliceOptions) (made *Made, err error) {
	began := time.Now()
	made = &Made{}
	tell := newJournal(f.folder.Path(""), fmt.Sprintf("slice %d/%d", o.Share.K, o.Share.N), "round", f.number, "kind", f.step.Kind)
	store := newParts(f.folder, f.plan.Study, Options{shared: true})
	counted := &counting{parts: store}
	defer func() {
		made.New, made.Took = int(counted.kept.Load()), time.Since(began)
		tell.end(err, "slices", made.Slices, "new", made.New)
	}()
	var lock sync.Mutex
	r := &run.Runner{Plan: f.plan, Workers: o.Workers, Folder: f.folder, Meta: sampleMeta(f.plan)}
	at, runs, of := 0, 0, f.step.Runs()/o.Share.N
	r.Tick = func(n int) {
		lock.Lock()
		defer lock.Unlock()
		runs += n
		elapsed := time.Since(began)
		tell.progress(Pace{Doing: string(f.step.Kind), Elapsed: elapsed, Left: time.Duration(float64(elapsed) * float64(max(0, of-runs)) / float64(max(1, runs)))})
	}
	for _, round := range f.step.Rounds {
		var mine []plan.Slice
		for _, s := range round.Slices {
			if at%o.Share.N == o.Share.K-1 {
				mine = append(mine, s)
			}
			at++
		}
		made.Slices += len(mine)
		err := r.Make(ctx, f.step, round, mine, counted, func(plan.Slice, run.Part) error { return nil })
		if err := errors.Join(err, store.behind.Wait()); err != nil {
			return made, err
		}
	}
	return made, nil
}
