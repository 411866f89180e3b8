package page

import (
	"fmt"
	"html/template"
	"strings"

	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// mostDrawn is how many vehicles get a drawing to scale.
const mostDrawn = 2

// A layer is a sheet of the pack's cut, from above.
type layer struct {
	words string
	row   *result.SummaryRow
	ink   draw.Ink
}

// layers draws a cut through each pack whose layers the study states, to one scale.
func (d *data) layers() template.HTML {
	all, field := d.shown("layers"), d.shown("field")
	var b strings.Builder
	known := 0
	for _, v := range d.insideVehicles() {
		cell, bond, sheet := rowOf(all, "cell_height", v), rowOf(all, "bond_thickness", v), rowOf(all, "face_sheet_thickness", v)
		if cell == nil || !(positive(bond) || positive(sheet)) {
			continue
		}
		if known++; known > mostDrawn {
			continue
		}
		var stack []layer
		add := func(words string, r *result.SummaryRow, ink draw.Ink) {
			if positive(r) {
				stack = append(stack, layer{words, r, ink})
			}
		}
		add("face sheet", sheet, draw.Dark)
		add("bond line", bond, draw.Rule)
		add("cells", cell, draw.None)
		add("bond line", bond, draw.Rule)
		add("face sheet", sheet, draw.Dark)
		add("rest of the height", rowOf(all, "pack_other_height", v), draw.Wash)
		var rows []*quantity
		for _, q := range append(all, field...) {
			for _, r := range q.rows {
				if r.Vehicle == v && q.name != "layout" {
					rows = append(rows, &quantity{name: q.name, rows: []*result.SummaryRow{r}})
				}
			}
		}
		diameter, pitch := rowOf(field, "cell_diameter", v), rowOf(field, "cell_pitch", v)
		if d.flat(v) {
			diameter, pitch = rowOf(d.shown(flatField), "cell_side_along_row", v), rowOf(d.shown(flatField), "pitch_along_row", v)
		}
		b.WriteString(string(d.figure(picture{Kind: "layers", Subject: v, Caption: template.HTML("A cut through the pack of <i>" + safe(v) + "</i>, to one scale both ways; layers at the middle of the draws."), From: fromInside,
			Numbers: insideNumbers(rows), Scene: func(f frame) *draw.Scene { return layerScene(v, stack, diameter, pitch, f) }})))
	}
	b.WriteString(elsewhere(known-mostDrawn, "other vehicle", "inside.parquet"))
	return template.HTML(b.String())
}

func positive(r *result.SummaryRow) bool { return r != nil && r.P50 > 0 }

func layerScene(vehicle string, stack []layer, diameter, pitch *result.SummaryRow, f frame) *draw.Scene {
	const least = 1.2
	words := 210.0
	if f.narrow() {
		words = 168
	}
	wide := f.width - words - 26
	total := 0.0
	for _, l := range stack {
		total += l.row.P50
	}
	scale := 170 / total // units a mm
	s := &draw.Scene{Width: f.width, Title: "Layers of the pack of " + plain(vehicle)}
	y := 6.0
	var marks []float64
	var about []string
	for _, l := range stack {
		high := max(l.row.P50*scale, least)
		f := figures(&l.row.P05, &l.row.P50, &l.row.P95)
		tip := l.words + ": " + inDraws(f, l.row.Unit)
		switch {
		case l.ink == draw.None && diameter != nil && pitch != nil && pitch.P50*scale > 3:
			cellRow(s, 1, y, wide, high, diameter.P50*scale, pitch.P50*scale)
			s.Box(1, y, wide, high, draw.None, draw.None).Tip = tip
		case l.ink == draw.None:
			s.Box(1, y, wide, high, draw.Wash, draw.Rule).Tip = tip
		default:
			s.Box(1, y, wide, high, l.ink, draw.None).Tip = tip
		}
		marks = append(marks, y+high/2)
		y += high
		about = append(about, l.words+" "+thickness(l.row))
	}
	bottom := y
	// names beside their layers, moved apart where these are thin
	places := make([]float64, len(marks))
	for i := range marks {
		places[i] = marks[i] + 5
		if i > 0 {
			places[i] = max(places[i], places[i-1]+17)
		}
	}
	for i := len(places) - 1; i >= 0; i-- {
		limit := max(bottom, 17*float64(len(places))) + 4 - 17*float64(len(places)-1-i)
		places[i] = min(places[i], limit)
	}
	for i, l := range stack {
		x := wide + 26
		s.Curve([]draw.Point{{X: wide + 2, Y: marks[i]}, {X: x - 4, Y: places[i] - 5}}, draw.Rule, 1)
		s.Say(x, places[i], draw.Fit(l.words+" "+thickness(l.row), draw.TextSize, words), draw.Start, draw.Dark)
		y = max(y, places[i])
	}
	s.Height = scaleBar(s, y+16, scale, wide)
	s.About = plain(vehicle) + ", from above: " + strings.Join(about, ", ") + "."
	return s
}

func thickness(r *result.SummaryRow) string {
	return with(figures(&r.P05, &r.P50, &r.P95)[1], r.Unit)
}

// cellRow draws standing cells side by side; the last is cut off.
func cellRow(s *draw.Scene, x, y, wide, high, diameter, pitch float64) {
	for at := x + (pitch-diameter)/2; at < x+wide; at += pitch {
		s.Box(at, y, min(diameter, x+wide-at), high, draw.Wash, draw.Rule)
	}
}

// scaleBar draws a round length and returns where the drawing ends.
func scaleBar(s *draw.Scene, y, unitsAMillimetre, wide float64) float64 {
	length := 1.0
	for _, l := range []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000} {
		if l*unitsAMillimetre <= min(wide, 160) {
			length = l
		}
	}
	long := length * unitsAMillimetre
	s.Line(1, y, 1+long, y, draw.Dark, 1.4)
	s.Line(1, y-4, 1, y+4, draw.Dark, 1.4)
	s.Line(1+long, y-4, 1+long, y+4, draw.Dark, 1.4)
	s.Say(1+long+8, y+5, fmt.Sprintf("%.0f\u00a0mm", length), draw.Start, draw.Soft)
	return y + 10
}
