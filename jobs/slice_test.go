package jobs

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// inShares makes a study by joins, and slices of n shares at once, those of skipped left out
// at first, until it is finished. It returns how often each round was due.
func inShares(t *testing.T, path, out string, n int, skipped map[int]bool) map[int]int {
	t.Helper()
	due := map[int]int{}
	for range 100 {
		_, err := Join(t.Context(), path, 0, Options{Out: out, Workers: 1})
		var d *Due
		switch {
		case err == nil:
			return due
		case !errors.As(err, &d):
			t.Fatal(err)
		}
		if due[d.Number]++; len(d.Missing) == 0 || d.Opened != (due[d.Number] == 1) {
			t.Errorf("due is %+v", d)
		}
		var all sync.WaitGroup
		for k := range n {
			if due[d.Number] == 1 && skipped[k] {
				continue
			}
			all.Go(func() {
				made, err := Slice(t.Context(), out, SliceOptions{Share: Share{k + 1, n}, Round: d.Number, Workers: 1})
				if err != nil || made.Slices > 0 && made.New == 0 && due[d.Number] == 1 {
					t.Errorf("share %d of %d of round %d: %+v, %v", k+1, n, d.Number, made, err)
				}
			})
		}
		all.Wait()
	}
	t.Fatal("not finished after 100 joins")
	return nil
}

// An ending context is asked so many times before it has ended.
type ending struct {
	context.Context
	left *atomic.Int64
}

func (c ending) Err() error {
	if c.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

// What a share made before it was stopped is told beside the error.
func TestSliceStopped(t *testing.T) {
	path, out := writeSteps(t), filepath.Join(t.TempDir(), "out")
	var due *Due
	if _, err := Join(t.Context(), path, 0, Options{Out: out, Workers: 1}); !errors.As(err, &due) {
		t.Fatal(err)
	}
	var left atomic.Int64
	left.Store(3)
	made, err := Slice(ending{t.Context(), &left}, out, SliceOptions{Share: Share{1, 1}, Workers: 1})
	if !errors.Is(err, context.Canceled) || made.Slices != due.Slices || made.New < 1 || made.New > 3 || made.Took <= 0 {
		t.Errorf("stopped after 3 of %d slices: %+v, %v", due.Slices, made, err)
	}
}

// Slices in shares of 1, 3 and more than there are, with shares that fail at first, give the
// bytes of one run, and leave nothing behind.
func TestSharesGiveTheSameBytes(t *testing.T) {
	path := writeSteps(t)
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole")})
	for n, skipped := range map[int]map[int]bool{1: nil, 3: {1: true}, 40: nil} {
		out := filepath.Join(t.TempDir(), "out")
		due := inShares(t, path, out, n, skipped)
		equalTables(t, "in shares", TablesOf(t, out), want)
		if left := leftOver(t, out); len(left) > 0 {
			t.Errorf("left are %v", left)
		}
		if len(due) < 4 || skipped != nil && due[0] != 2 {
			t.Errorf("rounds were due so often: %v", due)
		}
		if made, err := Slice(t.Context(), out, SliceOptions{Share: Share{1, 1}, Round: -1}); err != nil || made.Slices != 0 {
			t.Errorf("slices of a finished result: %+v, %v", made, err)
		}
		if again, err := Join(t.Context(), path, 0, Options{Out: out}); err != nil || !again.Again {
			t.Errorf("a join of a finished result: %+v, %v", again, err)
		}
	}
}

// A run ends what shares have begun, and shares what a run has.
func TestSharesAndRunsGoOnWithOneAnother(t *testing.T) {
	path := writeSteps(t)
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole")})
	out := filepath.Join(t.TempDir(), "out")
	var due *Due
	if _, err := Join(t.Context(), path, 0, Options{Out: out}); !errors.As(err, &due) {
		t.Fatal(err)
	}
	if _, err := Slice(t.Context(), out, SliceOptions{Share: Share{2, 2}, Round: -1}); err != nil {
		t.Fatal(err)
	}
	equalTables(t, "ended by a run", runInto(t, path, Options{Out: out}), want)

	out = filepath.Join(t.TempDir(), "other")
	made := 0
	_, err := Run(t.Context(), path, Options{Out: out, Workers: 1, kept: func(key plan.Key) error {
		if made++; made > 20 {
			return errEnded
		}
		return nil
	}})
	if !errors.Is(err, errEnded) {
		t.Fatal(err)
	}
	inShares(t, path, out, 2, nil)
	equalTables(t, "begun by a run", TablesOf(t, out), want)
}

// What cannot be sliced or joined is said.
func TestSlicesRefused(t *testing.T) {
	path := writeSteps(t)
	out := filepath.Join(t.TempDir(), "out")
	share := SliceOptions{Share: Share{1, 2}, Round: -1}
	var usage *UsageError
	if _, err := Slice(t.Context(), out, share); !errors.As(err, &usage) || !strings.Contains(err.Error(), "no such folder") {
		t.Errorf("no folder: %v", err)
	}
	if err := os.Mkdir(out, 0o777); err != nil {
		t.Fatal(err)
	}
	var due *Due
	if _, err := Slice(t.Context(), out, share); !errors.As(err, &due) || !due.Unopened {
		t.Errorf("an empty folder: %v", err)
	}
	if _, err := Join(t.Context(), path, 0, Options{Out: out}); !errors.As(err, &due) || due.Number != 0 || !due.Opened {
		t.Errorf("the first join: %v", err)
	}
	later := share
	later.Round = 1
	if _, err := Slice(t.Context(), out, later); !errors.As(err, &due) || !due.Unopened {
		t.Errorf("a round that is not open: %v", err)
	}
	if _, err := Join(t.Context(), path, 0, Options{Out: out, Study: study.Options{Rows: 64}}); !errors.As(err, &usage) {
		t.Errorf("a join of another study: %v", err)
	}
	lock, err := result.LockFolder(out)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Join(t.Context(), path, 0, Options{Out: out}); !errors.As(err, &usage) || !strings.Contains(err.Error(), "another run is writing") {
		t.Errorf("a join beside a run: %v", err)
	}
	lock.Release()
	given := filepath.Join(out, result.StudyFile)
	if err := os.WriteFile(given, []byte(strings.Replace(steps, "seed: 4", "seed: 5", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := Slice(t.Context(), out, share); err == nil || !strings.Contains(err.Error(), "not the one that was begun") {
		t.Errorf("a changed study: %v", err)
	}
}

// A study with choices is made in shares too: its sample, and what decides each that is told.
func TestSharesOfChoices(t *testing.T) {
	path := WriteStudy(t, Choosing)
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole")})
	out := filepath.Join(t.TempDir(), "out")
	inShares(t, path, out, 3, nil)
	equalTables(t, "choices in shares", TablesOf(t, out), want)
}
