//go:build linux

package jobs_test

import (
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// The demo's 200,000 rows stay below 200 MB of resident memory: a worker holds a
// slice, the join a column. Measured on a process of its own.
func TestPeakMemory(t *testing.T) {
	const most = 200 << 10 // kilobytes, as Linux counts ru_maxrss
	binary := filepath.Join(t.TempDir(), "proofmass")
	if out, err := exec.Command("go", "build", "-o", binary, "../cmd/proofmass").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	c := exec.Command(binary, "run", withoutIndices(t, "heron.yaml"), "--out", filepath.Join(t.TempDir(), "result"), "--rows", "200000", "--workers", "2")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	peak := c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss
	t.Logf("peak resident memory %d MB", peak>>10)
	if peak > most {
		t.Errorf("peak resident memory %d kB, want at most %d", peak, most)
	}
}
