package page

import (
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// howLarge shows the quantities, a vehicle a bar, and the candidates' changes of them on
// one axis.
func howLarge(d *data) (section, bool) {
	s := section{ID: "large", Label: "How large"}
	levels, changes := d.sizes()
	if len(levels)+len(changes) == 0 {
		return s, false
	}
	s.Heading = template.HTML(d.largest(levels))
	var b strings.Builder
	if len(levels) > 0 {
		caption := template.HTML("What the draws give of each output.")
		if d.model == "vehicle" {
			caption = "What the draws give of each vehicle."
		}
		b.WriteString(string(d.figure(picture{Kind: "levels", Caption: caption, From: "summary, a row an output",
			Note:    d.note("bar", "The thin bar holds nine in ten draws, the thick one half of them, the mark is the middle one. Each quantity has an axis of its own, which starts where its marks start."),
			Numbers: numbersOf(levels), Scene: func(f frame) *draw.Scene { return levelScene(levels, f) }, Parts: parts(levels, perTalk(levels), levelScene)})))
	}
	if len(changes) > 0 {
		scene, each := changeScene, mostRoomy
		if many(changes) {
			scene, each = levelScene, 1
		}
		b.WriteString(string(d.figure(picture{Kind: "changes", Caption: template.HTML("What changes against <i>" + safe(d.baseline()) + "</i>, in the same draw" + d.crosses(changes) + "."), From: "summary, a row an output",
			Numbers: numbersOf(changes), Scene: func(f frame) *draw.Scene { return scene(changes, f) }, Parts: parts(changes, each, scene)})))
	}
	b.WriteString(string(d.ranges()))
	s.Body = template.HTML(b.String())
	return s, true
}

// crosses says what a cross is, where one is drawn.
func (d *data) crosses(changes []*quantity) string {
	if !many(changes) && slices.ContainsFunc(changes, func(q *quantity) bool { return len(q.said) > 0 }) {
		return "; a cross is what was said"
	}
	return ""
}

// A quantity is what the vehicles have of it.
type quantity struct {
	name string
	rows []*result.SummaryRow
	base string                   // the baseline's name
	said map[string]*report.Claim // what was announced of a row, in its unit
}

// sizes are the answer's quantities in its order, levels and changes apart.
func (d *data) sizes() (levels, changes []*quantity) {
	named := map[string]*quantity{}
	for _, size := range d.Sizes {
		row := d.rows[size.Name]
		if row == nil || size.P50 == nil || size.Silent || !d.spokenOf(size.Quantity) {
			continue
		}
		q := named[size.Quantity]
		if q == nil {
			q = &quantity{name: size.Quantity, base: d.baseline(), said: map[string]*report.Claim{}}
			named[size.Quantity] = q
			if strings.HasSuffix(q.name, "_change") {
				changes = append(changes, q)
			} else {
				levels = append(levels, q)
			}
		}
		q.rows = append(q.rows, row)
		for i := range d.Claims {
			if c := &d.Claims[i]; c.Of == row.Output && d.drawnOf(c) && c.Unit == row.Unit && q.said[row.Output] == nil {
				q.said[row.Output] = c
			}
		}
	}
	return levels, changes
}

// spokenOf reports whether a quantity is one that the claims or the headline speak of; a
// study of formulas asks for each of its outputs.
func (d *data) spokenOf(quantity string) bool {
	level := func(q string) string {
		q = strings.TrimSuffix(strings.TrimSuffix(q, "_change"), "_difference")
		return q
	}
	if d.model != "vehicle" || slices.Contains(d.Headline, level(quantity)) {
		return true
	}
	return slices.ContainsFunc(d.Claims, func(c report.Claim) bool {
		_, of, _ := strings.Cut(c.Of, ".")
		return level(of) == level(quantity)
	})
}

// baseline is the first vehicle of the summary that has no change; "" without candidates.
func (d *data) baseline() string {
	changed := map[string]bool{}
	for i := range d.summary {
		if r := &d.summary[i]; strings.HasSuffix(r.Quantity, "_change") {
			changed[r.Vehicle] = true
		}
	}
	for i := range d.summary {
		if v := d.summary[i].Vehicle; v != "" && len(changed) > 0 && !changed[v] {
			return v
		}
	}
	return ""
}

// largest tells the first two quantities of the last vehicle against the baseline.
func (d *data) largest(levels []*quantity) string {
	var parts []string
	who := ""
	for _, q := range levels {
		if last := q.rows[len(q.rows)-1]; len(parts) < 2 && (who == "" || last.Vehicle == who) {
			who = last.Vehicle
			text := report.QuantityName(q.name) + " " + with(figures(&last.P05, &last.P50, &last.P95)[1], last.Unit)
			if first := q.rows[0]; first != last {
				text += " against " + figures(&first.P05, &first.P50, &first.P95)[1]
			}
			parts = append(parts, text)
		}
	}
	if who == "" {
		return "What the draws give: " + safe(report.Listed(parts)) + "."
	}
	return "<i>" + safe(who) + "</i>: " + safe(report.Listed(parts)) + "."
}

func numbersOf(all []*quantity) numbers {
	n := numbers{Head: []string{"output", "unit", "p05", "p25", "middle", "p75", "p95", "mean", "sd", "draws", "infeasible"}, Left: 2}
	for _, q := range all {
		for _, r := range q.rows {
			f := figures(&r.P05, &r.P25, &r.P50, &r.P75, &r.P95, &r.Mean)
			n.Rows = append(n.Rows, append([]string{plain(r.Output), plain(r.Unit)}, append(f, draw.Signed(report.Short(r.SD)), report.Grouped(r.Rows), report.Grouped(r.Infeasible))...))
		}
	}
	return n
}

// levelScene draws a band a quantity: its name, a bar a vehicle, an axis.
func levelScene(all []*quantity, f frame) *draw.Scene {
	width := f.width
	left, step := 190.0, 40.0
	if f.narrow() {
		left, step = 0, 52
	}
	s := &draw.Scene{Width: width, Title: "Quantities of each vehicle"}
	y := 0.0
	var about []string
	for _, q := range all {
		var ends []float64
		for _, r := range q.rows {
			ends = append(ends, r.P05, r.P50, r.P95)
		}
		scale := draw.NewScale(left+24, width-30, 0.06, ends...)
		s.Say(0, y+15, draw.Fit(capital(report.QuantityName(q.name)), draw.TextSize, 0.85*width), draw.Start, draw.Dark).Bold = true // letters that are bold are wider
		y += 24
		if len(q.rows) > mostRoomy {
			y = q.thinRows(s, y, &about)
			y += 42
			continue
		}
		for _, r := range q.rows {
			s.Say(0, y+12, draw.Fit(plain(r.Vehicle), draw.TextSize, f.names(left, 8)), draw.Start, q.ink(r))
			at := y + 8
			if f.narrow() {
				at = y + 26
			}
			about = append(about, report.QuantityName(q.name)+" of "+q.bar(s, scale, r, at))
			y += step
		}
		s.Axis(scale, y, 6, plain(q.rows[0].Unit))
		y += 42
	}
	s.Height = y - 14
	s.About = strings.Join(about, "; ") + "."
	return s
}

// mostRoomy is how many vehicles have a row with its values below it; more have thin rows.
const mostRoomy = 6

// perTalk is how many quantities go into one picture for a talk.
func perTalk(all []*quantity) int {
	if many(all) || len(all[0].rows) > 3 {
		return 1
	}
	return 2
}

func many(all []*quantity) bool {
	return slices.ContainsFunc(all, func(q *quantity) bool { return len(q.rows) > mostRoomy })
}

// thinRows draws a bar a row with the middle at the right end and an axis below, and returns where that lies.
func (q *quantity) thinRows(s *draw.Scene, y float64, about *[]string) float64 {
	const step = 22
	room := 150.0 // for names
	var values []float64
	for _, r := range q.rows {
		values = append(values, r.P05, r.P50, r.P95)
	}
	thin := draw.NewScale(room, s.Width-64, 0.04, values...)
	for _, r := range q.rows {
		s.Say(0, y+12, draw.Fit(plain(r.Vehicle), draw.TextSize, room-12), draw.Start, q.ink(r))
		f := figures(&r.P05, &r.P50, &r.P95)
		exact := q.mark(s, thin, r, y+8)
		s.Say(s.Width, y+13, f[1], draw.End, draw.Dark).Bold = true
		*about = append(*about, report.QuantityName(q.name)+" of "+exact)
		y += step
	}
	if thin.Low < 0 && thin.High > 0 {
		s.Line(thin.At(0), y-step*float64(len(q.rows)), thin.At(0), y+4, draw.Rule, 1)
	}
	s.Axis(thin, y+4, 6, plain(q.rows[0].Unit))
	return y + 4
}

// changeScene draws all changes on one axis with its zero.
func changeScene(all []*quantity, f frame) *draw.Scene {
	width := f.width
	left, step := 250.0, 44.0
	if f.narrow() {
		left, step = 0, 62
	}
	ends := []float64{0}
	for _, q := range all {
		for _, r := range q.rows {
			ends = append(ends, r.P05, r.P50, r.P95)
			if c := q.said[r.Output]; c != nil {
				ends = append(ends, *c.Announced)
			}
		}
	}
	scale := draw.NewScale(left+24, width-30, 0.05, ends...)
	s := &draw.Scene{Width: width, Title: "Changes against the baseline"}
	const above = 18 // room for what was said over the bar
	bottom := 4.0
	for _, q := range all {
		for _, r := range q.rows {
			if bottom += step; q.said[r.Output] != nil {
				bottom += above
			}
		}
	}
	s.Line(scale.At(0), 0, scale.At(0), bottom, draw.Rule, 1)
	y := 0.0
	var about []string
	for _, q := range all {
		for _, r := range q.rows {
			words := report.QuantityName(strings.TrimSuffix(q.name, "_change"))
			if len(q.rows) > 1 {
				words += ", " + plain(r.Vehicle)
			}
			at := y + 10
			if f.narrow() {
				at = y + 28
			}
			name := y + 14
			if c := q.said[r.Output]; c != nil {
				at, y = at+above, y+above
				saidOver(s, scale, c, at-15)
				if !f.narrow() {
					name += above
				}
			}
			s.Say(0, name, draw.Fit(words, draw.TextSize, f.names(left, 8)), draw.Start, draw.Dark)
			about = append(about, report.QuantityName(q.name)+" of "+q.bar(s, scale, r, at))
			y += step
		}
	}
	s.Axis(scale, bottom, 7, plain(all[0].rows[0].Unit))
	s.Height = bottom + 26
	s.About = strings.Join(about, "; ") + "."
	return s
}

// saidOver draws an announcement over the bar of what the draws give.
func saidOver(s *draw.Scene, scale draw.Scale, c *report.Claim, y float64) {
	x := scale.At(*c.Announced)
	s.Cross(x, y)
	if words := "said " + draw.Signed(c.Said()); x+9+draw.Width(words, draw.TextSize, false) < s.Width {
		s.Plate(x+11, y+5, words, draw.Start)
	} else {
		s.Plate(x-11, y+5, words, draw.End)
	}
}

// ink says baseline or candidate; a study of one vehicle has neither.
func (q *quantity) ink(r *result.SummaryRow) draw.Ink {
	switch q.base {
	case "":
		return draw.Dark
	case r.Vehicle:
		return draw.Base
	}
	return draw.Cand
}

// mark draws an interval of draws and returns it in words.
func (q *quantity) mark(s *draw.Scene, scale draw.Scale, r *result.SummaryRow, y float64) string {
	ink, f := q.ink(r), figures(&r.P05, &r.P50, &r.P95)
	exact := plain(r.Vehicle) + ": " + inDraws(f, r.Unit)
	between := func(low, high, width float64) { // unless too few draws count to say
		if low == low && high == high {
			s.Line(scale.At(low), y, scale.At(high), y, ink, width).Tip = exact
		}
	}
	between(r.P05, r.P95, 2)
	between(r.P25, r.P75, 6)
	if ink == draw.Base {
		s.Square(scale.At(r.P50), y, 5, ink).Tip = exact
	} else {
		s.Disc(scale.At(r.P50), y, 5, ink).Tip = exact
	}
	return exact
}

// bar draws an interval of draws with its values below it.
func (q *quantity) bar(s *draw.Scene, scale draw.Scale, r *result.SummaryRow, y float64) string {
	exact, f := q.mark(s, scale, r, y), figures(&r.P05, &r.P50, &r.P95)
	middle := s.Say(scale.At(r.P50), y+20, f[1], draw.Middle, draw.Dark)
	middle.Bold = true
	half := middle.Width()/2 + 8
	if x := scale.At(r.P05); f[0] != f[1] && f[0] != unknown && x < scale.At(r.P50)-half-draw.Width(f[0], draw.TextSize, false)/2 {
		s.Say(x, y+20, f[0], draw.Middle, draw.Soft)
	}
	if x := scale.At(r.P95); f[2] != f[1] && f[2] != unknown && x > scale.At(r.P50)+half+draw.Width(f[2], draw.TextSize, false)/2 {
		s.Say(x, y+20, f[2], draw.Middle, draw.Soft)
	}
	return exact
}
