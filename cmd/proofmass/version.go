package main

import (
	"context"
	"fmt"
	"io"
	"runtime"

	"proofmass/jobs"
	"proofmass/jobs/notices"
)

func version(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("version")
	asked := f.Bool("notices", false, "")
	if err := parse(f, args, 0, 0, "none"); err != nil {
		return err
	}
	if *asked {
		_, err := fmt.Fprint(out, notices.Text())
		return err
	}
	_, err := fmt.Fprintf(out, "proofmass %s, built with %s for %s/%s\n", jobs.Version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}
