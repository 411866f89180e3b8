package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"proofmass/jobs/compare"
	"proofmass/jobs/inspect"
	"proofmass/jobs/notebook"
	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
)

// drawReport draws report.html into a finished result folder of which every file is whole,
// and its figures as files.
func drawReport(ctx context.Context, args []string, out, errOut io.Writer) error {
	f := flags("report")
	figures, withNotebook := f.StringSlice("figures", nil, ""), f.Bool("notebook", false, "")
	old := f.String("since", "", "")
	if err := parse(f, args, 1, 1, "one result folder"); err != nil {
		return err
	}
	for _, kind := range *figures {
		if !slices.Contains(page.FigureKinds, kind) {
			return usagef("report: --figures: found %q; allowed are %s", kind, strings.Join(page.FigureKinds, ", "))
		}
	}
	state, err := inspect.Show(f.Arg(0))
	if err != nil {
		return err
	}
	if err := whole(state); err != nil {
		return err
	}
	var since *compare.Comparison
	if f.Changed("since") {
		if since, err = compared(ctx, *old, f.Arg(0), errOut, compare.Options{}); err != nil {
			return err
		}
	}
	path, err := page.Write(f.Arg(0), since)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintln(out, report.Printable(path)); err != nil {
		return err
	}
	if *withNotebook {
		if err := writeNotebook(out, f.Arg(0)); err != nil {
			return err
		}
	}
	if len(*figures) == 0 {
		return nil
	}
	return writeFigures(out, f.Arg(0), *figures, since)
}

// writeNotebook writes the notebook beside the tables; one that somebody worked in stays.
func writeNotebook(out io.Writer, folder string) error {
	path, err := notebook.Write(folder)
	if errors.Is(err, notebook.ErrChanged) {
		return usagef("report: --notebook: %w", err)
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, report.Printable(path))
	return err
}

func writeFigures(out io.Writer, folder string, kinds []string, since *compare.Comparison) error {
	n, err := page.WriteFigures(folder, kinds, since)
	if err != nil {
		return err
	}
	if n == 0 {
		_, err = fmt.Fprintln(out, "The page has no figure to write.")
		return err
	}
	_, err = fmt.Fprintf(out, "%s: %d figures, each for a page and for a talk, its numbers beside it\n", report.Printable(filepath.Join(folder, "figures")), n)
	return err
}
