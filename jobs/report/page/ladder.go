package page

import (
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// rungWords are what the rungs of a ladder, and the rows of ranges, are called.
var rungWords = map[string]string{
	"cell_specific_energy": "cell", "pack_specific_energy": "pack", "net_specific_energy": "pack, net of the body it replaces",
	"cell_energy_density": "cell", "pack_energy_density": "pack",
	"label_range": "US label", "label_city_range": "US label, city", "label_highway_range": "US label, highway", "wltc_range": "WLTC",
}

// ladders draw what a kilogram and a litre hold, from cell to pack to pack net of the body
// that it replaces.
func (d *data) ladders() template.HTML {
	var b strings.Builder
	for _, x := range []struct {
		figure, subject, caption string
		order                    []string
	}{
		{"ladder", "mass", "What a kilogram holds, from cell to pack to pack less the body that it replaces.", []string{"cell_specific_energy", "pack_specific_energy", "net_specific_energy"}},
		{"volume ladder", "volume", "What a litre holds, from cell to pack.", []string{"cell_energy_density", "pack_energy_density"}},
	} {
		rungs := inOrderOf(d.shown(x.figure), x.order)
		if n := len(rungs); n > 1 && sameMiddles(rungs[n-2], rungs[n-1]) { // no body is said to be replaced
			rungs = rungs[:n-1]
		}
		if len(rungs) > 1 {
			b.WriteString(string(d.figure(picture{Kind: "ladder", Subject: x.subject, Caption: template.HTML(x.caption), From: fromInside, Numbers: insideNumbers(rungs),
				Scene: func(f frame) *draw.Scene { return rungScene("Ladder by "+x.subject, rungs, true, f) }})))
		}
	}
	return template.HTML(b.String())
}

// sameMiddles reports whether two quantities are the same of each vehicle.
func sameMiddles(a, b *quantity) bool {
	return len(a.rows) == len(b.rows) && !slices.ContainsFunc(a.rows, func(r *result.SummaryRow) bool {
		other := rowOf([]*quantity{b}, b.name, r.Vehicle)
		return other == nil || other.P50 != r.P50
	})
}

// ranges draws the range over each test, a vehicle a bar, all on one axis.
func (d *data) ranges() template.HTML {
	rows := inOrderOf(d.shown("ranges"), []string{"label_city_range", "label_range", "label_highway_range", "wltc_range"})
	if len(rows) < 2 {
		return ""
	}
	return d.figure(picture{Kind: "ranges", Caption: "Range by test, on one axis; a level is much less sure than a gain.", From: fromInside, Numbers: insideNumbers(rows),
		Scene: func(f frame) *draw.Scene { return rungScene("Range by test", rows, false, f) }})
}

// inOrderOf puts quantities into this order and leaves others out.
func inOrderOf(all []*quantity, names []string) []*quantity {
	var ordered []*quantity
	for _, name := range names {
		if at := slices.IndexFunc(all, func(q *quantity) bool { return q.name == name }); at >= 0 {
			ordered = append(ordered, all[at])
		}
	}
	return ordered
}

// rungScene draws quantities of one unit one below another on one axis, a vehicle a row;
// where they are rungs of a ladder each vehicle's marks are joined down.
func rungScene(title string, rungs []*quantity, joined bool, f frame) *draw.Scene {
	left, row := 150.0, 24.0
	if f.narrow() {
		left = 100
	}
	s := &draw.Scene{Width: f.width, Title: title}
	var ends []float64
	for _, q := range rungs {
		for _, r := range q.rows {
			ends = append(ends, r.P05, r.P50, r.P95)
		}
	}
	scale := draw.NewScale(left, f.width-58, 0.04, ends...)
	type place struct {
		x, y float64
		ink  draw.Ink
	}
	last := map[string]place{}
	type laid struct {
		q *quantity
		r *result.SummaryRow
		y float64
	}
	var marks []laid
	var titles []func()
	y := 0.0
	for _, q := range rungs {
		title := y + 13
		titles = append(titles, func() { // over the lines that join marks
			s.Plate(0, title, draw.Fit(rungWords[q.name], draw.TextSize, f.width), draw.Start).Bold = true
		})
		y += 22
		for _, r := range q.rows {
			at := place{scale.At(r.P50), y + row/2, q.ink(r)}
			if before, ok := last[r.Vehicle]; ok && joined && len(q.rows) <= mostRoomy {
				s.Line(before.x, before.y, at.x, at.y, at.ink, 1)
			}
			last[r.Vehicle] = at
			marks = append(marks, laid{q, r, at.y})
			y += row
		}
		y += 8
	}
	var about []string
	for _, title := range titles {
		title()
	}
	for _, m := range marks {
		s.Say(0, m.y+5, draw.Fit(plain(m.r.Vehicle), draw.TextSize, left-12), draw.Start, m.q.ink(m.r))
		exact := m.q.mark(s, scale, m.r, m.y)
		right := scale.At(m.r.P50) + 6
		if m.r.P95 == m.r.P95 {
			right = max(right, scale.At(m.r.P95))
		}
		s.Say(right+7, m.y+5, figures(&m.r.P05, &m.r.P50, &m.r.P95)[1], draw.Start, draw.Dark).Bold = true
		about = append(about, rungWords[m.q.name]+", "+exact)
	}
	s.Axis(scale, y, 6, plain(rungs[0].rows[0].Unit))
	s.Height = y + 26
	s.About = strings.Join(about, "; ") + "."
	return s
}
