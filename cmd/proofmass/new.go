package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"proofmass/jobs"
	"proofmass/jobs/begin"
	"proofmass/jobs/reference"
	"proofmass/jobs/report"
)

// newStudy writes a commented study to start from.
func newStudy(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("new")
	if err := parse(f, args, 1, 2, "what to start from and the file to write"); err != nil {
		return err
	}
	var kinds []string
	for _, k := range begin.Kinds() {
		kinds = append(kinds, k.Name)
	}
	kind, path := kinds[0], f.Arg(0)
	if f.NArg() == 2 {
		kind, path = f.Arg(0), f.Arg(1)
	}
	switch {
	case !slices.Contains(kinds, kind):
		return usagef("new: found %q; there are %s%s", kind, strings.Join(kinds, ", "), reference.Suggest(kind, kinds))
	case f.NArg() == 1 && slices.Contains(kinds, path):
		return usagef("new: the name of the file is missing: proofmass new %s FILE", path)
	case path == "":
		return usagef("new: the name of the file is empty")
	}
	if err := begin.Write(kind, path); err != nil {
		return &jobs.UsageError{Err: fmt.Errorf("new: %w", err)}
	}
	_, err := fmt.Fprint(out, report.Wrap(fmt.Sprintf("Wrote %s, a study to start from (%s). Its numbers are invented: put yours in their place. Then: proofmass check %s", path, kind, path), "", 80))
	return err
}
