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
	return &progress{out: out, terminal: isTerminal(out), last: now}
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
	share, then := 100*done/of, "" // as long as no time can be told
	if p.at != nil {
		share, then = int(100*p.at.Share()), fmt.Sprintf(", now %s, about %s left", p.at.Doing, p.at.Left.Round(time.Second))
	}
	line := fmt.Sprintf("%3d %% of the work of %s model runs%s", share, report.Grouped(int64(of)), then)
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
