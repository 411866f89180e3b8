package main

import (
	"context"
	"fmt"
	"io"

	"proofmass/jobs/inspect"
	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
)

// drawReport draws report.html into a finished result folder of which every file is whole.
func drawReport(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("report")
	if err := parse(f, args, 1, 1, "one result folder"); err != nil {
		return err
	}
	state, err := inspect.Show(f.Arg(0))
	if err != nil {
		return err
	}
	if err := whole(state); err != nil {
		return err
	}
	path, err := page.Write(f.Arg(0))
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, report.Printable(path))
	return err
}
