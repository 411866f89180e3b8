//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Where files may not grow, as on a full disk, a run says so in one line and what it has done
// is whole: with room again it goes on to the same bytes.
func TestNoRoomIsSaidOnce(t *testing.T) {
	study, folder := write(t, strings.Replace(small, "rows: 1024", "rows: 30_000", 1)), t.TempDir()
	out, whole := filepath.Join(folder, "out"), filepath.Join(folder, "whole")
	proof("run", study, "--out", whole)
	c := exec.Command("sh", "-c", `ulimit -f 64; exec "$0" run "$1" --out "$2"`, binary, study, out)
	said, _ := c.CombinedOutput()
	if text := string(said); c.ProcessState.ExitCode() != exitFailed || strings.Count(text, "\n") > 2 || !strings.Contains(text, "too large") || !strings.Contains(text, "goes on from here") {
		t.Errorf("exit %d, %s", c.ProcessState.ExitCode(), text)
	}
	if got := proof("show", out); got.code != 0 || !strings.Contains(got.out, "not finished") || !strings.Contains(got.out, "failed") {
		t.Errorf("show: exit %d, %s%s", got.code, got.out, got.err)
	}
	if got := proof("run", study, "--out", out); got.code != 0 {
		t.Fatal(got.err)
	}
	for _, table := range []string{"summary", "claims", "indices", "samples/0000/slice-00000007"} {
		if textOf(t, filepath.Join(out, table+".parquet")) != textOf(t, filepath.Join(whole, table+".parquet")) {
			t.Errorf("%s differs", table)
		}
	}
}

// A folder that may not be written to is said in one line, whatever the verb.
func TestReadOnlyFolder(t *testing.T) {
	study, out := write(t, small), t.TempDir()
	if err := os.Chmod(out, 0o555); err != nil {
		t.Fatal(err)
	}
	if probe, err := os.Create(filepath.Join(out, "probe")); err == nil { // root may write anywhere: a folder of the system's own
		_ = probe.Close()
		if out = "/proc/self"; !isFolder(out) {
			return // not on this system
		}
	}
	for _, args := range [][]string{{"run", study}, {"run", study, write(t, small)}, {"join", study}, {"submit", study, "--dry-run"}} {
		got := proof(append(args, "--out", filepath.Join(out, "new"))...)
		if got.code != exitWrong && got.code != exitFailed || strings.Count(got.err, "\n") != 1 || !strings.Contains(got.err, "new") {
			t.Errorf("%v: exit %d, %s", args, got.code, got.err)
		}
	}
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
