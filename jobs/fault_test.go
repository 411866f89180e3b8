package jobs

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/files"
	"proofmass/jobs/files/faulty"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// few has few slices, so that each operation of its run can fail in turn.
const few = `format: 1
study: few
model: formulas
inputs: {a: {between: [0, 1]}, b: {between: [0, 1]}}
outputs: {y: a * b}
claims: {large: {holds: y > 0.2}}
sample: {rows: 64, seed: 4}
indices: {half_width: 50 %, at_most: 256}
keep: summary
`

// everyFault runs the study with file operation 0, then 1, ... failing, until a run meets no
// fault. Behind each failure no file is torn, and the run begun again gives the tables wanted
// and leaves nothing half written.
func everyFault(t *testing.T, path string, dead bool, step int, prepare func(out string) Options, want map[string][]byte) {
	t.Helper()
	for k := 0; ; k += step {
		out := filepath.Join(t.TempDir(), "out")
		o := prepare(out)
		o.shared = true // every part is stored
		disk := &faulty.Disk{K: k, Dead: dead}
		o.disk = disk
		_, err := Run(t.Context(), path, o)
		if err != nil && !errors.Is(err, faulty.Err) {
			t.Fatalf("operation %d: %v", k, err)
		}
		if err != nil && (strings.Contains(err.Error(), "proofmass-tmp") || strings.Contains(err.Error(), "\n")) {
			t.Errorf("operation %d: the message is %q", k, err)
		}
		nothingTorn(t, out, k)
		o.disk = nil
		if _, err := Run(t.Context(), path, o); err != nil {
			t.Fatalf("operation %d failed, begun again: %v", k, err)
		}
		equalTables(t, strings.Join(disk.Log()[:min(k+1, len(disk.Log()))], " "), TablesOf(t, out), want)
		if left := leftOver(t, out); len(left) > 0 {
			t.Errorf("operation %d failed, begun again: left are %v", k, left)
		}
		if t.Failed() {
			t.FailNow()
		}
		if k >= len(disk.Log()) {
			if k < 50 {
				t.Errorf("a run has only %d file operations", k)
			}
			return
		}
	}
}

// nothingTorn wants each file that has its final name to be whole.
func nothingTorn(t *testing.T, out string, k int) {
	t.Helper()
	_ = filepath.WalkDir(out, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || d.IsDir() || files.IsTemporary(d.Name()):
			return nil
		case strings.HasSuffix(path, ".parquet"):
			_, err = result.ReadTable(path)
		case d.Name() == "manifest.json":
			_, err = result.ReadManifest(filepath.Dir(path))
		case strings.HasSuffix(path, ".part"):
			err = result.CheckPart(path)
		}
		if err != nil {
			t.Errorf("operation %d failed: %v", k, err)
		}
		return nil
	})
}

// leftOver are files that no finished result has.
func leftOver(t *testing.T, out string) (left []string) {
	t.Helper()
	_ = filepath.WalkDir(out, func(path string, d fs.DirEntry, err error) error {
		if err == nil && (files.IsTemporary(d.Name()) || d.Name() == "work" || d.Name() == ".proofmass-next" || d.Name() == ".proofmass-lock") {
			left = append(left, path)
		}
		return nil
	})
	return left
}

func TestFileOperationsFail(t *testing.T) { fileOperationsFail(t, 41) }

func TestFileOperationsOfAReplacementFail(t *testing.T) { fileOperationsOfAReplacementFail(t, 82) }

// fileOperationsFail: whichever file operation of a new result fails, of each step the first,
// with the disk dead from there on or not.
func fileOperationsFail(t *testing.T, step int) {
	t.Helper()
	path := WriteStudy(t, few)
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole")})
	fresh := func(out string) Options { return Options{Out: out, Workers: 1} }
	everyFault(t, path, true, step, fresh, want)
	everyFault(t, path, false, 4*step, fresh, want)
}

// fileOperationsOfAReplacementFail: the same of a result that replaces another, of more rows
// and with its samples.
func fileOperationsOfAReplacementFail(t *testing.T, step int) {
	t.Helper()
	path, old := WriteStudy(t, few), WriteStudy(t, strings.NewReplacer("rows: 64", "rows: 80", "keep: summary", "").Replace(few))
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole")})
	everyFault(t, path, true, step, func(out string) Options {
		runInto(t, old, Options{Out: out, Study: study.Options{}})
		return Options{Out: out, Workers: 1, Replace: true}
	}, want)
}

// On a full disk a run that replaces says what stays beside the old result, from where it goes
// on; one that only renews texts, which has nothing to go on with, leaves nothing.
func TestFullDiskBesideAResult(t *testing.T) {
	kept := strings.Replace(few, "keep: summary\n", "", 1)
	old := WriteStudy(t, kept)
	for name, c := range map[string]struct {
		text  string
		stays bool
	}{
		"replaced": {strings.Replace(few, "seed: 4", "seed: 5", 1), true},
		"renewed":  {strings.Replace(kept, "b: {between: [0, 1]}", "b: {between: [0, 1], source: invented}", 1), false},
	} {
		path, seen := WriteStudy(t, c.text), 0
		for k := 9; k < 60; k += 7 {
			out := filepath.Join(t.TempDir(), "out")
			want := runInto(t, old, Options{Out: out})
			disk := &faulty.Disk{K: k}
			_, err := Run(t.Context(), path, Options{Out: out, Workers: 1, Replace: true, disk: disk})
			_, gone := os.Stat(filepath.Join(out, ".proofmass-next"))
			switch op := disk.Log()[min(k, len(disk.Log())-1)]; {
			case err == nil || op != "write":
				continue
			case !c.stays && gone == nil:
				t.Errorf("%s, write %d: .proofmass-next stays", name, k)
			case c.stays && gone == nil && !strings.Contains(err.Error(), "the same command goes on with it"):
				t.Errorf("%s, write %d: it stays and the message is %q", name, k, err)
			}
			seen++
			if m, err := result.ReadManifest(out); err != nil || !m.Finished {
				t.Errorf("%s, write %d: the old result is not whole: %v", name, k, err)
			}
			if c.stays {
				continue
			}
			equalTables(t, name, TablesOf(t, out), want)
		}
		if seen == 0 {
			t.Errorf("%s: no write failed", name)
		}
	}
}
