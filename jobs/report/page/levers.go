package page

import (
	"fmt"
	"html/template"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// mostPulled is how many outputs get a figure of their levers.
const mostPulled = 3

// whatAUnitDoes shows what a unit of each lever, changed by itself in one vehicle, does to
// what was claimed.
func whatAUnitDoes(d *data) (section, bool) {
	s := section{ID: "levers", Label: "What a unit does"}
	outputs, vehicles := d.Pulled()
	if len(outputs) == 0 {
		return s, false
	}
	s.Heading = d.leverSentence(outputs[0], vehicles[0])
	var b strings.Builder
	for i := range outputs[:min(mostPulled, len(outputs))] {
		b.WriteString(string(d.leverFigure(outputs[i], vehicles[i])))
	}
	b.WriteString(elsewhere(len(outputs)-mostPulled, "other output", "levers.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

// pulledName is an output and the vehicle that is changed.
func pulledName(output, vehicle string) string {
	own, quantity := split(output)
	if own == vehicle {
		return fmt.Sprintf("the %s of <i>%s</i>", safe(report.QuantityName(quantity)), safe(own))
	}
	return fmt.Sprintf("<i>%s</i>, by <i>%s</i>", safe(output), safe(vehicle))
}

func (d *data) leverSentence(output, vehicle string) template.HTML {
	var said []string
	for _, l := range d.LeversOf(vehicle, output) {
		if len(said) < 3 {
			said = append(said, plain(l.Text)+" "+draw.Signed(l.SignedIn()))
		}
	}
	return template.HTML(capital(pulledName(output, vehicle)) + ": " + strings.Join(said, ", ") + ".")
}

func (d *data) leverFigure(output, vehicle string) template.HTML {
	levers := d.LeversOf(vehicle, output)
	n := numbers{Head: []string{"one change, all else held", "unit", "mean", "low", "high", "p05", "middle", "p95"}, Left: 2}
	for _, l := range levers {
		n.Rows = append(n.Rows, append([]string{plain(l.Text), unitOfLever(l)}, figures(l.Mean, l.Low, l.High, l.P05, l.P50, l.P95)...))
	}
	return d.figure(picture{Kind: "levers", Subject: output + " " + vehicle, Numbers: n, From: "levers, rows of " + plain(output),
		Caption: template.HTML("What a unit of each lever does to " + pulledName(output, vehicle) + "."),
		Note:    d.note("levers", "One thing is changed in one vehicle, by so much, all else held; machines and coast-down stay those of the car as built. A dot is the mean over the draws, a bar nine in ten of them. The units are no equals: a per cent of drag may be cheap, a kilogram dear."),
		Scene:   func(f frame) *draw.Scene { return leverScene(levers, "What a unit does to "+plain(output), f) }})
}

func unitOfLever(l *report.Lever) string {
	if l.Unit == "%" {
		return "points"
	}
	return plain(l.Unit)
}

// leverScene draws a lever a row: what is changed, a bar with its mean, the mean in figures.
func leverScene(levers []*report.Lever, title string, f frame) *draw.Scene {
	left, step := 320.0, 24.0
	if f.narrow() {
		left, step = 0, 40
	}
	s := &draw.Scene{Width: f.width, Title: title}
	ends := []float64{0}
	for _, l := range levers {
		ends = append(ends, *l.Mean)
		if l.P05 != nil && l.P95 != nil {
			ends = append(ends, *l.P05, *l.P95)
		}
	}
	scale := draw.NewScale(left+12, f.width-120, 0.04, ends...)
	bottom := step*float64(len(levers)) + 4
	s.Line(scale.At(0), 0, scale.At(0), bottom, draw.Rule, 1)
	y, room := 0.0, left-8
	if f.narrow() {
		room = f.width
	}
	var about []string
	for _, l := range levers {
		s.Plate(0, y+14, draw.Fit(plain(l.Text), draw.TextSize, room), draw.Start)
		at := y + 9
		if f.narrow() {
			at = y + 28
		}
		if l.P05 != nil && l.P95 != nil {
			s.Line(scale.At(*l.P05), at, scale.At(*l.P95), at, draw.Dark, 3)
		}
		s.Disc(scale.At(*l.Mean), at, 4, draw.Dark).Tip = plain(l.Text) + " " + draw.Signed(l.SignedIn())
		s.Say(f.width, at+5, draw.Signed(l.SignedIn()), draw.End, draw.Dark).Bold = true
		about = append(about, plain(l.Text)+" "+draw.Signed(l.SignedIn()))
		y += step
	}
	s.Axis(scale, bottom, 6, unitOfLever(levers[0]))
	s.Height = bottom + 32
	s.About = strings.Join(about, "; ") + "."
	return s
}
