package jobs

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// Slices are the same in every process, so what one leaves another goes on with.
//
// anyOrder runs a study in order, in reverse, and ended after every so many slices and begun
// anew: the same bytes of every table.
func anyOrder(t *testing.T, path string, rows, endAfter int) {
	t.Helper()
	o := Options{Study: study.Options{Rows: rows}, Workers: 2}
	into := func(name string) Options { o.Out = filepath.Join(t.TempDir(), name); return o }
	want := runInto(t, path, into("whole"))
	back := into("reverse")
	back.order = reversed
	equalTables(t, path+" in reverse", runInto(t, path, back), want)
	again, ends := into("ended"), 0
	again.Workers = 1
	for {
		made := 0
		again.kept = func(plan.Key) error {
			if made++; made == endAfter {
				return errEnded
			}
			return nil
		}
		_, err := Run(t.Context(), path, again)
		if err == nil {
			break
		}
		if ends++; !errors.Is(err, errEnded) || ends > 1000 {
			t.Fatal(err)
		}
	}
	if ends == 0 {
		t.Errorf("%s was never ended", path)
	}
	equalTables(t, path+" ended and begun anew", TablesOf(t, again.Out), want)
}

func studiesLike(t *testing.T, pattern string) []string {
	t.Helper()
	paths, err := filepath.Glob("../testdata/studies/" + pattern)
	if err != nil || len(paths) == 0 {
		t.Fatal(err, "no studies like "+pattern)
	}
	return paths
}

func TestSmallStudiesInAnyOrder(t *testing.T) {
	for _, path := range append(studiesLike(t, "product.yaml"), studiesLike(t, "gum-9.2.*.yaml")...) {
		anyOrder(t, path, 512, 15)
	}
}

// Two processes share the slices of one folder, one of them backwards, and the folder has the
// bytes that one process alone makes.
func TestTwoProcessesInOneFolder(t *testing.T) {
	path := writeSteps(t)
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "whole")})
	out := filepath.Join(t.TempDir(), "out")
	lock, err := result.LockFolder(out)
	if err != nil {
		t.Fatal(err)
	}
	lock.Release()
	var both [2]*exec.Cmd
	for k, how := range []string{"forwards", "backwards"} {
		c := exec.Command(os.Args[0], "-test.run", "^TestOneOfTwoProcesses$")
		c.Env = append(os.Environ(), "LOOP_STUDY="+path, "LOOP_OUT="+out, "LOOP_ORDER="+how)
		c.Stdout, c.Stderr = &strings.Builder{}, os.Stderr
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		both[k] = c
	}
	for _, c := range both {
		if err := c.Wait(); err != nil {
			t.Errorf("%v: %s", err, c.Stdout)
		}
		if said := c.Stdout.(*strings.Builder).String(); !strings.Contains(said, "PASS") {
			t.Errorf("a process says %q", said)
		}
	}
	equalTables(t, "two processes", TablesOf(t, out), want)
}

// This is what each of the two does; without a folder to share there is nothing to do.
func TestOneOfTwoProcesses(t *testing.T) {
	path, out := os.Getenv("LOOP_STUDY"), os.Getenv("LOOP_OUT")
	if path == "" {
		return
	}
	s, err := Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(s)
	if err != nil {
		t.Fatal(err)
	}
	lock, err := result.LockFolder(out) // the other may hold it: two loops do not lock
	for err != nil {
		if t.Context().Err() != nil {
			t.Fatal(err)
		}
		lock, err = result.LockFolder(out)
	}
	lock.Release()
	made := 0
	o := Options{Out: out, Workers: 1, shared: true, kept: func(plan.Key) error { made++; return nil }}
	if os.Getenv("LOOP_ORDER") == "backwards" {
		o.order = reversed
	}
	j := newJob(t.Context(), p, lock.Folder(), o)
	if err := errors.Join(j.folder.WriteManifest(j.manifest), j.given(t.Context()), j.loop(t.Context()), j.summarise(t.Context()), j.sensitivity(t.Context())); err != nil {
		t.Fatal(err)
	}
	t.Logf("made %d slices", made)
}
