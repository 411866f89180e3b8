package jobs_test

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/inspect"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

const studies = "../testdata/studies/"

// quick is an option set for a small run of a study into a fresh folder.
func quick(t *testing.T, rows int) jobs.Options {
	t.Helper()
	return jobs.Options{Out: filepath.Join(t.TempDir(), "result"), Study: study.Options{Rows: rows}}
}

func mustRun(t *testing.T, path string, o jobs.Options) *jobs.Outcome {
	t.Helper()
	outcome, err := jobs.Run(context.Background(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	return outcome
}

// write puts a study into a file of its own.
var write = jobs.WriteStudy

func TestSameBytesWhateverTheWorkers(t *testing.T) {
	var want map[string][]byte
	for _, workers := range []int{1, 2, 7} {
		o := quick(t, 1024)
		o.Workers = workers
		mustRun(t, studies+"heron.yaml", o)
		got := jobs.TablesOf(t, o.Out)
		if want == nil {
			want = got
		}
		if len(got) != len(want) || len(got) < 5 {
			t.Fatalf("%d workers: %d tables, want %d and at least 5", workers, len(got), len(want))
		}
		for name := range want {
			if !bytes.Equal(got[name], want[name]) {
				t.Errorf("%d workers: %s differs from that of 1 worker", workers, name)
			}
		}
	}
}

func TestRunAgain(t *testing.T) {
	o := quick(t, 256)
	if mustRun(t, studies+"heron.yaml", o).Again {
		t.Error("a fresh folder held the result already")
	}
	before := jobs.TablesOf(t, o.Out)
	if !mustRun(t, studies+"heron.yaml", o).Again {
		t.Error("the same study was run twice")
	}
	other := o
	other.Study.Rows = 2048
	var usage *jobs.UsageError
	if _, err := jobs.Run(context.Background(), studies+"heron.yaml", other); !errors.As(err, &usage) {
		t.Errorf("other rows into the same folder: got %v, want a usage error", err)
	}
	if after := jobs.TablesOf(t, o.Out); len(after) != len(before) {
		t.Error("the refused run changed the folder")
	}
	other.Replace = true
	if got := mustRun(t, studies+"heron.yaml", other).Answer.Run.Rows; got != 2048 {
		t.Errorf("--replace: %d rows, want 2048", got)
	}
}

func TestDamagedResultIsRunAnew(t *testing.T) {
	o := quick(t, 256)
	mustRun(t, studies+"heron.yaml", o)
	want := jobs.TablesOf(t, o.Out)
	if err := os.Remove(filepath.Join(o.Out, result.ClaimsTable)); err != nil {
		t.Fatal(err)
	}
	if mustRun(t, studies+"heron.yaml", o).Again {
		t.Error("a folder without its claims passed for whole")
	}
	if got := jobs.TablesOf(t, o.Out); !bytes.Equal(got[result.ClaimsTable], want[result.ClaimsTable]) {
		t.Error("the repeated run gave other claims")
	}
}

// Of a finished result one damaged file of the sample, and one that is missing, are made again and nothing else; without
// choices and with, packed or not.
func TestDamagedSlicesAreMendedAlone(t *testing.T) {
	for _, study := range []string{"product", "trade-space"} {
		o := quick(t, 1024)
		o.Compress = study == "product"
		mustRun(t, studies+study+".yaml", o)
		want := jobs.TablesOf(t, o.Out)
		manifest, err := os.ReadFile(filepath.Join(o.Out, "manifest.json"))
		if err != nil {
			t.Fatal(err)
		}
		paths, err := filepath.Glob(filepath.Join(o.Out, "samples", "*", "*.parquet"))
		if err != nil || len(paths) < 1 {
			t.Fatal(paths, err)
		}
		last, damaged := paths[len(paths)-1], 1
		data, err := os.ReadFile(last)
		if err != nil {
			t.Fatal(err)
		}
		data[len(data)/2] ^= 1
		if err := os.WriteFile(last, data, 0o666); err != nil {
			t.Fatal(err)
		}
		if len(paths) > 1 {
			damaged++
			if err := os.Remove(paths[0]); err != nil {
				t.Fatal(err)
			}
		}
		if got := mustRun(t, studies+study+".yaml", o); got.Mended != damaged || got.Again {
			t.Errorf("%s: %d files mended, want %d; again: %v", study, got.Mended, damaged, got.Again)
		}
		got := jobs.TablesOf(t, o.Out)
		for name := range want {
			if !bytes.Equal(got[name], want[name]) {
				t.Errorf("%s: %s differs", study, name)
			}
		}
		if after, err := os.ReadFile(filepath.Join(o.Out, "manifest.json")); err != nil || !bytes.Equal(after, manifest) {
			t.Errorf("%s: the manifest was written anew (%v)", study, err)
		}
		if err := result.Verify(o.Out); err != nil || !mustRun(t, studies+study+".yaml", o).Again {
			t.Errorf("%s: %v", study, err)
		}
	}
}

func TestStoppedRunStartsAnew(t *testing.T) {
	o := quick(t, 1024)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := jobs.Run(ctx, studies+"heron.yaml", o); !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v, want the context's error", err)
	}
	if state, err := inspect.Show(o.Out); err != nil || state.Finished {
		t.Errorf("after a stop: %+v, %v; want an unfinished result", state, err)
	}
	if mustRun(t, studies+"heron.yaml", o).Again {
		t.Error("an unfinished result passed for finished")
	}
}

func TestResultRepeatsItself(t *testing.T) {
	first := quick(t, 256)
	seed := uint64(99)
	first.Study.Seed = &seed
	mustRun(t, studies+"heron.yaml", first)
	second := jobs.Options{Out: filepath.Join(t.TempDir(), "again")}
	mustRun(t, filepath.Join(first.Out, result.StudyFile), second)
	want, got := jobs.TablesOf(t, first.Out), jobs.TablesOf(t, second.Out)
	for name := range want {
		if !bytes.Equal(want[name], got[name]) {
			t.Errorf("%s differs when the result's own study is run", name)
		}
	}
}

func TestWrongStudyWritesNothing(t *testing.T) {
	o := quick(t, 0)
	path := write(t, "format: 1\nstudy: wrong\nmodel: vehicle\n")
	var wrong study.Errors
	if _, err := jobs.Run(context.Background(), path, o); !errors.As(err, &wrong) {
		t.Fatalf("got %v, want study errors", err)
	}
	if _, err := os.Stat(o.Out); !errors.Is(err, fs.ErrNotExist) {
		t.Error("a wrong study made the output folder")
	}
}

func TestForeignFolderIsLeftAlone(t *testing.T) {
	folder := t.TempDir()
	note := filepath.Join(folder, "thesis.txt")
	if err := os.WriteFile(note, []byte("years of work"), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, replace := range []bool{false, true} {
		var usage *jobs.UsageError
		_, err := jobs.Run(context.Background(), studies+"product.yaml", jobs.Options{Out: folder, Replace: replace})
		if !errors.As(err, &usage) {
			t.Errorf("replace %t: got %v, want a usage error", replace, err)
		}
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 1 {
		t.Errorf("the folder holds %d entries, want the one it had", len(entries))
	}
}

func TestKeepSummaryDropsSamples(t *testing.T) {
	text, err := os.ReadFile(studies + "product.yaml")
	if err != nil {
		t.Fatal(err)
	}
	o := quick(t, 1024)
	mustRun(t, write(t, string(text)+"keep: summary\n"), o)
	for name := range jobs.TablesOf(t, o.Out) {
		if strings.HasPrefix(name, "samples") {
			t.Errorf("%s was kept", name)
		}
	}
	if state, err := inspect.Show(o.Out); err != nil || !state.Whole {
		t.Errorf("show: %+v, %v; want a whole result", state, err)
	}
}

// size is the stored spread of one output.
func size(t *testing.T, a *report.Answer, name string) report.Size {
	t.Helper()
	for _, s := range a.Sizes {
		if s.Name == name {
			return s
		}
	}
	t.Fatalf("the answer has no %s", name)
	return report.Size{}
}

// TestPageIsDrawn: a finished result has its page, which no digest speaks of; one that was
// there without a page gets one, and one that has its page keeps it.
func TestPageIsDrawn(t *testing.T) {
	o := quick(t, 1024)
	path := studies + "product.yaml"
	outcome := mustRun(t, path, o)
	if want := filepath.Join(o.Out, result.PageFile); outcome.Page != want {
		t.Fatalf("the page is said to be %q, want %q", outcome.Page, want)
	}
	before, err := os.ReadFile(outcome.Page)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(outcome.Page); err != nil {
		t.Fatal(err)
	}
	if err := result.Verify(o.Out); err != nil {
		t.Errorf("without its page the folder is not whole: %v", err)
	}
	again := mustRun(t, path, o)
	after, err := os.ReadFile(again.Page)
	if err != nil || !again.Again || !bytes.Equal(before, after) {
		t.Errorf("drawn again (%v, %v) the page has other bytes", again.Again, err)
	}
}
