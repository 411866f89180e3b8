package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// weakest orders the ways in which an input can be known; those that it lacks come between.
var weakest = []string{"", "guess", "leaked", "announced", "rule", "handbook", "data_sheet", "read_off_picture", "filed", "calculated", "measured", "weighed"}

var assumedHTML = template.Must(template.New("assumed").Parse(`
<ul class="known">{{range .Known}}<li><span>{{.Way}}</span> <span class="strokes" aria-hidden="true">{{.Strokes}}</span> {{.Count}}: {{.Names}}</li>
{{end}}</ul>
{{range .Tables}}<h3>{{.Title}}</h3>
<div class="scroll" role="region" aria-label="{{.Title}}" tabindex="0"><table class="inputs"><thead><tr><th scope="col">input</th><th scope="col">what is believed</th><th scope="col">nine in ten draws</th><th scope="col">how known, and source</th></tr></thead>
<tbody>{{range .Rows}}<tr><th scope="row"><b>{{.Name}}</b><br>{{.Meaning}}</th><td class="words" data-h="believed">{{.Believed}}</td><td class="words" data-h="drawn">{{.Drawn}}</td><td class="words" data-h="known">{{.Known}}</td></tr>
{{end}}</tbody></table></div>
{{end}}{{if .Withdrawn}}<h3>What no longer counts</h3>
<ul>{{range .Withdrawn}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{if .History}}<h3>The study's history</h3>
<ul>{{range .History}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{if .LeftOut}}<p>Left out, since what it takes was not given: {{.LeftOut}}.</p>{{end}}`))

type believed struct{ Name, Meaning, Believed, Drawn, Known string }

// assumed lists every input with its belief, how it is known and its source, stated ones
// first, then those that the catalogue supplied.
func assumed(d *data) (section, bool) {
	s := section{ID: "assumed", Label: "What was assumed"}
	var stated, defaults []believed
	ways := map[string][]string{}
	uncertain, guessed := 0, 0
	for i := range d.summary {
		r := &d.summary[i]
		if r.Role != result.RoleInput && r.Role != result.RoleConstant && r.Role != result.RoleFormula {
			continue
		}
		if r.Origin == result.Default {
			defaults = append(defaults, beliefOf(r))
			continue
		}
		stated = append(stated, beliefOf(r))
		if r.Role == result.RoleInput {
			uncertain++
			ways[r.HowKnown] = append(ways[r.HowKnown], plain(r.Output))
			if report.Guessed(r.HowKnown) {
				guessed++
			}
		}
	}
	type known struct {
		Way, Strokes, Names string
		Count               int
	}
	var list []known
	for way, names := range ways {
		list = append(list, known{cmp.Or(strings.ReplaceAll(way, "_", " "), "not said"), strings.Repeat("|", len(names)), strings.Join(names, ", "), len(names)})
	}
	slices.SortFunc(list, func(a, b known) int { return cmp.Compare(rank(a.Way), rank(b.Way)) })
	type table struct {
		Title string
		Rows  []believed
	}
	tables := []table{{"What the study states", stated}}
	if len(defaults) > 0 {
		tables = append(tables, table{"What the study does not state: taken from the catalogue", defaults})
	}
	s.Heading = template.HTML(fmt.Sprintf("Of %s %s no more than a guess, a rule, an announcement or a leak; %s from the catalogue.",
		report.Counted(uncertain, "uncertain input"), isOrAre(guessed), report.Counted(len(defaults), "number")))
	s.Body = render(assumedHTML, map[string]any{"Known": list, "Tables": tables, "Withdrawn": d.withdrawn(), "History": d.history(), "LeftOut": strings.Join(report.ByReason(d.Assumed.LeftOut), "; ")})
	return s, true
}

func isOrAre(n int) string {
	if n == 1 {
		return "one is"
	}
	return report.Count(n) + " are"
}

// rank puts what is not said first, then the weakest way.
func rank(way string) int {
	if way == "not said" {
		way = ""
	}
	if at := slices.Index(weakest, strings.ReplaceAll(way, " ", "_")); at >= 0 {
		return at
	}
	return len(weakest)
}

func beliefOf(r *result.SummaryRow) believed {
	b := believed{Name: plain(r.Output), Meaning: plain(r.Meaning), Believed: plain(r.StatedAs)}
	f := figures(&r.P05, &r.P50, &r.P95)
	if r.P05 == r.P95 {
		b.Drawn = with(draw.Signed(report.Short(r.P50)), r.Unit)
	} else {
		b.Drawn = f[0] + " to " + with(f[2], r.Unit)
	}
	var known []string
	for _, text := range []string{strings.ReplaceAll(r.HowKnown, "_", " "), plain(r.Source)} {
		if text != "" {
			known = append(known, text)
		}
	}
	b.Known = cmp.Or(strings.Join(known, "; "), "not said")
	return b
}

// withdrawn and history are what the study keeps in sight of its past.
func (d *data) withdrawn() []string {
	var told []string
	for _, w := range d.Withdrawn {
		told = append(told, plain(w.Told()))
	}
	return told
}

func (d *data) history() []string {
	var told []string
	for _, e := range d.History {
		told = append(told, plain(e.Told()))
	}
	return told
}
