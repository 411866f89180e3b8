package page

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
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
{{range .Tables}}{{if .Folded}}<details class="folded"><summary>{{.Title}}</summary>{{else}}<h3>{{.Title}}</h3>{{end}}
<div class="scroll" role="region" aria-label="{{.Title}}" tabindex="0"><table class="inputs"><thead><tr><th scope="col">input</th><th scope="col">what is believed</th><th scope="col">nine in ten draws</th><th scope="col">how known, and source</th></tr></thead>
<tbody>{{range .Rows}}<tr><th scope="row"><b>{{.Name}}</b><br>{{.Meaning}}</th><td class="words" data-h="believed">{{.Believed}}</td><td class="words" data-h="drawn">{{.Drawn}}</td><td class="words" data-h="known">{{.Known}}</td></tr>
{{end}}</tbody></table></div>{{if .Folded}}</details>{{end}}
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
		list = append(list, known{cmp.Or(strings.ReplaceAll(way, "_", " "), "not said"), strings.Repeat("|", len(names)), someOf(names), len(names)})
	}
	slices.SortFunc(list, func(a, b known) int { return cmp.Compare(rank(a.Way), rank(b.Way)) })
	tables := d.beliefs(stated)
	if len(defaults) > 0 {
		tables = append(tables, beliefs{"What the study does not state: taken from the catalogue", defaults, false})
	}
	s.Heading = template.HTML(fmt.Sprintf("Of %s %s no more than a guess, a rule, an announcement or a leak; %s from the catalogue.",
		report.Counted(uncertain, "uncertain input"), isOrAre(guessed), report.Counted(len(defaults), "number")))
	s.Body = render(assumedHTML, map[string]any{"Known": list, "Tables": tables, "Withdrawn": d.withdrawn(), "History": d.history(), "LeftOut": strings.Join(report.ByReason(d.Assumed.LeftOut), "; ")})
	return s, true
}

// beliefs are a table of inputs.
type beliefs struct {
	Title  string
	Rows   []believed
	Folded bool
}

// mostOpen is how many inputs stand in one open table; more are folded, those that decide
// most apart.
const mostOpen = 60

// beliefs sorts the stated inputs into tables: one, or of many those that decide, open, and
// a folded one a vehicle.
func (d *data) beliefs(stated []believed) []beliefs {
	if len(stated) <= mostOpen {
		return []beliefs{{"What the study states", stated, false}}
	}
	decides := map[string]bool{}
	shown, _ := d.deciding()
	for _, x := range shown {
		for _, in := range x.Inputs[:min(len(x.Inputs), onWide.rows)] {
			decides[plain(in.Input)] = true
		}
	}
	open := beliefs{Title: "What the study states, and decides most"}
	var folded []beliefs
	for _, b := range stated {
		if decides[b.Name] {
			open.Rows = append(open.Rows, b)
			continue
		}
		title := "What vehicles share"
		if vehicle, _ := split(b.Name); vehicle != "" {
			title = "Of " + vehicle
		} else if d.model != "vehicle" {
			title = "All others"
		}
		at := slices.IndexFunc(folded, func(t beliefs) bool { return t.Title == title })
		if at < 0 {
			at, folded = len(folded), append(folded, beliefs{Title: title, Folded: true})
		}
		folded[at].Rows = append(folded[at].Rows, b)
	}
	for i := range folded {
		folded[i].Title += ": " + report.Counted(len(folded[i].Rows), "input")
	}
	if len(open.Rows) == 0 {
		return folded
	}
	return append([]beliefs{open}, folded...)
}

// someOf lists names, of many the first ones.
func someOf(names []string) string {
	const most = 16
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
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
	switch {
	case r.P05 == r.P95 && r.P50 == math.Trunc(r.P50) && math.Abs(r.P50) < 1e7: // a count has no decimals
		b.Drawn = with(draw.Signed(strconv.FormatFloat(r.P50, 'f', 0, 64)), r.Unit)
	case r.P05 == r.P95:
		b.Drawn = with(draw.Signed(report.Short(r.P50)), r.Unit)
	case f[0] == unknown || f[2] == unknown:
		b.Drawn = "middle " + with(f[1], r.Unit)
	default:
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
