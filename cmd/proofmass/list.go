package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"proofmass/jobs/reference"
	"proofmass/jobs/report"
	"proofmass/jobs/study"
)

func list(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("list")
	about := f.String("about", "", "")
	asJSON := f.Bool("json", false, "")
	if err := parse(f, args, 0, 1, "inputs, outputs, schedules, distributions, functions, units, methods or tables"); err != nil {
		return err
	}
	catalogue, kinds := study.BuiltIn(), reference.Kinds()
	if f.NArg() == 1 {
		if !slices.Contains(kinds, f.Arg(0)) {
			return unknownKind(f.Arg(0), kinds)
		}
		kinds = []string{f.Arg(0)}
	}
	if *about != "" {
		return listAbout(out, catalogue, *about, kinds, *asJSON)
	}
	if *asJSON {
		all := map[string][]reference.Entry{}
		for _, kind := range kinds {
			all[kind] = reference.List(catalogue, kind)
		}
		return writeJSON(out, all)
	}
	for i, kind := range kinds {
		if i > 0 {
			fmt.Fprintln(out)
		}
		writeKind(out, catalogue, kind)
	}
	return nil
}

// writeKind lists one kind, the words of tables under a heading for each column.
func writeKind(out io.Writer, catalogue *study.Catalogue, kind string) {
	entries := reference.List(catalogue, kind)
	width := 20
	for _, e := range entries {
		width = max(width, len([]rune(e.Name)))
	}
	for i, e := range entries {
		heading := strings.ToUpper(kind)
		if e.Column != "" {
			heading += ": " + e.Column
		}
		if i == 0 || e.Column != entries[i-1].Column {
			if i > 0 {
				fmt.Fprintln(out)
			}
			fmt.Fprintln(out, heading)
		}
		writeEntry(out, e, width)
	}
	if kind == "outputs" {
		fmt.Fprint(out, report.Wrap("Of a vehicle, VEHICLE.NAME; of one that is not the baseline also VEHICLE.NAME_change, what it is more than that of the baseline in per cent of it, and VEHICLE.NAME_difference, the same in the unit of NAME.", "  ", 80))
	}
}

func unknownKind(found string, kinds []string) error {
	return usagef("list: found %q; there are %s%s", found, strings.Join(kinds, ", "), reference.Suggest(found, kinds))
}

// writeEntry gives name, unit and meaning, and under them the default. width is that of
// names without a unit.
func writeEntry(out io.Writer, e reference.Entry, width int) {
	head := fmt.Sprintf("  %-27s %-10s ", e.Name, e.Unit)
	if e.Unit == "" {
		head = fmt.Sprintf("  %-*s ", width, e.Name)
	}
	indent := strings.Repeat(" ", len([]rune(head)))
	fmt.Fprint(out, head+strings.TrimLeft(report.Wrap(e.Meaning, indent, 80), " "))
	if e.Default != "" {
		fmt.Fprint(out, report.Wrap("default "+e.Default, indent, 80))
	}
}

// listAbout gives everything about one name, of a quantity also with its vehicle in front.
func listAbout(out io.Writer, catalogue *study.Catalogue, name string, kinds []string, asJSON bool) error {
	if _, quantity, full := strings.Cut(name, "."); full {
		name = quantity
	}
	for _, ending := range []string{"_change", "_difference"} {
		if of, found := strings.CutSuffix(name, ending); found && reference.Quantity(catalogue, of) {
			name = of // told as what it is a change of
		}
	}
	var names []string
	for _, kind := range kinds {
		var found []reference.Entry // a word may stand in two columns
		for _, e := range reference.List(catalogue, kind) {
			names = append(names, e.Name)
			if e.Name == name || kind == "functions" && strings.HasPrefix(e.Name, name+"(") {
				found = append(found, e)
			}
		}
		switch {
		case len(found) == 0:
			continue
		case asJSON && len(found) == 1:
			return writeJSON(out, found[0])
		case asJSON:
			return writeJSON(out, found)
		}
		for _, e := range found {
			writeAbout(out, kind, e)
			if kind == "inputs" || kind == "outputs" {
				writeLabelled(out, "used for", strings.Join(reference.MadeOf(catalogue, e.Name), ", "))
			}
		}
		return nil
	}
	if title, key, ok := study.KeyNamed(name); ok {
		writeLabelled(out, name, fmt.Sprintf("a key of %s: %s; %s (proofmass help study)", title, key.Form, key.Meaning))
		return nil
	}
	return usagef("list: --about: found %q, which is not among %s%s", name, strings.Join(kinds, ", "), reference.Suggest(name, names))
}

func writeAbout(out io.Writer, kind string, e reference.Entry) {
	fmt.Fprintln(out, e.Name)
	unitLabel := "unit"
	if kind == "units" {
		unitLabel = "in SI units"
	}
	for _, f := range []struct{ label, text string }{
		{"column", e.Column}, {"meaning", e.Meaning}, {unitLabel, e.Unit}, {"limits", e.Limits}, {"usual", e.Usual}, {"default", e.Default},
		{"default from", e.DefaultSource}, {"if left out", e.Absent}, {"may be stated", e.Stated}, {"source", e.Source},
	} {
		writeLabelled(out, f.label, f.text)
	}
	var parents []string
	for i, r := range e.Routes {
		label := "equation"
		if i > 0 {
			label = "or else"
		}
		if r.Equation != "" {
			writeLabelled(out, label, e.Name+" = "+r.Equation)
		}
		for _, name := range r.From {
			if !slices.Contains(parents, name) {
				parents = append(parents, name)
			}
		}
	}
	writeLabelled(out, "made from", strings.Join(parents, ", "))
}

func writeLabelled(out io.Writer, label, text string) {
	if text != "" {
		fmt.Fprintf(out, "  %-14s", label)
		fmt.Fprint(out, strings.TrimLeft(report.Wrap(text, strings.Repeat(" ", 16), 80), " "))
	}
}
