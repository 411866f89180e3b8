package page

import (
	"html/template"
	"math"
	"slices"
	"strings"

	changes "proofmass/jobs/compare"
	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/study"
)

// RenderSince draws the page of a finished result folder, which opens with what changed since
// an older result; nil: as it is.
func RenderSince(folder string, since *changes.Comparison) ([]byte, error) {
	d, err := load(folder)
	if err != nil {
		return nil, err
	}
	d.since = since
	return d.render(d.headline(), d.sections())
}

// RenderComparison draws what changed, and why, on a page of its own.
func RenderComparison(c *changes.Comparison) ([]byte, error) {
	d, err := load(c.New.Folder)
	if err != nil {
		return nil, err
	}
	d.since = c
	var shown []section
	for _, make := range []func(*data) (section, bool){changed, beware} {
		if s, ok := make(d); ok {
			shown = append(shown, s)
		}
	}
	return d.render(c.Headline(), shown)
}

var changedHTML = template.Must(template.New("changed").Parse(`{{range .Notes}}<p>{{.}}</p>
{{end}}{{if .Claims}}<h3>The verdicts</h3>
<div class="scroll" role="region" aria-label="verdicts before and now" tabindex="0"><table class="inputs"><thead><tr><th scope="col">claim</th><th scope="col">before</th><th scope="col">now</th><th scope="col">because of</th></tr></thead>
<tbody>{{range .Claims}}<tr><th scope="row"><b>{{.Name}}</b></th><td class="words" data-h="before">{{.Before}}</td><td class="words" data-h="now">{{.Now}}</td><td class="words" data-h="because of">{{range .Why}}{{.}}<br>{{end}}</td></tr>
{{end}}</tbody></table></div>
{{end}}{{if .Told}}<ul>{{range .Told}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{.Figures}}{{if .Inputs}}<h3>What was put in</h3>
<div class="scroll" role="region" aria-label="inputs before and now" tabindex="0"><table class="inputs"><thead><tr><th scope="col">input</th><th scope="col">before</th><th scope="col">now</th><th scope="col">how known, and source</th></tr></thead>
<tbody>{{range .Inputs}}<tr><th scope="row"><b>{{.Name}}</b></th><td class="words" data-h="before">{{.Before}}</td><td class="words" data-h="now">{{.Now}}</td><td class="words" data-h="known">{{.Why}}</td></tr>
{{end}}</tbody></table></div>
{{end}}{{if .Withdrawn}}<h3>What no longer counts</h3>
<ul>{{range .Withdrawn}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{if .History}}<h3>What the study says of its history</h3>
<ul>{{range .History}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{if .Follow}}<p>From these follow other values of {{.Follow}}.</p>
{{end}}{{if .Gone}}<p>No longer there: {{.Gone}}.</p>
{{end}}{{if .Added}}<p>New: {{.Added}}.</p>
{{end}}<p>{{.How}}</p>
`))

type changedClaim struct {
	Name, Before, Now string
	Why               []string
}

type changedInput struct{ Name, Before, Now, Why string }

// changed opens the page with what changed since an older result, where there is one.
func changed(d *data) (section, bool) {
	s := section{ID: "changed", Label: "Changed since"}
	c := d.since
	if c == nil {
		return s, false
	}
	s.Heading = template.HTML(safe(c.Headline()))
	var notes []string
	for _, note := range c.Notes {
		notes = append(notes, plain(note))
	}
	inputs, follow := changedInputs(c)
	s.Body = render(changedHTML, map[string]any{"Notes": notes, "Claims": changedClaims(c), "Told": changedWords(c), "Inputs": inputs, "Follow": strings.Join(follow, ", "),
		"Figures": d.changedFigures(), "Withdrawn": d.withdrawn(), "History": d.history(), "Gone": plain(strings.Join(c.Gone, ", ")), "Added": plain(strings.Join(c.Added, ", ")), "How": plain(c.How())})
	return s, true
}

func changedClaims(c *changes.Comparison) []changedClaim {
	var rows []changedClaim
	for i := range c.Claims {
		x := &c.Claims[i]
		row := changedClaim{Name: plain(report.ClaimName(x.Name)), Before: x.Before.InWords() + ": " + x.Before.Frequency, Now: x.After.InWords() + ": " + x.After.Frequency}
		for _, line := range x.Chance.Told(100, "in 100 draws", 4) {
			row.Why = append(row.Why, draw.Signed(plain(line)))
		}
		if len(row.Why) == 0 {
			row.Why = []string{"nothing that changed moves it"}
		}
		rows = append(rows, row)
	}
	return rows
}

// changedWords is what answers tell in words: of each claim, then of all together.
func changedWords(c *changes.Comparison) []string {
	var lines []string
	add := func(of string, told []changes.Told) {
		for i := range told {
			label, words := told[i].InWords()
			lines = append(lines, draw.Signed(plain(of+label+": "+words))+".")
		}
	}
	for i := range c.Claims {
		add(report.ClaimName(c.Claims[i].Name)+", ", c.Claims[i].Told)
	}
	add("", c.Told)
	return lines
}

func changedInputs(c *changes.Comparison) (rows []changedInput, follow []string) {
	for i := range c.Inputs {
		in := &c.Inputs[i]
		if in.Change == changes.Follows {
			follow = append(follow, plain(in.Name))
			continue
		}
		before, now, known := in.InWords()
		rows = append(rows, changedInput{plain(in.Name), plain(before), plain(now), plain(known)})
	}
	return rows, follow
}

// mostChanged is how many outputs, and mostCaused how many changes, have a figure of their own.
const mostChanged, mostCaused = 6, 3

// changedFigures are the outputs before and after, and the causes of the largest changes:
// first of claims whose verdict moved, then of what claims are made of.
func (d *data) changedFigures() template.HTML {
	var b strings.Builder
	outputs := d.since.Changed()
	if len(outputs) > 0 {
		shown := outputs[:min(len(outputs), mostChanged)]
		b.WriteString(string(d.figure(picture{Kind: "before", Caption: "What the draws gave before, above in grey, and give now, below.", From: "summary of both results",
			Numbers: beforeNumbers(shown), Scene: func(f frame) *draw.Scene { return d.beforeScene(shown, f) }, Parts: parts(shown, 2, d.beforeScene)})))
	}
	for _, x := range d.caused() {
		b.WriteString(string(d.figure(x)))
	}
	return template.HTML(b.String())
}

func (d *data) caused() []picture {
	var all []picture
	c := d.since
	for _, moved := range []bool{true, false} {
		for i := range c.Claims {
			if x := &c.Claims[i]; x.Moved == moved && x.Name != study.AllClaims && len(all) < mostCaused && (moved || len(all) == 0) && steps(&x.Chance) {
				all = append(all, causesPicture(x.Name, "the chance of "+report.ClaimName(x.Name), inPercent(&x.Chance), "%"))
			}
		}
	}
	for _, x := range c.Changed() {
		ofClaim := slices.ContainsFunc(c.Claims, func(claim changes.Claim) bool { return claim.After.Of == x.Name })
		if len(all) < mostCaused && (ofClaim || len(c.Claims) == 0) && steps(&x.Middle) {
			all = append(all, causesPicture(x.Name, "the middle draw of "+x.Name, x.Middle, x.Unit))
		}
	}
	return all
}

// steps reports whether a change has causes to show.
func steps(c *changes.Change) bool {
	return c.Before != nil && c.After != nil && len(c.Causes) > 0 && *c.By != 0
}

// inPercent is a change of a chance in per cent.
func inPercent(c *changes.Change) changes.Change {
	const times = 100
	by := func(x *float64) *float64 {
		if x == nil {
			return nil
		}
		y := times * *x
		return &y
	}
	out := changes.Change{Before: by(c.Before), After: by(c.After), By: by(c.By), Draws: by(c.Draws)}
	for _, x := range c.Causes {
		out.Causes = append(out.Causes, changes.Cause{Cause: x.Cause, By: times * x.By, Low: by(x.Low), High: by(x.High)})
	}
	return out
}

func beforeNumbers(all []*changes.Output) numbers {
	n := numbers{Head: []string{"output", "unit", "", "p05", "middle", "p95"}, Left: 3}
	for _, x := range all {
		for _, row := range []struct {
			when string
			s    report.Spread
		}{{"before", x.Before}, {"now", x.After}} {
			n.Rows = append(n.Rows, append([]string{plain(x.Name), plain(x.Unit), row.when}, figures(row.s.P05, row.s.P50, row.s.P95)...))
		}
	}
	return n
}

func causesPicture(subject, of string, c changes.Change, unit string) picture {
	n := numbers{Head: []string{"cause", "by", "from", "to"}, Left: 1}
	for _, x := range c.Causes {
		n.Rows = append(n.Rows, append([]string{plain(x.Cause)}, figures(&x.By, x.Low, x.High)...))
	}
	if c.Draws != nil && *c.Draws != 0 {
		n.Rows = append(n.Rows, []string{"other draws", figures(c.Draws)[0], "-", "-"})
	}
	return picture{Kind: "causes", Subject: subject, From: "compare", Numbers: n,
		Caption: template.HTML("What moved " + safe(of) + ": each step is the mean of what the change does over the orders of making them; the steps add up."),
		Scene:   func(f frame) *draw.Scene { return causesScene(of, &c, unit, f) }}
}

// nothing is a length in drawing units below which a step is not seen.
const nothing = 0.05

func given(values ...*float64) []float64 {
	var all []float64
	for _, v := range values {
		if v != nil && !math.IsNaN(*v) {
			all = append(all, *v)
		}
	}
	return all
}
