package jobs_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/inspect"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

func sameFiles(t *testing.T, folder string, want map[string][]byte) {
	t.Helper()
	got := jobs.TablesOf(t, folder)
	if len(got) != len(want) {
		t.Errorf("%d files, want %d", len(got), len(want))
	}
	for name := range want {
		if !bytes.Equal(got[name], want[name]) {
			t.Errorf("%s differs", name)
		}
	}
	if state, err := inspect.Show(folder); err != nil || !state.Whole || !state.Finished {
		t.Errorf("show: %+v, %v; want a whole result", state, err)
	}
}

// A run that replaces and is stopped leaves the old result whole, a note beside it too; run
// to its end it puts the new one in its place.
func TestReplaceKeepsTheOldResult(t *testing.T) {
	o := quick(t, 1024)
	mustRun(t, studies+"product.yaml", o)
	old := jobs.TablesOf(t, o.Out)
	note := filepath.Join(o.Out, "notes.txt")
	if err := os.WriteFile(note, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	other := o
	other.Study.Rows, other.Replace = 4096, true
	ctx, stop := context.WithCancel(t.Context())
	other.Progress = func(done, of int) {
		if done > of/2 {
			stop()
		}
	}
	if _, err := jobs.Run(ctx, studies+"product.yaml", other); !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v, want the context's error", err)
	}
	visible := parquetFilesOf(t, o.Out, old)
	for name := range old {
		if !bytes.Equal(visible[name], old[name]) {
			t.Errorf("%s of the old result has changed", name)
		}
	}
	if state, err := inspect.Show(o.Out); err != nil || !state.Whole || !state.Finished {
		t.Errorf("show: %+v, %v; want the old result, whole", state, err)
	}
	if !mustRun(t, studies+"product.yaml", o).Again {
		t.Error("the old study is run anew")
	}
	fresh := jobs.Options{Out: filepath.Join(t.TempDir(), "fresh"), Study: study.Options{Rows: 4096}}
	mustRun(t, studies+"product.yaml", fresh)
	other.Progress = nil
	if mustRun(t, studies+"product.yaml", other).Again {
		t.Error("another study's result passed for this")
	}
	sameFiles(t, o.Out, jobs.TablesOf(t, fresh.Out))
	if text, err := os.ReadFile(note); err != nil || string(text) != "mine" {
		t.Errorf("the note: %q, %v", text, err)
	}
}

// parquetFilesOf reads the named files.
func parquetFilesOf(t *testing.T, folder string, names map[string][]byte) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	for name := range names {
		var err error
		if files[name], err = os.ReadFile(filepath.Join(folder, name)); err != nil {
			t.Error(err)
		}
	}
	return files
}

// A damaged result and an unfinished one are made whole though a file of somebody else's
// stands in the folder.
func TestForeignFileStopsNoRepair(t *testing.T) {
	o := quick(t, 1024)
	mustRun(t, studies+"product.yaml", o)
	want := jobs.TablesOf(t, o.Out)
	if err := os.WriteFile(filepath.Join(o.Out, ".DS_Store"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(o.Out, result.SummaryTable)); err != nil {
		t.Fatal(err)
	}
	mustRun(t, studies+"product.yaml", o)
	sameFiles(t, o.Out, want)
	unfinish(t, o.Out, func(m *result.Manifest) { m.Finished = false })
	mustRun(t, studies+"product.yaml", o)
	sameFiles(t, o.Out, want)
}

// unfinish changes the manifest of a result folder.
func unfinish(t *testing.T, out string, change func(*result.Manifest)) {
	t.Helper()
	folder, m, err := result.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	change(m)
	if err := folder.WriteManifest(m); err != nil {
		t.Fatal(err)
	}
}

// What was killed between the manifest and given/ is unfinished, not damaged.
func TestKilledBeforeGivenIsUnfinished(t *testing.T) {
	o := quick(t, 1024)
	mustRun(t, studies+"product.yaml", o)
	unfinish(t, o.Out, func(m *result.Manifest) { m.Finished, m.Rounds, m.Tables = false, nil, nil })
	if err := os.Remove(filepath.Join(o.Out, result.StudyFile)); err != nil {
		t.Fatal(err)
	}
	if state, err := inspect.Show(o.Out); err != nil || state.Finished || !state.Whole {
		t.Errorf("%+v, %v; want an unfinished result and no fault", state, err)
	}
}

// Every refusal says how to go on, and changes nothing.
func TestRefusalsSayHowToGoOn(t *testing.T) {
	run := func(t *testing.T, out string, replace bool) error {
		_, err := jobs.Run(t.Context(), studies+"product.yaml", jobs.Options{Out: out, Replace: replace, Study: study.Options{Rows: 1024}})
		return err
	}
	made := func(t *testing.T) string {
		out := filepath.Join(t.TempDir(), "result")
		if err := run(t, out, false); err != nil {
			t.Fatal(err)
		}
		return out
	}
	for name, c := range map[string]struct {
		spoil    func(t *testing.T, out string)
		says     string
		mendable bool // by --replace
	}{
		"another version": {func(t *testing.T, out string) {
			unfinish(t, out, func(m *result.Manifest) { m.Program = "0.0.1" })
		}, "by version 0.0.1 of the program", true},
		"a later manifest": {func(t *testing.T, out string) {
			put(t, out, "manifest.json", `{"format":"proofmass result","schema_version":99}`)
		}, "schema version 99", true},
		"a damaged manifest": {func(t *testing.T, out string) {
			put(t, out, "manifest.json", `{"format": "proofmass result", "schema_ver`)
		}, "damaged", true},
		"somebody's manifest": {func(t *testing.T, out string) { put(t, out, "manifest.json", `{"name": "an app"}`) }, "not a manifest of this program", false},
		"locked from afar": {func(t *testing.T, out string) {
			unfinish(t, out, func(m *result.Manifest) { m.Finished = false })
			put(t, out, ".proofmass-lock", `{"host":"far","pid":3,"since":"2026-01-02T03:04:05Z"}`)
		}, "if that run is gone, remove ", false},
	} {
		t.Run(name, func(t *testing.T) {
			out := made(t)
			c.spoil(t, out)
			before := jobs.TablesOf(t, out)
			var usage *jobs.UsageError
			err := run(t, out, false)
			if !errors.As(err, &usage) || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "give another folder") {
				t.Errorf("says %v", err)
			}
			if after := jobs.TablesOf(t, out); len(after) != len(before) {
				t.Error("the refused run changed the folder")
			}
			if err := run(t, out, true); (err == nil) != c.mendable {
				t.Errorf("--replace: %v", err)
			} else if c.mendable {
				sameFiles(t, out, jobs.TablesOf(t, made(t)))
			}
		})
	}
}

// What a run that was killed leaves is tidied by the next one, a lock of a dead process too;
// what it began of another study, where that is to stay out.
func TestLeftoversOfTheDead(t *testing.T) {
	o := quick(t, 1024)
	mustRun(t, studies+"product.yaml", o)
	there := func(name string) bool {
		_, err := os.Lstat(filepath.Join(o.Out, name))
		return err == nil
	}
	begin := func() {
		host, boot := result.Here()
		put(t, o.Out, ".proofmass-lock", fmt.Sprintf(`{"host":%q,"boot":%q,"pid":%d}`, host, boot, 1<<30))
		ctx, stop := context.WithCancel(t.Context())
		stop()
		beside := quick(t, 4096)
		if _, err := jobs.Run(ctx, studies+"product.yaml", beside); !errors.Is(err, context.Canceled) {
			t.Fatal(err)
		}
		if err := os.CopyFS(filepath.Join(o.Out, ".proofmass-next"), os.DirFS(beside.Out)); err != nil {
			t.Fatal(err)
		}
	}
	begin()
	if mustRun(t, studies+"product.yaml", o); there(".proofmass-lock") || !there(".proofmass-next") {
		t.Errorf("lock stays: %v; the other study's stays: %v", there(".proofmass-lock"), there(".proofmass-next"))
	}
	if err := os.RemoveAll(filepath.Join(o.Out, ".proofmass-next")); err != nil {
		t.Fatal(err)
	}
	begin()
	o.Replace = true
	if outcome := mustRun(t, studies+"product.yaml", o); !outcome.Again || there(".proofmass-lock") || there(".proofmass-next") {
		t.Errorf("--replace: lock stays: %v; the other study's stays: %v", there(".proofmass-lock"), there(".proofmass-next"))
	}
}

func put(t *testing.T, folder, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func TestDanglingLinkAsOut(t *testing.T) {
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(link+"-target", link); err != nil {
		t.Fatal(err)
	}
	var usage *jobs.UsageError
	_, err := jobs.Run(t.Context(), studies+"product.yaml", jobs.Options{Out: link})
	if !errors.As(err, &usage) || !strings.Contains(err.Error(), "a link to what does not exist") {
		t.Errorf("got %v", err)
	}
}

// Of runs at the same time into one folder each ends with the answer or is told that
// another is at it; the result is whole.
func TestRunsAtOnce(t *testing.T) {
	o := quick(t, 4096)
	errs := make(chan error)
	for range 3 {
		go func() {
			_, err := jobs.Run(t.Context(), studies+"product.yaml", o)
			errs <- err
		}()
	}
	done := 0
	for range 3 {
		if err := <-errs; err == nil {
			done++
		} else if !strings.Contains(err.Error(), "another run is writing to it") {
			t.Error(err)
		}
	}
	if done == 0 {
		t.Error("none came to its end")
	}
	fresh := quick(t, 4096)
	mustRun(t, studies+"product.yaml", fresh)
	sameFiles(t, o.Out, jobs.TablesOf(t, fresh.Out))
}

// A study whose comments and free texts alone were edited is the same to the numbers: no
// --replace, no model run among the work that is told of, and every file as if it had been run with the new texts.
func TestTextsAreRenewed(t *testing.T) {
	text, err := os.ReadFile(studies + "product.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const comment = "# one more comment\n"
	for what, edited := range map[string]string{
		"comment": comment + string(text),
		"source":  comment + strings.Replace(string(text), "source: definition", "source: an invented text", 1),
		"about":   strings.Replace(strings.Replace(string(text), "about: ", "about: Once more. ", 1), "meaning: product", "meaning: their product", 1),
	} {
		o := quick(t, 1024)
		mustRun(t, write(t, string(text)), o)
		again := o
		var ofAgain, ofFresh atomic.Int64
		again.Progress = func(_, of int) { ofAgain.Store(int64(of)) }
		outcome := mustRun(t, write(t, edited), again)
		if !outcome.Renewed || outcome.Again {
			t.Errorf("%s: %+v", what, outcome)
		}
		fresh := quick(t, 1024)
		fresh.Progress = func(_, of int) { ofFresh.Store(int64(of)) }
		mustRun(t, write(t, edited), fresh)
		if ofAgain.Load()+1024 > ofFresh.Load() {
			t.Errorf("%s: the work told of is %d, that of a fresh run %d: the model was run", what, ofAgain.Load(), ofFresh.Load())
		}
		sameFiles(t, o.Out, jobs.TablesOf(t, fresh.Out))
		if given, err := os.ReadFile(filepath.Join(o.Out, result.StudyFile)); err != nil || string(given) != edited {
			t.Errorf("%s: the study kept is %q, %v", what, given, err)
		}
		if !mustRun(t, write(t, edited), o).Again {
			t.Errorf("%s: run again it is not there", what)
		}
	}
}

// What stands at the name of a slice is told before a row is computed, in a folder that holds
// another result and in one that holds an unfinished one of this study.
func TestInTheWayIsToldFirst(t *testing.T) {
	for name, change := range map[string]func(t *testing.T, o *jobs.Options){
		"another result": func(_ *testing.T, o *jobs.Options) { o.Study.Rows, o.Replace = 2048, true },
		"unfinished": func(t *testing.T, o *jobs.Options) {
			unfinish(t, o.Out, func(m *result.Manifest) { m.Finished, m.Rounds, m.Tables = false, nil, nil })
		},
	} {
		o := quick(t, 1024)
		mustRun(t, studies+"product.yaml", o)
		change(t, &o)
		path := filepath.Join(o.Out, filepath.FromSlash(result.SliceName(result.SampleKind, 0, 15)))
		if err := os.RemoveAll(path); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Join(path, "a"), 0o777); err != nil {
			t.Fatal(err)
		}
		o.Progress = func(int, int) { t.Errorf("%s: the model was run", name) }
		var usage *jobs.UsageError
		_, err := jobs.Run(t.Context(), studies+"product.yaml", o)
		if !errors.As(err, &usage) || !strings.Contains(err.Error(), path+" is in the way") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The same of choices that leave a race: each stands as it stood, and slices of several
// replicates keep theirs.
func TestTextsOfChoicesAreRenewed(t *testing.T) {
	edited := strings.NewReplacer("sd: 0.01}}", "sd: 0.01}, source: an invented text}", "holds: y >= 0.9}", "holds: y >= 0.9, source: a claim}").Replace(jobs.Choosing)
	o, fresh := quick(t, 0), quick(t, 0)
	mustRun(t, write(t, jobs.Choosing), o)
	again, runs := o, 0
	again.Progress = func(_, of int) { runs = of }
	if outcome := mustRun(t, write(t, edited), again); !outcome.Renewed || edited == jobs.Choosing {
		t.Errorf("%+v", outcome)
	}
	all := 0
	fresh.Progress = func(_, of int) { all = of }
	mustRun(t, write(t, edited), fresh)
	if 2*runs > all {
		t.Errorf("the work told of is %d, that of a fresh run %d: the model was run", runs, all)
	}
	sameFiles(t, o.Out, jobs.TablesOf(t, fresh.Out))
}
