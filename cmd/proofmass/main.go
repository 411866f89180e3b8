// Command proofmass tests what is claimed for a new battery pack: from a study
// file to the chance of each claim, what decides it, and Parquet tables.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/spf13/pflag"

	"proofmass/jobs"
	"proofmass/jobs/report"
	"proofmass/jobs/study"
)

// Exit codes, as the help lists them.
const (
	exitDone    = 0
	exitFailed  = 1
	exitWrong   = 2 // the study or the command line
	exitStopped = 3
	exitMissed  = 4 // finished, but a requested half-width was not reached
)

// patience is how long a run that is told to stop may take to come to a point between two
// pieces of work. Behind it the process ends where it is, as a kill would end it: whatever is
// in the folder is whole all the same.
const patience = 1500 * time.Millisecond

// garbage is by how many per cent of what is held memory may grow before the collector runs. Half
// of Go's own took a run of 10 million rows and 8 workers from 331 to 273 MB (once, on a busy
// machine, where no loss of time could be told): columns hold no pointers. GOGC has its say.
const garbage = 50

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbage)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, func() { // the first signal stops in order, the second, or patience, at once
		stop()
		time.AfterFunc(patience, func() { os.Exit(say(context.Canceled, os.Stderr)) })
	})
	out := &sink{w: os.Stdout}
	code := proofmass(ctx, os.Args[1:], out, os.Stderr)
	if out.err != nil && (code == exitDone || code == exitMissed) {
		code = say(fmt.Errorf("the answer could not be written: %w", out.err), os.Stderr)
	}
	stop()
	os.Exit(code)
}

// sink remembers that an answer did not arrive, say on a full disk.
type sink struct {
	w   io.Writer
	err error
}

func (s *sink) Write(p []byte) (int, error) {
	n, err := s.w.Write(p)
	if s.err == nil {
		s.err = err
	}
	return n, err
}

// errMissed makes the exit code of a run whose half-width was not reached; what
// to say of it stands in the answer.
var errMissed = errors.New("half-width not reached")

// proofmass runs one command line: the answer to out, progress and errors to
// errOut. It returns the exit code.
func proofmass(ctx context.Context, args []string, out, errOut io.Writer) int {
	if len(args) == 0 {
		fmt.Fprint(errOut, help)
		return exitWrong
	}
	name, args := args[0], args[1:]
	verb, known := verbs[name]
	switch {
	case name == "help" || name == "--help" || name == "-h":
		return explain(args, out, errOut)
	case name == "--version":
		verb = version
	case !known:
		fmt.Fprintf(errOut, "proofmass: %s\n", unknownVerb(name))
		return exitWrong
	}
	err := verb(ctx, args, out, errOut)
	if errors.Is(err, pflag.ErrHelp) {
		return explain([]string{name}, out, errOut)
	}
	return say(err, errOut)
}

type verbFunc func(ctx context.Context, args []string, out, errOut io.Writer) error

var verbs map[string]verbFunc

func init() { // completion reads it
	verbs = map[string]verbFunc{"check": check, "run": run, "show": show, "report": drawReport, "list": list, "version": version, "compare": compareResults, "score": score, "new": newStudy, "schema": printSchema, "completion": completion,
		"slice": makeSlices, "join": join, "submit": submit}
}

// say prints an error and turns it into the exit code.
func say(err error, errOut io.Writer) int {
	var wrong study.Errors
	var usage *jobs.UsageError
	var said saidError
	due, isDue := dueError(err)
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &said):
		return int(said)
	case isDue:
		fmt.Fprintf(errOut, "proofmass: %s\n", report.Printable(due))
		return exitStopped
	case errors.Is(err, errMissed):
		return exitMissed
	case errors.As(err, &wrong):
		fmt.Fprintln(errOut, wrong.Error()) // a line each, place first, as editors read them
		return exitWrong
	case errors.As(err, &usage):
		fmt.Fprintf(errOut, "proofmass: %s\n", report.Printable(usage.Error()))
		return exitWrong
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(errOut, "proofmass: stopped; the same command goes on from here")
		return exitStopped
	}
	text := err.Error()
	if jobs.NoRoom(err) {
		text += "; with more room the same command goes on from here"
	}
	fmt.Fprintf(errOut, "proofmass: %s\n", report.Printable(text))
	return exitFailed
}

// flags makes a flag set that reports errors instead of printing or exiting.
func flags(name string) *pflag.FlagSet {
	f := pflag.NewFlagSet(name, pflag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.Usage = func() {}
	return f
}

// parse reads the flags and wants a number of arguments between least and most.
func parse(f *pflag.FlagSet, args []string, least, most int, what string) error {
	if err := f.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			return err
		}
		if bad := new(pflag.InvalidValueError); errors.As(err, &bad) && bad.GetFlag().Name == "seed" {
			return usagef("%s: --seed: found %q; a seed is a whole number from 0 to %d", f.Name(), bad.GetValue(), uint64(math.MaxUint64))
		}
		return usagef("%s: %w; see proofmass help %s", f.Name(), err, f.Name())
	}
	if n := f.NArg(); n < least || n > most {
		return usagef("%s: found %d arguments; it takes %s; see proofmass help %s", f.Name(), n, what, f.Name())
	}
	return nil
}

func usagef(format string, args ...any) error {
	return &jobs.UsageError{Err: fmt.Errorf(format, args...)}
}
