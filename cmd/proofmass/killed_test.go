package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Killed at whatever moment, a run that replaces leaves the old result whole or the new
// one, and the same command ends with the new one.
func TestKilledReplaceLosesNothing(t *testing.T) {
	study := write(t, strings.NewReplacer("rows: 1024", "rows: 60_000", "at_most: 4096", "at_most: 40_000").Replace(small))
	out := filepath.Join(t.TempDir(), "out")
	answer := map[string]string{}
	run := func(seed string) *exec.Cmd {
		return exec.Command(binary, "run", study, "--out", out, "--replace", "--seed", seed)
	}
	began := time.Now()
	for _, seed := range []string{"1", "2"} {
		if got := proof(run(seed).Args[1:]...); got.code != 0 {
			t.Fatal(got.err)
		}
		answer[seed] = proof("show", out).out
	}
	takes := time.Since(began) / 2
	if err := os.WriteFile(filepath.Join(out, "notes.txt"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	before := map[string]string{"1": "2", "2": "1"}
	const kills = 8
	for k := range kills {
		seed := []string{"1", "2"}[k%2]
		c := run(seed)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(takes * time.Duration(k+1) / kills)
		_ = c.Process.Kill()
		_ = c.Wait()
		if got := proof("show", out); got.code != 0 || got.out != answer[seed] && got.out != answer[before[seed]] {
			t.Errorf("killed after %d of %d parts: show ends with %d, %s", k+1, kills, got.code, got.err)
		}
		if got := proof(run(seed).Args[1:]...); got.code != 0 {
			t.Fatalf("after the kill: exit %d, %s", got.code, got.err)
		}
		if got := proof("show", out); got.out != answer[seed] {
			t.Errorf("killed after %d of %d parts and run again: %s", k+1, kills, got.err)
		}
	}
}

// A result that was there already says that nothing was computed.
func TestNothingComputedIsSaid(t *testing.T) {
	study, out := write(t, small), filepath.Join(t.TempDir(), "out")
	first := proof("run", study, "--out", out)
	again := proof("run", study, "--out", out)
	if first.code != 0 || again.code != 0 || again.out != first.out || strings.Contains(first.err, "nothing was computed") || !strings.Contains(again.err, "nothing was computed") {
		t.Errorf("first: %d %q; again: %d %q", first.code, first.err, again.code, again.err)
	}
}

// A signal stops a run within two seconds while it makes tables of many rows too, and the
// same command goes on. The limit is twice that: the machine may be busy.
func TestStopsWhileTablesAreMade(t *testing.T) {
	study := write(t, strings.Replace(small, "rows: 1024", "rows: 2_000_000", 1))
	out := filepath.Join(t.TempDir(), "out")
	for _, signal := range []os.Signal{syscall.SIGINT, syscall.SIGTERM} {
		c := exec.Command(binary, "run", study, "--out", out)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		last := filepath.Join(out, "samples", "0000", "slice-00000255.parquet") // 16 replicates of 16 slices
		for range 1000 {
			if _, err := os.Stat(last); err == nil {
				break
			}
			time.Sleep(20 * time.Millisecond)
		}
		time.Sleep(200 * time.Millisecond)
		began := time.Now()
		if err := c.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		_ = c.Wait()
		if took, code := time.Since(began), c.ProcessState.ExitCode(); code != exitStopped || took > 4*time.Second {
			t.Errorf("%v: exit %d after %v", signal, code, took)
		}
		if got := proof("show", out); got.code != 0 || !strings.Contains(got.out, "not finished") {
			t.Errorf("show: exit %d, %q %q", got.code, got.out, got.err)
		}
	}
}

// The same while a study whose texts alone changed is renewed: the files of the sample are
// written anew, nothing is evaluated. Whichever moment it is stopped at, the old result stays.
func TestStopsWhileTextsAreRenewed(t *testing.T) {
	large := strings.Replace(small, "rows: 1024", "rows: 1_000_000", 1)
	study := write(t, large)
	out := filepath.Join(t.TempDir(), "out")
	if got := proof("run", study, "--out", out); got.code != exitDone {
		t.Fatal(got.err)
	}
	before, next := proof("show", out).out, filepath.Join(out, ".proofmass-next")
	if err := os.WriteFile(study, []byte(strings.Replace(large, "[1 m, 2 m]}", "[1 m, 2 m], source: a drawing}", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, signal := range []os.Signal{syscall.SIGINT, syscall.SIGTERM} {
		if err := os.RemoveAll(next); err != nil { // of the one that was stopped before
			t.Fatal(err)
		}
		c := exec.Command(binary, "run", study, "--out", out)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		for range 3000 { // until it writes beside the old one
			if found, _ := filepath.Glob(filepath.Join(next, "samples", "0000", "slice-*")); len(found) > 0 {
				break
			}
			time.Sleep(5 * time.Millisecond)
		}
		began := time.Now()
		if err := c.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		_ = c.Wait()
		if took, code := time.Since(began), c.ProcessState.ExitCode(); code != exitStopped || took > 4*time.Second {
			t.Errorf("%v: exit %d after %v", signal, code, took)
		}
		if got := proof("show", out); got.code != exitDone || got.out != before {
			t.Errorf("%v: show ends with %d, %q", signal, got.code, got.err)
		}
	}
	if got := proof("run", study, "--out", out); got.code != exitDone || !strings.Contains(got.err, "they were renewed") {
		t.Errorf("begun again: exit %d, %q", got.code, got.err)
	}
}
