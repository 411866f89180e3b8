package page

import (
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report"
)

// beware are the cautions: this answer's, then those of every answer.
func beware(d *data) (section, bool) {
	var b strings.Builder
	b.WriteString("<ul>")
	for _, c := range d.Cautions {
		b.WriteString("<li>" + coded(c) + "</li>\n")
	}
	b.WriteString("</ul>")
	if last := report.NotJudged(); !slices.Contains(d.Cautions, last) {
		b.WriteString("<p>" + safe(last) + "</p>")
	}
	return section{ID: "beware", Label: "Beware",
		Heading: "A screening model: structure, crash, high voltage and thermal runaway are not judged here.",
		Body:    template.HTML(b.String())}, true
}

// coded escapes a text and sets what stands between two backquotes as code.
func coded(s string) string {
	parts := strings.Split(safe(s), "`")
	if len(parts)%2 == 0 { // one is left over
		return safe(s)
	}
	var b strings.Builder
	for i, part := range parts {
		if i%2 == 1 {
			part = "<code>" + part + "</code>"
		}
		b.WriteString(part)
	}
	return b.String()
}
