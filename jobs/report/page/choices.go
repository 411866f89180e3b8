package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// most choices that are drawn, and that a list shows.
const mostOff, mostRanked = 2000, 12

// ofChoice keeps what is of the choice that the answer is about, and reads the others'
// figures.
func (d *data) ofChoice() (err error) {
	if d.Choices == nil {
		return nil
	}
	told := d.Choices.Told
	for i := range d.manifest.Rounds {
		r := &d.manifest.Rounds[i]
		r.Slices = slices.DeleteFunc(slices.Clone(r.Slices), func(s result.SliceFile) bool { return int(s.Choice) != told })
	}
	if d.chosen, _, err = result.ReadChoices(d.folder, d.manifest); err == nil {
		report.ShowChoices(d.chosen, d.units)
	}
	return err
}

// whatToChoose is what came of the designer's choices.
func whatToChoose(d *data) (section, bool) {
	c := d.Choices
	if c == nil {
		return section{}, false
	}
	s := section{ID: "choices", Label: "Choices", Heading: template.HTML(safe(c.Counted()))}
	var body strings.Builder
	if text := c.BestTold(); text != "" {
		fmt.Fprintf(&body, "<p>%s</p>", safe(text))
	}
	if len(c.Asked.Front) > 0 {
		fmt.Fprintf(&body, "<p>%s</p>", safe(c.FrontTold()))
		body.WriteString(string(d.front()))
	} else if c.Asked.Best != nil && len(c.Best) > 0 {
		body.WriteString(string(d.ranked()))
	}
	fmt.Fprintf(&body, "<p>All that follows is of choice %d.</p>", c.Told)
	s.Body = template.HTML(body.String())
	return s, true
}

// mark is a choice as a figure shows it: its two figures, and what it is.
type mark struct {
	number int64
	chosen string
	word   string // yes, maybe, no
	x, y   result.Estimate
}

// front draws every choice over the first two aims, those on the front with intervals.
func (d *data) front() template.HTML {
	aims := d.Choices.Asked.Front
	fx, fy := d.chosenFigure(aims[0].Column), d.chosenFigure(aims[1].Column)
	if fx < 0 || fy < 0 {
		return ""
	}
	var marks []mark
	n := numbers{Head: []string{"choice", "on the front", "rows", aims[0].Head(d.chosen.Figures[fx].Unit), "from", "to", aims[1].Head(d.chosen.Figures[fy].Unit), "from", "to"}, Left: 2}
	for i := range d.chosen.Rows {
		r := &d.chosen.Rows[i]
		if len(marks) < mostOff || r.Front != "no" {
			marks = append(marks, mark{r.Choice, r.Chosen, r.Front, r.Figures[fx], r.Figures[fy]})
		}
		if x, y := r.Figures[fx], r.Figures[fy]; r.Front != "no" {
			n.Rows = append(n.Rows, append([]string{fmt.Sprintf("%d: %s", r.Choice, plain(r.Chosen)), r.Front, report.Grouped(r.Rows)},
				append(figures(&x.Value, &x.Low, &x.High), figures(&y.Value, &y.Low, &y.High)...)...))
		}
	}
	left := len(d.chosen.Rows) - len(marks)
	caption := "Every choice by its first two aims"
	if left > 0 {
		caption = "Choices by their first two aims"
	}
	if len(aims) > 2 {
		caption += fmt.Sprintf(" of %d", len(aims))
	}
	return d.figure(picture{Kind: "choices", Subject: "front", From: "choices", Numbers: n, Caption: template.HTML(safe(caption) + "."),
		Note: d.note("choices", "A point is a choice. A disc is surely on the front: no other choice is better in every aim. A ring may be on it, as far as sampling tells. Lines are the intervals of its figures, which are sampling error alone; a small dot is surely off."),
		Scene: func(f frame) *draw.Scene {
			return frontScene(marks, aims, d.chosen.Figures[fx].Unit, d.chosen.Figures[fy].Unit, f)
		}}) + template.HTML(elsewhere(left, "other choice", "choices.parquet"))
}

func (d *data) chosenFigure(column string) int {
	return slices.IndexFunc(d.chosen.Figures, func(c result.Column) bool { return c.Name == column })
}

func frontScene(marks []mark, aims []report.ChoiceAim, ux, uy string, f frame) *draw.Scene {
	s := &draw.Scene{Width: f.width, Title: "Choices by their first two aims"}
	left, top, field := 72.0, 28.0, 290.0
	if f.narrow() {
		left, field = 58, 250
	}
	bottom := top + field
	var xs, ys []float64
	on, maybe := 0, 0
	for _, m := range marks {
		xs, ys = append(xs, m.x.Value), append(ys, m.y.Value)
		if m.word != "no" {
			xs, ys = append(xs, m.x.Low, m.x.High), append(ys, m.y.Low, m.y.High)
		}
	}
	sx, sy := draw.NewScale(left, f.width-8, 0.04, xs...), draw.NewScale(bottom, top, 0.04, ys...)
	s.AxisUp(sy, sx.From, sx.To, 6, uy)
	s.Say(0, 12, draw.Fit(aims[1].Told(), draw.TextSize, f.width), draw.Start, draw.Soft)
	var off []draw.Point
	for _, m := range marks {
		if m.word == "no" && m.x.Value == m.x.Value && m.y.Value == m.y.Value {
			off = append(off, draw.Point{X: sx.At(m.x.Value), Y: sy.At(m.y.Value)})
		}
	}
	s.Dots(off, 2, draw.Rule)
	for _, m := range marks {
		if m.word == "no" || m.x.Value != m.x.Value || m.y.Value != m.y.Value {
			continue
		}
		x, y := sx.At(m.x.Value), sy.At(m.y.Value)
		if m.x.Low == m.x.Low && m.x.High == m.x.High {
			s.Line(sx.At(m.x.Low), y, sx.At(m.x.High), y, draw.Soft, 1.2)
		}
		if m.y.Low == m.y.Low && m.y.High == m.y.High {
			s.Line(x, sy.At(m.y.Low), x, sy.At(m.y.High), draw.Soft, 1.2)
		}
		tip := fmt.Sprintf("choice %d: %s; %s, %s", m.number, plain(m.chosen), with(report.Short(m.x.Value), ux), with(report.Short(m.y.Value), uy))
		if m.word == "yes" {
			on++
			s.Disc(x, y, 4.5, draw.Dark).Tip = tip
		} else {
			maybe++
			s.Ring(x, y, 4, draw.Dark).Tip = tip
		}
	}
	s.Axis(sx, bottom, 7, ux)
	s.Say((sx.From+sx.To)/2, bottom+38, draw.Fit(aims[0].Told(), draw.TextSize, f.width-left), draw.Middle, draw.Soft)
	s.Height = bottom + 46
	s.About = fmt.Sprintf("Of the choices drawn %d are surely on the front, %d may be, %d are off.", on, maybe, len(off))
	return s
}

// ranked draws the choices that may be the best, the leading one first, with intervals.
func (d *data) ranked() template.HTML {
	aim := *d.Choices.Asked.Best
	shown := d.Choices.Best[:min(len(d.Choices.Best), mostRanked)]
	unit := shown[0].Figure(aim.Column).Unit
	n := numbers{Head: []string{"choice", "best", aim.Head(unit), "from", "to"}, Left: 2}
	for i := range shown {
		g := shown[i].Figure(aim.Column)
		n.Rows = append(n.Rows, append([]string{fmt.Sprintf("%d: %s", shown[i].Number, plain(shown[i].Chosen)), shown[i].Best}, figures(g.Value, g.Low, g.High)...))
	}
	return d.figure(picture{Kind: "choices", Subject: "best", From: "choices", Numbers: n,
		Caption: template.HTML(safe(fmt.Sprintf("The choices that may be the best by %s, the leading one first.", aim.Told()))),
		Note:    d.note("choices", "A point is a choice, the line its interval, which is sampling error alone. Choices saw the same draws, so that two may differ for sure though their intervals overlap."),
		Scene:   func(f frame) *draw.Scene { return rankedScene(shown, aim, unit, f) }}) +
		template.HTML(elsewhere(d.Choices.BestCount-len(shown), "other choice", "choices.parquet"))
}

func rankedScene(shown []report.Choice, aim report.ChoiceAim, unit string, f frame) *draw.Scene {
	s := &draw.Scene{Width: f.width, Title: "Choices that may be the best"}
	var values []float64
	add := func(v *float64) {
		if v != nil {
			values = append(values, *v)
		}
	}
	for i := range shown {
		g := shown[i].Figure(aim.Column)
		add(g.Value)
		add(g.Low)
		add(g.High)
	}
	left := f.width * 0.45
	scale := draw.NewScale(left, f.width-8, 0.05, values...)
	y := 14.0
	for i := range shown {
		g := shown[i].Figure(aim.Column)
		s.Say(0, y+4, draw.Fit(fmt.Sprintf("%d: %s", shown[i].Number, plain(shown[i].Chosen)), draw.TextSize, left-10), draw.Start, draw.Dark)
		if g.Low != nil && g.High != nil {
			s.Line(scale.At(*g.Low), y, scale.At(*g.High), y, draw.Soft, 1.6)
		}
		if g.Value != nil {
			s.Disc(scale.At(*g.Value), y, 4.5, draw.Dark).Tip = with(report.Short(*g.Value), unit)
		}
		y += 24
	}
	s.Axis(scale, y, 6, unit)
	s.Height = y + 40
	s.About = fmt.Sprintf("%d choices by %s; first is choice %d.", len(shown), aim.Told(), shown[0].Number)
	return s
}
