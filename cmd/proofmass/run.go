package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"proofmass/jobs"
	"proofmass/jobs/report"
	"proofmass/jobs/several"
	"proofmass/jobs/study"
)

// studyFlags are those that change how a study is read.
type studyFlags struct {
	read []string
	rows int
	seed uint64
	set  *pflag.FlagSet
}

func (s *studyFlags) add(f *pflag.FlagSet) {
	s.set = f
	f.StringArrayVar(&s.read, "read", nil, "")
	f.IntVar(&s.rows, "rows", 0, "")
	f.Uint64Var(&s.seed, "seed", 0, "")
}

// applyNice lowers the priority, where --nice asks for it: from 1 to 19, the lowest.
func applyNice(f *pflag.FlagSet, by int) error {
	if !f.Changed("nice") {
		return nil
	}
	if by < 1 || by > 19 {
		return usagef("%s: --nice: found %d; 1 to 19 are allowed, 19 gives way most", f.Name(), by)
	}
	if err := beNice(by); err != nil {
		return fmt.Errorf("--nice: %w", err)
	}
	return nil
}

func (s *studyFlags) options() (study.Options, error) {
	o := study.Options{ReadFolders: s.read, Rows: s.rows}
	if s.set.Changed("rows") && (s.rows < 1 || s.rows > study.MostRows) {
		return o, usagef("--rows: found %d; 1 to %d are allowed", s.rows, study.MostRows)
	}
	if s.set.Changed("seed") {
		o.Seed = &s.seed
	}
	return o, nil
}

func run(ctx context.Context, args []string, out, errOut io.Writer) error {
	var s studyFlags
	var o jobs.Options
	f := flags("run")
	s.add(f)
	f.StringVar(&o.Out, "out", "", "")
	f.BoolVar(&o.Replace, "replace", false, "")
	f.BoolVar(&o.Compress, "compress", false, "")
	f.IntVar(&o.Workers, "workers", 0, "")
	full, asJSON := f.Bool("full", false, ""), f.Bool("json", false, "")
	nice := f.Int("nice", 0, "")
	if err := parse(f, args, 1, mostStudies, "a study file, or several"); err != nil {
		return err
	}
	if err := applyNice(f, *nice); err != nil {
		return err
	}
	if o.Out == "" {
		return usagef("run: --out is missing; it names the folder for the results")
	}
	if f.Changed("workers") && o.Workers < 1 {
		return usagef("run: --workers: found %d; at least 1 is wanted", o.Workers)
	}
	var err error
	if o.Study, err = s.options(); err != nil {
		return err
	}
	if f.NArg() > 1 {
		return runSeveral(ctx, f.Args(), o, *asJSON, out, errOut)
	}
	bar := newProgress(errOut)
	o.Progress, o.Pace = bar.tell, bar.pace
	outcome, err := jobs.Run(ctx, f.Arg(0), o)
	bar.end()
	if err != nil {
		return err
	}
	if outcome.Again {
		fmt.Fprint(errOut, report.Wrap(report.Printable(o.Out)+" holds this very result already: nothing was computed.", "", 80))
	}
	if outcome.Mended > 0 {
		fmt.Fprint(errOut, report.Wrap(fmt.Sprintf("%s holds this very result, and %d damaged or missing files of its samples were made again; nothing else was computed.", report.Printable(o.Out), outcome.Mended), "", 80))
	}
	if outcome.Renewed {
		fmt.Fprint(errOut, report.Wrap("Only texts of the study have changed: they were renewed, and nothing was evaluated.", "", 80))
	}
	if *asJSON {
		err = writeJSON(out, outcome.Answer)
	} else {
		err = outcome.Answer.Text(out, report.TextOptions{Folder: o.Out, Page: outcome.Page, Width: columns(out), Full: *full})
	}
	if err == nil && outcome.Missed {
		err = errMissed
	}
	return err
}

// mostStudies bounds what is run at once: more are named by mistake.
const mostStudies = 10_000

// runSeveral runs many studies and tells their failures at the end.
func runSeveral(ctx context.Context, paths []string, o jobs.Options, asJSON bool, out, errOut io.Writer) error {
	var bar *progress
	all, err := several.Run(ctx, paths, o, func(i int, s *several.Study, one *jobs.Options) {
		if bar != nil {
			bar.end()
		}
		fmt.Fprintf(errOut, "%d of %d: %s\n", i+1, len(paths), report.Printable(s.Folder))
		bar = newProgress(errOut)
		one.Progress, one.Pace = bar.tell, bar.pace
	})
	if bar != nil {
		bar.end()
	}
	if err != nil {
		return err
	}
	if asJSON {
		err = writeJSON(out, all)
	} else {
		err = several.Text(out, all)
	}
	if err != nil {
		return err
	}
	return worst(all, errOut)
}

// worst says each failure and gives the error of the graver kind: failed before wrong before
// a half-width that was missed.
func worst(all []several.Study, errOut io.Writer) error {
	graver := map[int]int{exitMissed: 1, exitWrong: 2, exitFailed: 3}
	code := exitDone
	for _, s := range all {
		one := exitDone
		switch {
		case s.Err != nil:
			one = say(s.Err, errOut)
		case s.Missed:
			one = exitMissed
		}
		if graver[one] > graver[code] {
			code = one
		}
	}
	if code == exitDone {
		return nil
	}
	return saidError(code)
}

// saidError is a failure that was told already.
type saidError int

func (e saidError) Error() string { return fmt.Sprintf("exit code %d", int(e)) }

func writeJSON(out io.Writer, v any) error { return report.WriteJSON(out, v) }
