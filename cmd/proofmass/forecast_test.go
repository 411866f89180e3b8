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

// Of few columns, of the demo, of many columns on few rows, of many pairs of an input and an output.
func TestForecast(t *testing.T) {
	pairs := write(t, pairsStudy(60, 40))
	foretold(t, [][]string{
		{studies + "product.yaml", "--rows", "100000", "--workers", "2"},
		{studies + "heron.yaml", "--rows", "40000", "--workers", "2"},
		{studies + "everything.yaml", "--workers", "2"},
		{pairs, "--workers", "2"},
	})
}

// foretold: what check says of memory comes within a third, of the disk within a quarter.
func foretold(t *testing.T, cases [][]string) {
	t.Helper()
	folder := t.TempDir()
	for _, args := range cases {
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
		within(t, args[0]+": memory", 3, said[0].Memory, run.ProcessState.SysUsage().(*syscall.Rusage).Maxrss<<10)
		within(t, args[0]+": disk", 4, said[0].Disk, sizeOf(t, result))
		if err := os.RemoveAll(result); err != nil {
			t.Fatal(err)
		}
	}
}

// pairsStudy has outputs that read three inputs each.
func pairsStudy(inputs, outputs int) string {
	var s strings.Builder
	s.WriteString("format: 1\nstudy: pairs\nmodel: formulas\nsample: {rows: 10000, seed: 1}\ninputs:\n")
	for i := range inputs {
		fmt.Fprintf(&s, "  a%d: {between: [0, 1]}\n", i)
	}
	s.WriteString("outputs:\n")
	for o := range outputs {
		fmt.Fprintf(&s, "  y%d: a%d + 2 * a%d + 3 * a%d\n", o, o, (o+7)%inputs, (o+14)%inputs)
	}
	return s.String()
}

// denseStudy has outputs that read every input, and two of them once more.
func denseStudy(inputs, outputs int) string {
	var s strings.Builder
	s.WriteString("format: 1\nstudy: dense\nmodel: formulas\nsample: {rows: 10000, seed: 1}\ninputs:\n")
	for i := range inputs {
		fmt.Fprintf(&s, "  a%d: {between: [0, 1]}\n", i)
	}
	s.WriteString("outputs:\n  all: a0")
	for i := 1; i < inputs; i++ {
		fmt.Fprintf(&s, " + %d * a%d", 1+i%7, i)
	}
	for o := range outputs - 1 {
		fmt.Fprintf(&s, "\n  y%d: all + %d * a%d * a%d", o, 1+o%9, o%inputs, (3+7*o)%inputs)
	}
	return s.String() + "\n"
}

func within(t *testing.T, what string, part, said, came int64) {
	t.Helper()
	t.Logf("%s: said %d kB, came %d kB", what, said>>10, came>>10)
	if d := max(said-came, came-said); part*d > came {
		t.Errorf("%s: said %d kB, came %d kB, more than one part in %d apart", what, said>>10, came>>10, part)
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
