package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A run tells of itself in the folder as lines of JSON, and show tells of one that is at
// work, of one that was stopped, and of the open round of several hosts.
func TestWhatRunsIsSeen(t *testing.T) {
	study, out := write(t, strings.NewReplacer("rows: 1024", "rows: 4_000_000").Replace(small)), filepath.Join(t.TempDir(), "out")
	c := exec.Command(binary, "run", study, "--out", out, "--nice", "5", "--workers", "1")
	var said bytes.Buffer
	c.Stderr = &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	first := filepath.Join(out, "samples", "0000", "slice-00000003.parquet")
	for range 1000 {
		if _, err := os.Stat(first); err == nil {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if got := proof("show", out); got.code != 0 || !strings.Contains(got.out, "not finished; 1 process works on it.") || !regexp.MustCompile(`run, process [0-9]+ on \S+:\s+round, sample`).MatchString(got.out) {
		t.Errorf("at work: exit %d, %s%s", got.code, got.out, got.err)
	}
	if err := c.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	_ = c.Wait()
	if got := proof("show", out); c.ProcessState.ExitCode() != exitStopped || !strings.Contains(got.out, "the same run command goes on") || !strings.Contains(got.out, "stopped") {
		t.Errorf("stopped: exit %d, %s\n%s%s", c.ProcessState.ExitCode(), said.String(), got.out, got.err)
	}
	files, err := filepath.Glob(filepath.Join(out, "log", "*.jsonl"))
	if err != nil || len(files) != 1 {
		t.Fatalf("journals %v, %v", files, err)
	}
	var told []string
	for line := range strings.Lines(textOf(t, files[0])) {
		var event struct {
			Time time.Time
			Msg  string
			PID  int
		}
		if err := json.Unmarshal([]byte(line), &event); err != nil || event.PID != c.Process.Pid || event.Time.IsZero() {
			t.Errorf("%s: %v", line, err)
		}
		told = append(told, event.Msg)
	}
	if all := strings.Join(told, " "); !strings.HasPrefix(all, "begun stage round") || !strings.HasSuffix(all, "stopped") {
		t.Errorf("told is %s", all)
	}
}

func TestTheOpenRoundIsSeen(t *testing.T) {
	study, out := write(t, small), filepath.Join(t.TempDir(), "out")
	proof("join", study, "--out", out)
	proof("slice", "2/4", out)
	got := proof("show", out)
	if got.code != 0 || !strings.Contains(got.out, "Round 0 (sample): 4 of 16 slices are made.") || !strings.Contains(got.out, "slice 2/4") || !strings.Contains(got.out, "due, sample") {
		t.Errorf("exit %d, %s%s", got.code, got.out, got.err)
	}
	var state struct {
		Stands struct {
			Round     struct{ Made, Slices int }
			Processes []struct{ Doing, Msg string }
		}
	}
	if err := json.Unmarshal([]byte(proof("show", out, "--json").out), &state); err != nil || state.Stands.Round.Made != 4 || len(state.Stands.Processes) != 2 || state.Stands.Processes[0].Msg != "finished" {
		t.Errorf("%v; %+v", err, state)
	}
}

func TestNiceIsRefused(t *testing.T) {
	if got := proof("run", write(t, small), "--out", filepath.Join(t.TempDir(), "out"), "--nice", "20"); got.code != exitWrong || !strings.Contains(got.err, "1 to 19") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
}
