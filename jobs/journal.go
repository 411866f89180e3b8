package jobs

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"proofmass/jobs/files"
	"proofmass/jobs/plan"
	"proofmass/jobs/regular"
	"proofmass/jobs/result"
)

// A journal is what one process tells of its work in a folder: JSON lines in a file of its
// own in log/, since no two hosts can add to one file over a network. It is no part of the
// result, so nobody removes it, and work goes on where it can't be written.
type journal struct {
	log  *slog.Logger
	file *os.File

	lock sync.Mutex
	last time.Time // something was told
}

// tellEvery is how often a journal tells how far the work is.
const tellEvery = 10 * time.Second

// newJournal begins one in the folder. what is the verb with what it was asked for.
func newJournal(folder, what string, about ...any) *journal {
	host, boot := result.Here()
	now := time.Now()
	j := &journal{log: slog.New(slog.DiscardHandler), last: now}
	if files.EnsureFolder(files.Disk{}, filepath.Join(folder, result.LogFolder)) != nil {
		return j
	}
	name := fmt.Sprintf("%s-%s-%d.jsonl", now.UTC().Format("20060102T150405.000"), host, os.Getpid())
	file, err := os.OpenFile(filepath.Join(folder, result.LogFolder, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL|os.O_APPEND, 0o666)
	if err != nil {
		return j
	}
	j.file = file
	j.log = slog.New(slog.NewJSONHandler(file, nil)).With("host", host, "boot", boot, "pid", os.Getpid(), "doing", what)
	j.log.Info("begun", append([]any{"version", Version}, about...)...)
	return j
}

// progress tells how far the work is, now and then.
func (j *journal) progress(p Pace) {
	j.lock.Lock()
	defer j.lock.Unlock()
	if now := time.Now(); now.Sub(j.last) >= tellEvery {
		j.last = now
		j.log.Info("progress", "kind", p.Doing, "share", p.Share(), "seconds_left", p.Left.Seconds())
	}
}

// round tells that a step begins.
func (j *journal) round(step *plan.Step) {
	n := 0
	for _, r := range step.Rounds {
		n += len(r.Slices)
	}
	j.log.Info("round", "kind", step.Kind, "first", step.Rounds[0].Number, "rounds", len(step.Rounds), "slices", n)
}

// end tells how the work ended.
func (j *journal) end(err error, about ...any) {
	var due *Due
	switch {
	case err == nil:
		j.log.Info("finished", about...)
	case errors.As(err, &due):
		j.log.Info("due", append([]any{"round", due.Number, "kind", due.Kind, "slices", due.Slices, "missing", len(due.Missing)}, about...)...)
	case errors.Is(err, context.Canceled):
		j.log.Warn("stopped", about...)
	default:
		j.log.Error("failed", append([]any{"error", err.Error()}, about...)...)
	}
	if j.file != nil {
		_ = j.file.Close()
	}
}

// A Process is what one that works in a folder, or did, has told last.
type Process struct {
	Host  string    `json:"host"`
	Boot  string    `json:"boot,omitempty"` // the system's own name for the time since it was started
	PID   int       `json:"pid"`
	Doing string    `json:"doing"`
	Heard time.Time `json:"time"`
	Told  string    `json:"msg"` // begun, round, progress, finished, due, stopped, failed

	Share float64 `json:"share,omitempty"` // of its work
	Left  float64 `json:"seconds_left,omitempty"`
	Kind  string  `json:"kind,omitempty"`
	Error string  `json:"error,omitempty"`
}

// Works reports whether it is at work as far as one knows: one of this host runs still, and
// any tells something every ten seconds, which a network file system may show a minute late.
func (p *Process) Works(now time.Time) bool {
	ended := slices.Contains([]string{"finished", "due", "stopped", "failed"}, p.Told)
	return !ended && now.Sub(p.Heard) < 90*time.Second && !result.Gone(p.Host, p.Boot, p.PID)
}

// A Standing is how far a folder is whose result is not finished.
type Standing struct {
	Round     *RoundStanding `json:"round,omitempty"` // the one that is open to several hosts
	Processes []Process      `json:"processes"`       // that told anything, the last first; at most some
}

// A RoundStanding is how far an open round is.
type RoundStanding struct {
	Number int    `json:"number"`
	Kind   string `json:"kind"`
	Slices int    `json:"slices"`
	Made   int    `json:"made"`
}

// Stand tells how far a folder is. It reads what is there and takes no lock.
func Stand(folder string) (*Standing, error) {
	s := &Standing{Processes: processes(folder)}
	opened, _, err := lookForOpened(folder, -1)
	if err != nil || opened == nil {
		return s, err
	}
	r := &RoundStanding{Number: opened.number, Kind: string(opened.step.Kind)}
	for _, round := range opened.step.Rounds {
		r.Slices += len(round.Slices)
	}
	r.Made = r.Slices - len(missing(opened.folder, opened.step))
	s.Round = r
	return s, nil
}

// mostProcesses bounds those of which is told: the names of files begin with a time.
const mostProcesses = 1000

func processes(folder string) []Process {
	entries, _ := os.ReadDir(filepath.Join(folder, result.LogFolder))
	all := []Process{}
	for i := len(entries) - 1; i >= 0 && len(all) < mostProcesses; i-- {
		if name := entries[i].Name(); strings.HasSuffix(name, ".jsonl") {
			if p, ok := lastTold(filepath.Join(folder, result.LogFolder, name)); ok {
				all = append(all, p)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Process) int { return b.Heard.Compare(a.Heard) })
	return all
}

// lastTold reads the last whole line of a journal.
func lastTold(path string) (last Process, ok bool) {
	file, size, err := regular.Open(path)
	if err != nil {
		return last, false
	}
	defer file.Close()
	const most = 64 << 10 // lines are short
	lines := bufio.NewScanner(io.NewSectionReader(file, max(0, size-most), most))
	lines.Buffer(nil, most)
	for lines.Scan() {
		var p Process
		if json.Unmarshal(lines.Bytes(), &p) == nil && p.PID > 0 {
			last, ok = p, true
		}
	}
	return last, ok
}
