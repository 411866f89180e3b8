package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"proofmass/jobs"
	"proofmass/jobs/report"
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
	f.IntVar(&o.Workers, "workers", 0, "")
	full, asJSON := f.Bool("full", false, ""), f.Bool("json", false, "")
	if err := parse(f, args, 1, 1, "one study file"); err != nil {
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
	bar := newProgress(errOut)
	o.Progress = bar.tell
	outcome, err := jobs.Run(ctx, f.Arg(0), o)
	bar.end()
	if err != nil {
		return err
	}
	if outcome.Again {
		fmt.Fprint(errOut, report.Wrap(report.Printable(o.Out)+" holds this very result already: nothing was computed.", "", 80))
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

func writeJSON(out io.Writer, v any) error { return report.WriteJSON(out, v) }
