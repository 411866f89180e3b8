package page

import (
	"html/template"
	"strings"
)

// beware are the cautions: this answer's, then those of every answer.
func beware(d *data) (section, bool) {
	var b strings.Builder
	b.WriteString("<ul>")
	for _, c := range d.Cautions {
		b.WriteString("<li>" + safe(c) + "</li>\n")
	}
	b.WriteString("</ul>")
	return section{ID: "beware", Label: "Beware",
		Heading: "A screening model: structure, crash, high voltage and thermal runaway are not judged here.",
		Body:    template.HTML(b.String() + "<p>They need tests, licensed practice and the local codes. A labelled range is only what an accredited test measures.</p>")}, true
}
