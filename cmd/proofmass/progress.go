package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/report"
)

// progress writes how far a run is and the time left: a line that is written over
// on a terminal, now and then a line of its own elsewhere.
type progress struct {
	out      io.Writer
	terminal bool
	lock     sync.Mutex
	began    time.Time
	last     time.Time
	said     bool
	at       *jobs.Pace // how far it is in time, if that is known
}

// pace may be called from any goroutine, before tell.
func (p *progress) pace(at jobs.Pace) {
	p.lock.Lock()
	defer p.lock.Unlock()
	p.at = &at
}

// How often a line is written to a terminal and to anything else.
const oftenTerminal, oftenElse = 200 * time.Millisecond, 10 * time.Second

func newProgress(out io.Writer) *progress {
	now := time.Now()
	return &progress{out: out, terminal: isTerminal(out), began: now, last: now}
}

// tell may be called from any goroutine.
func (p *progress) tell(done, of int) {
	p.lock.Lock()
	defer p.lock.Unlock()
	now, often := time.Now(), oftenElse
	if p.terminal {
		often = oftenTerminal
	}
	if now.Sub(p.last) < often || done <= 0 {
		return
	}
	p.last, p.said = now, true
	left := time.Duration(float64(now.Sub(p.began)) * float64(of-done) / float64(done))
	share, doing := 100*done/of, ""
	if p.at != nil {
		share, left, doing = int(100*p.at.Share()), p.at.Left, ", now "+p.at.Doing
	}
	line := fmt.Sprintf("%3d %% of the work of %s model runs%s, about %s left", share, report.Grouped(int64(of)), doing, left.Round(time.Second))
	if p.terminal {
		fmt.Fprintf(p.out, "\r%-79s", line)
	} else {
		fmt.Fprintln(p.out, line)
	}
}

// end clears the line.
func (p *progress) end() {
	p.lock.Lock()
	defer p.lock.Unlock()
	if p.terminal && p.said {
		fmt.Fprintf(p.out, "\r%-79s\r", "")
	}
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
