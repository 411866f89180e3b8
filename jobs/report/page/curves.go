package page

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// mostCurves is how many inputs get a curve: those that matter most.
const mostCurves = 3

// A curve is the mean of an output over the classes of one input.
type curve struct {
	input   string
	classes []result.CurveRow
}

// stepwise reports whether the input has single values: its classes are points.
func (c *curve) stepwise() bool {
	return !slices.ContainsFunc(c.classes, func(r result.CurveRow) bool { return r.InputLow != r.InputHigh })
}

// curvesOf draws how the mean of an output goes with each of the inputs that matter most,
// all on one scale, with the lines of the claims that are of it.
func (d *data) curvesOf(x *report.Decides) template.HTML {
	var curves []*curve
	n := numbers{Head: []string{"input", "unit", "from", "to", "mean of " + plain(x.Output), "interval from", "to", "unit"}, Left: 2}
	for _, in := range x.Inputs {
		c := &curve{input: in.Input}
		for _, r := range d.curves[x.Output] {
			if r.Input == in.Input && r.Mean == r.Mean {
				c.classes = append(c.classes, r)
			}
		}
		if len(c.classes) < 2 || len(curves) == mostCurves {
			continue
		}
		curves = append(curves, c)
		first, last := &c.classes[0], &c.classes[len(c.classes)-1]
		byMean := func(a, b result.CurveRow) int { return compare(a.Mean, b.Mean) }
		least, most := slices.MinFunc(c.classes, byMean), slices.MaxFunc(c.classes, byMean)
		for i := range c.classes {
			r := &c.classes[i]
			f, g := figures(&first.InputLow, &r.InputLow, &r.InputHigh, &last.InputHigh), figures(&least.Mean, &most.Mean, &r.Mean, report.Known(r.Low), report.Known(r.High))
			n.Rows = append(n.Rows, []string{plain(r.Input), plain(r.InputUnit), f[1], f[2], g[2], g[3], g[4], plain(r.Unit)})
		}
	}
	if len(curves) == 0 {
		return ""
	}
	caption := "How the mean of <i>" + safe(x.Output) + "</i> goes with " + inputsThat(len(curves)) + " most; the others are as they are drawn."
	return d.figure(picture{Kind: "curves", Subject: x.Output, Caption: template.HTML(caption), From: "curves, output " + plain(x.Output),
		Note:    d.note("curves", "Draws are sorted by the input and put into classes; the line joins the means of the classes, the wash around it is the interval of each mean, an estimate. An input of single values has dots with whiskers. Many draws lie farther from the line than the wash does."),
		Numbers: n, Scene: func(f frame) *draw.Scene { return d.curveScene(x, curves, f) }})
}

func inputsThat(n int) string {
	if n == 1 {
		return "the input that moves it"
	}
	return "the " + report.Count(n) + " inputs that move it"
}

// curveScene sets the curves beside one another, on a narrow page below one another.
func (d *data) curveScene(x *report.Decides, curves []*curve, f frame) *draw.Scene {
	s := &draw.Scene{Width: f.width, Title: "Mean of " + plain(x.Output) + " over its inputs"}
	const left, gap, field = 62.0, 26.0, 170.0
	panel := (f.width - left - 6 - gap*float64(len(curves)-1)) / float64(len(curves))
	if f.narrow() {
		panel = f.width - left - 6
	}
	lines := d.claimLines(x)
	var ends []float64
	for _, l := range lines {
		ends = append(ends, l.at)
	}
	for _, c := range curves {
		for _, r := range c.classes {
			ends = append(ends, r.Mean, r.Low, r.High)
		}
	}
	y := 0.0
	var about []string
	s.Say(0, 12, draw.Fit("mean of "+plain(x.Output), draw.TextSize, f.width), draw.Start, draw.Soft)
	y += 26
	from := left
	for i, c := range curves {
		to := from + panel
		up := draw.NewScale(y+field, y, 0.05, ends...)
		if i == 0 || f.narrow() {
			s.AxisUp(up, from, to, 5, plain(x.Unit))
		} else {
			for _, t := range up.Ticks(5) {
				s.Line(from, up.At(t), to, up.At(t), draw.Hair, 1)
			}
		}
		about = append(about, c.draw(s, up, from, to, y+field))
		for k, l := range lines {
			s.Line(from, up.At(l.at), to, up.At(l.at), draw.Dark, 1.2).Dash = draw.Dash
			if i == 0 || f.narrow() {
				c.nameLine(s, up, from, to, l, k%2 == 1)
			}
		}
		if s.Height = y + field + 46; f.narrow() {
			y += field + 66
		} else {
			from = to + gap
		}
	}
	s.About = strings.Join(about, "; ") + "."
	return s
}

// nameLine names a claim's line at the end where the curve is farther from it, on the side
// where the curve is not; a second line's name goes to the other end.
func (c *curve) nameLine(s *draw.Scene, up draw.Scale, from, to float64, l claimLine, other bool) {
	first, last := c.classes[0].Mean-l.at, c.classes[len(c.classes)-1].Mean-l.at
	off, x, anchor := first, from+2, draw.Start
	if math.Abs(last) > math.Abs(first) != other {
		off, x, anchor = last, to-2, draw.End
	}
	words := draw.Fit(l.words, draw.TextSize, to-from-4)
	if off > 0 {
		s.Say(x, up.At(l.at)+17, words, anchor, draw.Dark)
	} else {
		s.Say(x, up.At(l.at)-6, words, anchor, draw.Dark)
	}
}

// draw draws one curve over its axis and returns it in words.
func (c *curve) draw(s *draw.Scene, up draw.Scale, from, to, bottom float64) string {
	var ends []float64
	for _, r := range c.classes {
		ends = append(ends, r.InputMid)
	}
	along := draw.NewScale(from+4, to-4, 0.02, ends...)
	var line, band []draw.Point
	for i := range c.classes {
		r := &c.classes[i]
		line = append(line, draw.Point{X: along.At(r.InputMid), Y: up.At(r.Mean)})
	}
	known := !slices.ContainsFunc(c.classes, func(r result.CurveRow) bool { return math.IsNaN(r.Low) || math.IsNaN(r.High) })
	switch {
	case c.stepwise():
		for i, r := range c.classes {
			if r.Low == r.Low && r.High == r.High {
				s.Line(line[i].X, up.At(r.Low), line[i].X, up.At(r.High), draw.Soft, 1.4)
			}
			s.Disc(line[i].X, line[i].Y, 4.5, draw.Dark).Tip = c.tip(i)
		}
	default:
		if known {
			for _, r := range c.classes {
				band = append(band, draw.Point{X: along.At(r.InputMid), Y: up.At(r.High)})
			}
			for _, r := range slices.Backward(c.classes) {
				band = append(band, draw.Point{X: along.At(r.InputMid), Y: up.At(r.Low)})
			}
			s.Area(band, draw.Hair)
		}
		s.Curve(line, draw.Dark, 2)
		for i := range line {
			at := s.Disc(line[i].X, line[i].Y, 2.4, draw.Dark)
			at.Stroke, at.Tip = draw.None, c.tip(i)
		}
	}
	s.Axis(along, bottom, 4, plain(c.classes[0].InputUnit))
	s.Say((from+to)/2, bottom+38, draw.Fit(plain(c.input), draw.TextSize, to-from+20), draw.Middle, draw.Dark)
	return c.tip(0) + " to " + c.tip(len(c.classes)-1)
}

func (c *curve) tip(i int) string {
	r, first, last := &c.classes[i], &c.classes[0], &c.classes[len(c.classes)-1]
	in, mean := figures(&first.InputLow, &r.InputMid, &last.InputHigh)[1], figures(report.Known(r.Low), &r.Mean, report.Known(r.High))[1]
	return fmt.Sprintf("%s %s: mean %s", plain(c.input), with(in, r.InputUnit), with(mean, r.Unit))
}

// A claimLine is the limit of a claim in the unit of its quantity's table.
type claimLine struct {
	at    float64
	words string
}

// claimLines are the limits of the claims that are of an output.
func (d *data) claimLines(x *report.Decides) []claimLine {
	var lines []claimLine
	for i := range d.Claims {
		c := &d.Claims[i]
		if c.Of != x.Output || c.Limit == nil || !d.drawnOf(c) {
			continue
		}
		row := d.rows[c.Of]
		factor := (row.P95 - row.P05) / (*c.Seen.P95 - *c.Seen.P05)
		lines = append(lines, claimLine{row.P05 + factor*(*c.Limit-*c.Seen.P05), plain(c.Name) + " tested"})
	}
	return lines
}
