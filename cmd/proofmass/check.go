package main

import (
	"context"

	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"

	"proofmass/jobs"
)

func check(_ context.Context, args []string, out, errOut io.Writer) error {
	var s studyFlags
	f := flags("check")
	s.add(f)
	asJSON := f.Bool("json", false, "")
	if err := parse(f, args, 1, 1000, "one study file or more"); err != nil {
		return err
	}
	options, err := s.options()
	if err != nil {
		return err
	}
	var forecasts []*jobs.Forecast
	var wrong []error
	for _, path := range f.Args() {
		forecast, err := jobs.Check(path, options)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		forecasts = append(forecasts, forecast)
	}
	if *asJSON {
		if err := writeJSON(out, forecasts); err != nil {
			return err
		}
	} else {
		for _, forecast := range forecasts {
			writeForecast(out, forecast)
		}
	}
	for _, err := range wrong[:max(0, len(wrong)-1)] {
		say(err, errOut)
	}
	if len(wrong) > 0 {
		return wrong[len(wrong)-1]
	}
	return nil
}

// writeForecast tells what a run would do.
func writeForecast(out io.Writer, f *jobs.Forecast) {
	fmt.Fprintf(out, "%s: the study is right\n", f.Study)
	fmt.Fprintf(out, "  %d rows, %d uncertain inputs, %d stored columns. %s\n", f.Rows, f.Inputs, f.Outputs, f.Note)
	if f.IndexRows > 0 {
		fmt.Fprintf(out, "  sensitivity to +-%g: %d base rows, %d model runs in all\n", f.HalfWidth, f.IndexRows, f.Runs)
	} else {
		fmt.Fprintf(out, "  no variance-based sensitivity; %d model runs in all\n", f.Runs)
	}
	fmt.Fprintf(out, "  about %s, %d MB of memory, %d MB on the disk\n",
		time.Duration(f.Seconds*float64(time.Second)).Round(time.Second), f.Memory>>20, f.Disk>>20)
	var known []string
	for _, how := range slices.Sorted(maps.Keys(f.HowKnown)) {
		known = append(known, fmt.Sprintf("%s %d", how, f.HowKnown[how]))
	}
	listed(out, "uncertain inputs by how they are known", known)
	listed(out, "taken from the catalogue", f.Defaults)
	for _, l := range f.LeftOut {
		wrapped(out, "left out: "+l.Output+": "+l.Why)
	}
	for _, odd := range f.Odd {
		wrapped(out, "odd: "+odd)
	}
}

func listed(out io.Writer, title string, items []string) {
	if len(items) > 0 {
		wrapped(out, title+": "+strings.Join(items, ", "))
	}
}
