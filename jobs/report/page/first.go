package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report"
)

// first tells, before any verdict, what the study says against itself and in how many
// draws something has no value. Without either there is no such section.
func first(d *data) (section, bool) {
	s := section{ID: "first", Label: "First"}
	items := append(d.against(), d.withoutValue()...)
	if len(items) == 0 {
		return s, false
	}
	s.Heading = "What the study says against itself, and what has no value, weighs on every verdict below."
	switch {
	case len(d.against()) == 0:
		s.Heading = "In some draws there is no value to judge: they count as not holding."
	case len(d.withoutValue()) == 0:
		s.Heading = "The study says something against itself: read the verdicts below with that in mind."
	}
	var b strings.Builder
	b.WriteString("<ul>")
	for _, item := range items {
		b.WriteString("<li>" + safe(item) + "</li>\n")
	}
	b.WriteString("</ul>")
	s.Body = template.HTML(b.String())
	return s, true
}

// against are the contradictions that are no claim's missing values.
func (d *data) against() []string {
	var told []string
	for _, c := range d.Contradictions {
		if !slices.ContainsFunc(d.Claims, func(x report.Claim) bool { return x.Name == c.Name }) {
			told = append(told, capital(c.Told()))
		}
	}
	return told
}

// withoutValue groups the claims by the number of draws in which they cannot be judged.
func (d *data) withoutValue() []string {
	var counts []int64
	claims := map[int64][]string{}
	for _, c := range d.Claims {
		if c.Infeasible == 0 || c.Together() {
			continue
		}
		if !slices.Contains(counts, c.Infeasible) {
			counts = append(counts, c.Infeasible)
		}
		claims[c.Infeasible] = append(claims[c.Infeasible], c.Name)
	}
	var told []string
	for _, n := range counts {
		named := claims[n]
		words := report.Listed(named) + " rest"
		if len(named) == 1 {
			words += "s"
		}
		if len(named) > mostSaid {
			words = fmt.Sprintf("%s and %d other claims rest", strings.Join(named[:3], ", "), len(named)-3)
		}
		told = append(told, fmt.Sprintf("In %s of %s draws what %s on has no value (infeasible): such a draw counts as not holding, and is a dot among the strokes.", report.Grouped(n), report.Grouped(d.Run.Rows), words))
	}
	return told
}
