package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"proofmass/jobs/files"
	"proofmass/jobs/record"
	"proofmass/jobs/report"
)

// score says how good predictions were, now that outcomes are known.
func score(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("score")
	against, table, asJSON := f.String("against", "", ""), f.String("table", "", ""), f.Bool("json", false, "")
	if err := parse(f, args, 1, mostScored, "one or more result folders"); err != nil {
		return err
	}
	if *against == "" {
		return usagef("score: --against is missing; it names the CSV file of what was measured; see proofmass help score")
	}
	if f.Changed("table") && *table == "" {
		return usagef("score: --table: the name of the file is empty")
	}
	r, err := record.Read(record.Options{Folders: f.Args(), Against: *against, Whole: func(folder string) error { return finished(folder, "it foretells nothing yet") }})
	if errors.Is(err, record.ErrChoices) {
		return usagef("%w", err)
	}
	if err != nil {
		return err
	}
	if *table != "" {
		if err := r.WriteTable(files.Disk{}, *table); err != nil {
			return err
		}
	}
	if *asJSON {
		return writeJSON(out, r)
	}
	if err := r.Text(out, columns(out)); err != nil || *table == "" {
		return err
	}
	_, err = fmt.Fprintf(out, "A row an outcome: %s.\n", report.Printable(*table))
	return err
}

// mostScored is how many results are scored at once.
const mostScored = 10_000
