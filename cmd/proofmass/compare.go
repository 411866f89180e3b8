package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"proofmass/jobs"
	"proofmass/jobs/compare"
	"proofmass/jobs/inspect"
	"proofmass/jobs/study"
)

// compareResults says what changed from one result folder to another, and why.
func compareResults(ctx context.Context, args []string, out, errOut io.Writer) error {
	f := flags("compare")
	rows, workers, asJSON := f.Int("rows", 0, ""), f.Int("workers", 0, ""), f.Bool("json", false, "")
	if err := parse(f, args, 2, 2, "two result folders, the old one first"); err != nil {
		return err
	}
	c, err := compared(ctx, f.Arg(0), f.Arg(1), errOut, compare.Options{Rows: *rows, Workers: *workers}, f.Changed("rows"), f.Changed("workers"))
	if err != nil {
		return err
	}
	if *asJSON {
		return writeJSON(out, c)
	}
	return c.Text(out, columns(out))
}

// compared reads both folders, which must be finished and whole.
func compared(ctx context.Context, old, new string, errOut io.Writer, o compare.Options, rowsGiven, workersGiven bool) (*compare.Comparison, error) {
	if rowsGiven && (o.Rows < leastCompared || o.Rows > study.MostRows) {
		return nil, usagef("compare: --rows: found %d; %d to %d are allowed", o.Rows, leastCompared, study.MostRows)
	}
	if workersGiven && o.Workers < 1 {
		return nil, usagef("compare: --workers: found %d; at least 1 is wanted", o.Workers)
	}
	for _, folder := range []string{old, new} {
		state, err := inspect.Show(folder)
		if err != nil {
			return nil, err
		}
		if err := whole(state); err != nil {
			return nil, err
		}
		if !state.Finished {
			return nil, usagef("%s: not finished; there is nothing to compare yet", folder)
		}
	}
	if same, err := sameFolder(old, new); err != nil || same {
		return nil, errors.Join(err, usagef("%s and %s are the same folder; two results are wanted", old, new))
	}
	bar := newProgress(errOut)
	o.Version, o.Tick = jobs.Version, bar.tell
	o.Read = func(path string) (*study.Study, error) { return jobs.Read(path, study.Options{}) }
	c, err := compare.Read(ctx, old, new, o)
	bar.end()
	if errors.Is(err, compare.ErrOther) {
		return nil, usagef("%w", err)
	}
	return c, err
}

// leastCompared is how many draws a combination has at least: 32 a replicate.
const leastCompared = 512

func sameFolder(a, b string) (bool, error) {
	x, err := filepath.EvalSymlinks(a)
	if err != nil {
		return false, fmt.Errorf("%s: %w", a, err)
	}
	y, err := filepath.EvalSymlinks(b)
	if err != nil {
		return false, fmt.Errorf("%s: %w", b, err)
	}
	x, err = filepath.Abs(x)
	if err != nil {
		return false, err
	}
	y, err = filepath.Abs(y)
	return x == y, err
}
