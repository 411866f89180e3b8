package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"

	"proofmass/jobs/inspect"
	"proofmass/jobs/report"
	"proofmass/jobs/study"
)

func check(_ context.Context, args []string, out, _ io.Writer) error {
	var s studyFlags
	f := flags("check")
	s.add(f)
	asJSON, workers := f.Bool("json", false, ""), f.Int("workers", 0, "")
	if err := parse(f, args, 1, 1000, "one study file or more"); err != nil {
		return err
	}
	if f.Changed("workers") && *workers < 1 {
		return usagef("check: --workers: found %d; at least 1 is wanted", *workers)
	}
	options, err := s.options()
	if err != nil {
		return err
	}
	var all []*inspect.Checked
	var wrong study.Errors
	for _, path := range f.Args() {
		checked, err := inspect.CheckFile(path, options, *workers)
		if err != nil {
			return err
		}
		all, wrong = append(all, checked), append(wrong, checked.Mistakes...)
		if checked.CanRun && !*asJSON {
			writeForecast(out, checked.Forecast)
		}
	}
	if *asJSON {
		if err := writeJSON(out, all); err != nil {
			return err
		}
	}
	if len(wrong) > 0 {
		return wrong
	}
	return nil
}

// writeForecast tells what a run would do.
func writeForecast(out io.Writer, f *inspect.Forecast) {
	fmt.Fprint(out, report.Wrap(f.Study+": the study can be run", "", 80))
	for _, odd := range f.First {
		shortened(out, "Odd: "+odd)
	}
	for _, c := range f.Claims {
		wrapped(out, "The claim "+c.Claim+" holds where "+c.Words+".")
	}
	wrapped(out, fmt.Sprintf("%s rows (%s design), %s, %s.", count(f.Rows), f.Design,
		report.Numbered(f.Inputs, "uncertain input", "uncertain inputs"), report.Numbered(f.Outputs, "stored column", "stored columns")))
	if c := f.Choices; c != nil {
		text := fmt.Sprintf("%s choices of %s, each with these rows, which are the same draws for all: %s rows.", count(c.Count), strings.Join(c.Names, ", "), count(c.Most))
		if c.Least < c.Most {
			text += fmt.Sprintf(" What is surely off leaves early, from %s rows on: %s rows if all but one did.", count(2*c.First), count(c.Least))
		}
		wrapped(out, text)
	}
	if f.AtMost > 0 {
		wrapped(out, fmt.Sprintf("The sample starts with these rows and grows by as many until its half-widths are reached, to %s at most; what follows is of the start.", count(f.AtMost)))
	}
	if f.Note != "" {
		wrapped(out, f.Note+".")
	}
	if len(f.Accounts) > 0 {
		wrapped(out, "Rival accounts: "+strings.Join(f.Accounts, ", ")+".")
	}
	if f.Beside > 0 {
		wrapped(out, fmt.Sprintf("Beside them %s draws that are not stored, for guessed widths and rival accounts.", count(f.Beside)))
	}
	if f.IndexRows > 0 {
		wrapped(out, fmt.Sprintf("Sensitivity begins with %s base rows (each is run again with every input swapped) and adds as many until its half-widths are +-%g, to %s model runs at most.",
			count(f.IndexRows), f.HalfWidth, count(f.IndexMost)))
		wrapped(out, fmt.Sprintf("To begin with: %s model runs in all.", count(f.Runs)))
	} else {
		wrapped(out, fmt.Sprintf("No variance-based sensitivity. %s model runs in all.", count(f.Runs)))
	}
	if s := f.Screening; s != nil {
		found := fmt.Sprintf("%d of them do next to nothing and are swapped as one, which saves %s runs", s.SetAside, count(s.Saved))
		switch {
		case s.Left:
			found = "what does next to nothing is swapped as one, which the run finds out and this forecast does not"
		case s.SetAside == 0:
			found = "none of them can be set aside"
		}
		wrapped(out, fmt.Sprintf("Screening: %s model runs look at %d inputs by elementary effects; %s.", count(s.Runs), s.Inputs, found))
	}
	if f.RareMost > 0 {
		wrapped(out, fmt.Sprintf("Each claim that fewer than 50 draws hold, or fail, takes up to about %s model runs more.", count(f.RareMost)))
	}
	wrapped(out, fmt.Sprintf("About %s, %s of memory, %s on the disk.", duration(f.Seconds), megabytes(f.Memory), megabytes(f.Disk)))
	var known []string
	for _, how := range slices.Sorted(maps.Keys(f.HowKnown)) {
		known = append(known, fmt.Sprintf("%s %d", how, f.HowKnown[how]))
	}
	listed(out, "Uncertain inputs by how they are known", known)
	listed(out, "Uncertain and taken from the catalogue", f.Defaults)
	if n := len(f.Constants); n > 0 {
		wrapped(out, fmt.Sprintf("Constant and taken from the catalogue: %d (proofmass list inputs; every answer names them)", n))
	}
	left := make([]report.LeftOut, len(f.LeftOut))
	for i, l := range f.LeftOut {
		left[i] = report.LeftOut(l)
	}
	for _, line := range report.ByReason(left) {
		shortened(out, "Left out: "+line)
	}
	for _, odd := range f.Odd[len(f.First):] {
		shortened(out, "Odd: "+odd)
	}
}

func count(n int) string { return report.Grouped(int64(n)) }

func duration(seconds float64) string {
	if seconds < 1 {
		return "a second"
	}
	return time.Duration(seconds * float64(time.Second)).Round(time.Second).String()
}

func megabytes(bytes int64) string { return count(int(bytes>>20)+1) + " MB" }

func listed(out io.Writer, title string, items []string) {
	if len(items) > 0 {
		shortened(out, title+": "+strings.Join(items, ", "))
	}
}

// shortened writes a paragraph whose long lists of names are cut.
func shortened(out io.Writer, text string) {
	wrapped(out, report.FewNames(text, "check --json lists all"))
}
