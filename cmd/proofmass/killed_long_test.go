//go:build long

package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// parquetOf are the bytes of all tables of a folder, samples too.
func parquetOf(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, pattern := range []string{"*.parquet", "samples/*/*.parquet"} {
		paths, err := filepath.Glob(filepath.Join(folder, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range paths {
			all[strings.TrimPrefix(path, folder)] = textOf(t, path)
		}
	}
	return all
}

// Killed at fifty random moments and begun again, runs come to the same bytes. One that is
// done before its kill is looked at and begun anew.
func TestKilledFiftyTimes(t *testing.T) {
	const kills, longest = 50, 2200 * time.Millisecond
	args := func(out string) []string {
		return []string{"run", studies + "heron.yaml", "--out", out, "--rows", "30000"}
	}
	folder := t.TempDir()
	whole, out := filepath.Join(folder, "whole"), filepath.Join(folder, "out")
	if got := proof(args(whole)...); got.code != exitDone && got.code != exitMissed {
		t.Fatal(got.err)
	}
	want := parquetOf(t, whole)
	compare := func() {
		t.Helper()
		got := parquetOf(t, out)
		if len(got) != len(want) || len(want) < 20 {
			t.Errorf("%d files, want %d", len(got), len(want))
		}
		for name := range want {
			if got[name] != want[name] {
				t.Errorf("%s differs", name)
			}
		}
	}
	moments := rand.New(rand.NewPCG(1, 2))
	for killed := 0; killed < kills; {
		c := exec.Command(binary, args(out)...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan struct{})
		go func() { _ = c.Wait(); close(ended) }()
		select {
		case <-ended:
			compare()
			if err := os.RemoveAll(out); err != nil {
				t.Fatal(err)
			}
		case <-time.After(time.Duration(moments.Int64N(int64(longest)))):
			_ = c.Process.Kill()
			<-ended
			killed++
		}
	}
	if got := proof(args(out)...); got.code != exitDone && got.code != exitMissed {
		t.Fatal(got.err)
	}
	compare()
	if got := proof("show", out); got.code != 0 || !strings.Contains(got.out, "Every file is whole.") {
		t.Errorf("show: exit %d, %s", got.code, got.err)
	}
}
