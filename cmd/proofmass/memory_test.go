//go:build linux

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// The demo's 200,000 rows stay below 200 MB of resident memory on two workers: a
// worker holds a slice, the join a column. Linux counts a parent's memory at the
// moment of starting into its child's, so this test stands where the parent is small.
func TestPeakMemory(t *testing.T) {
	const most = 200 << 10 // kilobytes, as Linux counts ru_maxrss
	folder := t.TempDir()
	for _, name := range []string{"heron.yaml", "drum-cell.yaml"} {
		text, err := os.ReadFile(studies + name)
		if err != nil {
			t.Fatal(err)
		}
		if name == "heron.yaml" {
			text = append(text, "\nindices: none\n"...)
		}
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	c := exec.Command(binary, "run", filepath.Join(folder, "heron.yaml"), "--out", filepath.Join(folder, "result"), "--rows", "200000", "--workers", "2")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	peak := c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss
	t.Logf("peak resident memory %d MB", peak>>10)
	if peak > most {
		t.Errorf("peak resident memory %d kB, want at most %d", peak, most)
	}
}

// Memory does not grow with rows: 1.6 million of them, six stored columns, stay below 150
// MB on two workers; with whole columns in memory they took 235. What the sample's own rows
// tell of few inputs is from half a million of them: below 180.
func TestPeakMemoryOfManyRows(t *testing.T) {
	peakOfRows(t, 1_600_000, 2, 150, "indices: none\n")
	peakOfRows(t, 1_000_000, 2, 180, "")
}

// peakOfRows runs a study of four columns, and no more than so many MB may be resident.
func peakOfRows(t *testing.T, rows, workers, most int, more string) {
	t.Helper()
	folder := t.TempDir()
	path := filepath.Join(folder, "study.yaml")
	if err := os.WriteFile(path, fmt.Appendf(nil, `format: 1
study: many-rows
model: formulas
inputs: {a: {between: [0, 1]}, b: {normal: {mean: 5, sd: 1}}}
outputs: {y: a * b, z: a + b}
claims: {up: {holds: y > 2}}
sample: {rows: %d, seed: 1}
%s`, rows, more), 0o666); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(binary, "run", path, "--out", filepath.Join(folder, "result"), "--workers", fmt.Sprint(workers))
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	peak := run.ProcessState.SysUsage().(*syscall.Rusage).Maxrss
	t.Logf("%d rows, %d workers: peak resident memory %d MB", rows, workers, peak>>10)
	if peak > int64(most)<<10 {
		t.Errorf("%d rows, %d workers: peak resident memory %d kB, want at most %d", rows, workers, peak, most<<10)
	}
}
