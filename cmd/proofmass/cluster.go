package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/cluster"
	"proofmass/jobs/report"
	stored "proofmass/jobs/result"

	"github.com/spf13/pflag"
)

// makeSlices makes slices of the round that is open in a folder.
func makeSlices(ctx context.Context, args []string, out, errOut io.Writer) error {
	var o jobs.SliceOptions
	f := flags("slice")
	f.IntVar(&o.Round, "round", -1, "")
	f.IntVar(&o.Workers, "workers", 0, "")
	wait, nice := f.Int("wait", 60, ""), f.Int("nice", 0, "")
	if err := parse(f, args, 2, 2, "a share K/N and a result folder"); err != nil {
		return err
	}
	err := applyNice(f, *nice)
	if err != nil {
		return err
	}
	if o.Share, err = share(f.Arg(0)); err != nil {
		return err
	}
	if o.Wait, err = waiting(*wait); err != nil {
		return err
	}
	if f.Changed("round") && o.Round < 0 {
		return usagef("slice: --round: found %d; rounds count from 0", o.Round)
	}
	if !f.Changed("round") {
		o.Wait = 0 // it is the last that is open, or none
	}
	made, err := jobs.Slice(ctx, f.Arg(1), o)
	if err != nil {
		return err
	}
	fmt.Fprintf(errOut, "%d slices, %d of them made now\n", made.Slices, made.New)
	return nil
}

// share reads K/N.
func share(text string) (jobs.Share, error) {
	one, of, found := strings.Cut(text, "/")
	k, wrongK := strconv.Atoi(one)
	n, wrongN := strconv.Atoi(of)
	if !found || wrongK != nil || wrongN != nil || n < 1 || k < 1 || k > n {
		return jobs.Share{}, usagef("slice: found %q; the share is K/N, K from 1 to N: 3/8 is the third of eight", text)
	}
	return jobs.Share{K: k, N: n}, nil
}

func waiting(seconds int) (time.Duration, error) {
	if seconds < 0 || seconds > 3600 {
		return 0, usagef("--wait: found %d; 0 to 3600 seconds are allowed", seconds)
	}
	return time.Duration(seconds) * time.Second, nil
}

// shared are the flags of join and submit: a study and --out, or a folder that was begun.
type shared struct {
	study studyFlags
	out   string
	wait  int
	pack  bool
	full  bool
	json  bool
}

func (s *shared) add(f *pflag.FlagSet) {
	s.study.add(f)
	f.StringVar(&s.out, "out", "", "")
	f.IntVar(&s.wait, "wait", 60, "")
	f.BoolVar(&s.pack, "compress", false, "")
	f.BoolVar(&s.full, "full", false, "")
	f.BoolVar(&s.json, "json", false, "")
}

// options reads the flags: which study, and where its result is made.
func (s *shared) options(f *pflag.FlagSet) (study string, o jobs.Options, wait time.Duration, err error) {
	if wait, err = waiting(s.wait); err != nil {
		return
	}
	if o.Study, err = s.study.options(); err != nil {
		return
	}
	o.Compress = s.pack
	if study, o.Out = f.Arg(0), s.out; o.Out != "" {
		return
	}
	if info, wrong := os.Stat(study); wrong != nil || !info.IsDir() {
		err = usagef("%s: found %s; it takes a study and --out DIR, or a folder in which one was begun", f.Name(), study)
		return
	}
	o.Out, study = study, filepath.Join(study, stored.StudyFile)
	if _, wrong := os.Stat(study); wrong != nil {
		err = usagef("%s: %s holds no study that was begun; proofmass %s STUDY --out DIR begins one", f.Name(), o.Out, f.Name())
	}
	return
}

func (s *shared) tell(outcome *jobs.Outcome, o jobs.Options, out io.Writer) error {
	var err error
	if s.json {
		err = writeJSON(out, outcome.Answer)
	} else {
		err = outcome.Answer.Text(out, report.TextOptions{Folder: o.Out, Page: outcome.Page, Width: columns(out), Full: s.full})
	}
	if err == nil && outcome.Missed {
		err = errMissed
	}
	return err
}

func join(ctx context.Context, args []string, out, errOut io.Writer) error {
	var s shared
	f := flags("join")
	s.add(f)
	workers, nice := f.Int("workers", 0, ""), f.Int("nice", 0, "")
	if err := parse(f, args, 1, 1, "a study with --out, or a folder"); err != nil {
		return err
	}
	if err := applyNice(f, *nice); err != nil {
		return err
	}
	study, o, wait, err := s.options(f)
	if err != nil {
		return err
	}
	if o.Workers = *workers; f.Changed("workers") && o.Workers < 1 {
		return usagef("join: --workers: found %d; at least 1 is wanted", o.Workers)
	}
	outcome, err := jobs.Join(ctx, study, wait, o)
	if err != nil {
		return err
	}
	return s.tell(outcome, o, out)
}

func submit(ctx context.Context, args []string, out, errOut io.Writer) error {
	var s shared
	var o cluster.Options
	f := flags("submit")
	s.add(f)
	f.BoolVar(&o.Dry, "dry-run", false, "")
	f.StringArrayVar(&o.With, "with", nil, "")
	f.IntVar(&o.Most, "tasks", 0, "")
	attempt := f.String("attempt", "", "")
	if err := parse(f, args, 1, 1, "a study with --out, or a folder"); err != nil {
		return err
	}
	var err error
	if o.Study, o.Run, o.Wait, err = s.options(f); err != nil {
		return err
	}
	if f.Changed("tasks") && o.Most < 1 {
		return usagef("submit: --tasks: found %d; at least 1 is wanted", o.Most)
	}
	if *attempt != "" {
		if _, err := fmt.Sscanf(*attempt, "%d/%d", &o.Attempt, &o.Round); err != nil {
			return usagef("submit: --attempt: found %q; it is ATTEMPT/ROUND, as a join's script gives it", *attempt)
		}
	}
	for _, with := range o.With {
		if !strings.HasPrefix(with, "--") || strings.ContainsAny(with, "\n\r") {
			return usagef("submit: --with: found %q; it is an option of sbatch in its long form: --with=--partition=long", with)
		}
	}
	if o.Program, err = os.Executable(); err != nil {
		return err
	}
	done, err := cluster.Submit(ctx, o)
	if err != nil {
		return err
	}
	if done.Outcome != nil {
		return s.tell(done.Outcome, o.Run, out)
	}
	if o.Dry && done.Array != "" {
		fmt.Fprintf(out, "%s\n%s", done.Array, done.Join)
	}
	fmt.Fprint(errOut, done.Text())
	return nil
}

// dueError is what a join says while slices are missing.
func dueError(err error) (string, bool) {
	var due *jobs.Due
	if !errors.As(err, &due) {
		return "", false
	}
	text := due.Error()
	if !due.Unopened {
		text += fmt.Sprintf("; proofmass slice K/N %s makes them", due.Folder)
	}
	return text, true
}
