package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"proofmass/jobs"
	"proofmass/jobs/compare"
	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
	"proofmass/jobs/study"
)

// compareResults says what changed from one result folder to another, and why.
func compareResults(ctx context.Context, args []string, out, errOut io.Writer) error {
	f := flags("compare")
	var o compare.Options
	f.IntVar(&o.Rows, "rows", 0, "")
	f.IntVar(&o.Workers, "workers", 0, "")
	file, asJSON := f.String("page", "", ""), f.Bool("json", false, "")
	if err := parse(f, args, 2, 2, "two result folders, the old one first"); err != nil {
		return err
	}
	if f.Changed("rows") && (o.Rows < leastCompared || o.Rows > study.MostRows) {
		return usagef("compare: --rows: found %d; %d to %d are allowed", o.Rows, leastCompared, study.MostRows)
	}
	if f.Changed("workers") && o.Workers < 1 {
		return usagef("compare: --workers: found %d; at least 1 is wanted", o.Workers)
	}
	if f.Changed("page") {
		if err := mayBePage(*file); err != nil {
			return usagef("compare: --page: %w", err)
		}
	}
	c, err := compared(ctx, f.Arg(0), f.Arg(1), errOut, o)
	if err != nil {
		return err
	}
	if f.Changed("page") {
		text, err := page.RenderComparison(c)
		if err != nil {
			return err
		}
		if err := os.WriteFile(*file, text, 0o666); err != nil {
			return err
		}
	}
	if *asJSON {
		return writeJSON(out, c)
	}
	if err := c.Text(out, columns(out)); err != nil || !f.Changed("page") {
		return err
	}
	_, err = fmt.Fprintf(out, "On a page: %s.\n", report.Printable(*file))
	return err
}

// mayBePage says what is wrong with the name of a page to draw: a file that is no page of ours
// is never written over.
func mayBePage(path string) error {
	there, err := os.Open(path)
	switch {
	case path == "":
		return errors.New("the name of the file is empty")
	case errors.Is(err, fs.ErrNotExist):
		if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
			return fmt.Errorf("%s: there is no folder %s", path, filepath.Dir(path))
		}
		return nil
	case err != nil:
		return err
	}
	defer there.Close()
	head := make([]byte, 64<<10)
	n, _ := io.ReadFull(there, head)
	if !bytes.HasPrefix(head[:n], []byte("<!doctype html>")) || !bytes.Contains(head[:n], []byte("--cand-wash")) {
		return fmt.Errorf("%s exists and is no page of this program; give another name", path)
	}
	return nil
}

// compared reads both folders, which must be finished and whole.
func compared(ctx context.Context, old, new string, errOut io.Writer, o compare.Options) (*compare.Comparison, error) {
	for _, folder := range []string{old, new} {
		if err := finished(folder, "there is nothing to compare yet"); err != nil {
			return nil, err
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
	if errors.Is(err, compare.ErrOther) || errors.Is(err, compare.ErrChoices) {
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
