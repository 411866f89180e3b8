package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/inspect"
	"proofmass/jobs/report"
)

func show(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("show")
	row := f.Int("row", -1, "")
	full, asJSON := f.Bool("full", false, ""), f.Bool("json", false, "")
	table := f.String("csv", "", "")
	if err := parse(f, args, 1, 1, "one result folder"); err != nil {
		return err
	}
	if f.Changed("csv") {
		if f.NFlag() > 1 {
			return usagef("show: --csv prints a table alone; it takes no other option")
		}
		return inspect.CSV(f.Arg(0), *table, out)
	}
	if f.Changed("row") {
		return showRow(out, f.Arg(0), *row, *asJSON)
	}
	state, err := inspect.Show(f.Arg(0))
	if err != nil {
		return err
	}
	if *asJSON {
		if err := writeJSON(out, state); err != nil {
			return err
		}
	}
	if err := whole(state); err != nil {
		return err // for machines too: the exit code tells it
	}
	switch {
	case *asJSON:
		return nil
	case !state.Finished:
		_, err := io.WriteString(out, standing(state, time.Now()))
		return err
	}
	if err := state.Answer.Text(out, report.TextOptions{Folder: f.Arg(0), Width: columns(out), Full: *full}); err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, "Every file is whole.")
	return err
}

// standing tells how far a result is that is not finished.
func standing(s *inspect.State, now time.Time) string {
	var b strings.Builder
	working := 0
	for _, p := range s.Stands.Processes {
		if p.Works(now) {
			working++
		}
	}
	switch {
	case working > 0:
		b.WriteString(report.Wrap(fmt.Sprintf("%s: not finished; %s it.", s.Study, report.Numbered(working, "process works on", "processes work on")), "", 80))
	case s.Hopeless != "":
		b.WriteString(report.Wrap(s.Study+": not finished, and the same run command would end as it did: "+s.Hopeless, "", 80))
	default:
		b.WriteString(report.Wrap(s.Study+": not finished; the same run command goes on with it", "", 80))
	}
	if r := s.Stands.Round; r != nil {
		b.WriteString(report.Wrap(fmt.Sprintf("Round %d (%s): %d of %d slices are made.", r.Number, r.Kind, r.Made, r.Slices), "", 80))
	}
	const most = 5
	for i, p := range s.Stands.Processes {
		if i == most {
			b.WriteString(report.Wrap(fmt.Sprintf("... and %d more in log/", len(s.Stands.Processes)-most), "", 80))
			break
		}
		b.WriteString(report.Wrap(heard(p), "", 80))
	}
	return b.String()
}

// heard is what a process has told last.
func heard(p jobs.Process) string {
	text := fmt.Sprintf("%s %s, process %d on %s: %s", p.Heard.Local().Format("2 Jan 15:04:05"), p.Doing, p.PID, p.Host, p.Told)
	switch {
	case p.Told == "progress":
		text += fmt.Sprintf(", %s, %.0f %%, about %s left", p.Kind, 100*p.Share, time.Duration(p.Left)*time.Second)
	case p.Error != "":
		text += ", " + p.Error
	case p.Kind != "":
		text += ", " + p.Kind
	}
	return text
}

// whole is the error for a folder in which a file is not as it was written.
func whole(s *inspect.State) error {
	if s.Whole {
		return nil
	}
	return fmt.Errorf("%s: not whole: %s; the same run command makes it anew", s.Study, s.Fault)
}

// finished is the error for a folder that holds no finished and whole result; yet says what it lacks so long.
func finished(folder, yet string) error {
	state, err := inspect.Show(folder)
	if err != nil {
		return err
	}
	if err := whole(state); err != nil {
		return err
	}
	if !state.Finished {
		return usagef("%s: not finished; %s", folder, yet)
	}
	return nil
}

// showRow prints a draw: a line a quantity, with all its digits.
func showRow(out io.Writer, folder string, row int, asJSON bool) error {
	values, err := inspect.Row(folder, row)
	if err != nil {
		return err
	}
	if asJSON {
		return writeJSON(out, values)
	}
	fmt.Fprintf(out, "DRAW %d\n", row)
	for _, part := range []struct{ role, title string }{
		{"input", "drawn"}, {"constant", "constant"}, {"formula", "by the study's formulas"}, {"output", "computed"}, {"intermediate", "on the way"}, {"claim", "claims"},
	} {
		writePart(out, part.title, slices.DeleteFunc(slices.Clone(values), func(v inspect.Value) bool { return v.Role != part.role }))
	}
	return nil
}

func writePart(out io.Writer, title string, values []inspect.Value) {
	if len(values) > 0 {
		fmt.Fprintf(out, "\n%s\n", title)
	}
	for _, v := range values {
		fmt.Fprint(out, rowText(v))
	}
}

// rowText is a line, or several: values stay aligned behind a long name, and no line is
// longer than 80 characters.
func rowText(v inspect.Value) string {
	const width, nameWidth = 80, 46
	lines := brokenName(v.Name, nameWidth)
	if len([]rune(lines[len(lines)-1])) > nameWidth {
		lines = append(lines, "")
	}
	last := len(lines) - 1
	lines[last] = fmt.Sprintf("%-*s %18s", nameWidth, lines[last], valueText(v))
	switch unit := unitText(v.Unit); {
	case unit == "":
	case len([]rune(lines[last]+unit)) < width:
		lines[last] += " " + unit
	default:
		lines = append(lines, strings.TrimSuffix(report.Wrap(unit, strings.Repeat(" ", width-mostUnit), width), "\n"))
	}
	return strings.Join(lines, "\n") + "\n"
}

// mostUnit is how many characters of a unit a line takes, where it does not fit beside
// its value: all that the text of one may have.
const mostUnit = 64

// brokenName is a full name, broken behind its points where it is longer than fits.
func brokenName(name string, fits int) []string {
	var lines []string
	for _, part := range strings.SplitAfter(name, ".") {
		switch last := len(lines) - 1; {
		case last < 0:
			lines = append(lines, "  "+part)
		case len([]rune(lines[last]+part)) > fits:
			lines = append(lines, "    "+part)
		default:
			lines[last] += part
		}
	}
	return lines
}

func valueText(v inspect.Value) string {
	switch {
	case v.Infeasible:
		return "infeasible"
	case v.Role != "claim":
		return fmt.Sprintf("%.10g", v.Value)
	case v.Value == 1:
		return "holds"
	}
	return "does not hold"
}

// unitText leaves out the unit of a plain number.
func unitText(unit string) string {
	if unit == "1" {
		return ""
	}
	return unit
}
