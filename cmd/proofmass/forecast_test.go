//go:build linux

package main

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What check says of memory and disk comes within a third: of few columns, of the demo,
// of many pairs of an input and an output.
func TestForecast(t *testing.T) {
	folder := t.TempDir()
	var many strings.Builder
	many.WriteString("format: 1\nstudy: pairs\nmodel: formulas\ninputs:\n")
	for i := range 60 {
		fmt.Fprintf(&many, "  a%d: {between: [0, 1]}\n", i)
	}
	many.WriteString("outputs:\n")
	for o := range 40 {
		fmt.Fprintf(&many, "  y%d: a%d + 2 * a%d + 3 * a%d\n", o, o, (o+7)%60, (o+14)%60)
	}
	many.WriteString("sample: {rows: 10000, seed: 1}\n")
	pairs := filepath.Join(folder, "pairs.yaml")
	if err := os.WriteFile(pairs, []byte(many.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range [][]string{{studies + "product.yaml", "--rows", "400000"}, {studies + "heron.yaml", "--rows", "40000"}, {pairs}} {
		args := append(c, "--workers", "2")
		out, err := exec.Command(binary, append([]string{"check", "--json"}, args...)...).Output()
		if err != nil {
			t.Fatal(err)
		}
		var said []struct {
			Memory int64 `json:"memory_bytes"`
			Disk   int64 `json:"disk_bytes"`
		}
		if err := json.Unmarshal(out, &said); err != nil {
			t.Fatal(err)
		}
		result := filepath.Join(folder, "result")
		run := exec.Command(binary, append([]string{"run", "--out", result, "--replace"}, args...)...)
		if out, err := run.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		within(t, c[0]+": memory", said[0].Memory, run.ProcessState.SysUsage().(*syscall.Rusage).Maxrss<<10)
		within(t, c[0]+": disk", said[0].Disk, sizeOf(t, result))
		if err := os.RemoveAll(result); err != nil {
			t.Fatal(err)
		}
	}
}

func within(t *testing.T, what string, said, came int64) {
	t.Helper()
	t.Logf("%s: said %d kB, came %d kB", what, said>>10, came>>10)
	if d := max(said-came, came-said); 3*d > came {
		t.Errorf("%s: said %d kB, came %d kB, more than a third apart", what, said>>10, came>>10)
	}
}

func sizeOf(t *testing.T, folder string) (bytes int64) {
	t.Helper()
	err := filepath.WalkDir(folder, func(_ string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		info, err := e.Info()
		bytes += info.Size()
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return bytes
}
