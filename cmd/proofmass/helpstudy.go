package main

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/study"
	"proofmass/jobs/study/uncertain"
)

// studyHelp tells the language of the study file from the lists that its reader is
// held to.
func studyHelp() string {
	var b strings.Builder
	b.WriteString(report.Wrap("A study is a YAML file: what is known, how well, and what is claimed. A number has its unit (97 g, 8 %, 15 kWh/100 km). KNOWN is a number, a value with its standard uncertainty, 1950(30) kg, or {between: [1 kg, 2 kg], source: TEXT}.", "", 80))
	beside := ""
	for _, section := range study.Language() {
		fmt.Fprintf(&b, "\n%s\n", strings.ToUpper(section.Title[:1])+section.Title[1:])
		for _, k := range section.Keys {
			indent := strings.Repeat(" ", 34)
			fmt.Fprintf(&b, "  %-31s %s", k.Form, strings.TrimLeft(report.Wrap(k.Meaning, indent, 80), " "))
		}
		if section.Title == "beside any number" {
			beside = section.Title
		}
		if known := distributionsAmong(section.Also); known != "" {
			b.WriteString(report.Wrap("One of "+known+" (`proofmass list distributions`).", "  ", 80))
		}
		if slices.Contains(section.Also, "source") {
			where := "above"
			if beside == "" {
				where = "below"
			}
			b.WriteString(report.Wrap("And what may stand beside any number ("+where+").", "  ", 80))
		}
	}
	b.WriteString("\nAn example that runs as it stands\n\n")
	for line := range strings.Lines(study.Example) {
		b.WriteString("  " + line)
	}
	b.WriteString("\n" + report.Wrap("Studies to start from: testdata/studies/heron.yaml (two cars, commented), everything.yaml (every way to state a number), product.yaml (formulas alone).", "", 80))
	return b.String()
}

func distributionsAmong(keys []string) string {
	var known []string
	for _, d := range uncertain.Distributions() {
		if slices.Contains(keys, d.Key) {
			known = append(known, d.Key)
		}
	}
	return strings.Join(known, ", ")
}
