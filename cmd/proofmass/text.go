package main

import (
	"fmt"
	"io"

	"proofmass/jobs/report"
)

// wrapped writes a paragraph that fits 80 columns, indented.
func wrapped(out io.Writer, text string) {
	fmt.Fprint(out, report.Wrap(text, "  ", 80))
}
