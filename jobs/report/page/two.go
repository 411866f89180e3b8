package page

import (
	"fmt"
	"html/template"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/sensitivity/claim"
)

// fitted is how many draws the line of a scatter is laid through.
const fitted = 20_000

// A scatter is a claim over the two inputs that differ most where it holds and fails.
type scatter struct {
	c      *report.Claim
	x, y   report.Where
	px, py []float64
	holds  []float64    // 1, 0, NaN: can't be said
	plane  *claim.Plane // nil: none could be laid
	step   int
}

// two draws the draws of a claim over its two inputs that differ most; nothing where there
// are no two, or the draws were not kept.
func (d *data) two(c *report.Claim) template.HTML {
	if len(c.Where) < 2 {
		return ""
	}
	p := scatter{c: c, x: c.Where[0], y: c.Where[1]}
	columns, step := d.every(fewPoints, p.x.Input, p.y.Input, c.Name)
	if step == 0 {
		return ""
	}
	p.px, p.py, p.holds, p.step = columns[0], columns[1], columns[2], step
	if all, k := d.every(fitted, p.x.Input, p.y.Input, c.Name+"_margin"); k > 0 {
		if plane, ok := claim.Through(all[0], all[1], all[2]); ok {
			p.plane = &plane
		}
	}
	n := numbers{Head: []string{"what", "value"}, Left: 1}
	held, failed := p.count()
	n.Rows = [][]string{{"draws shown in which it holds", report.Grouped(held)}, {"draws shown in which it fails", report.Grouped(failed)}}
	caption := fmt.Sprintf("<i>%s</i> over the two inputs that differ most where it holds and fails", safe(c.Name))
	if p.plane != nil && p.plane.Explained > 0 {
		caption += fmt.Sprintf("; the dashed line is where the two alone make it even, and they account for %s of how far inside or outside it a draw lies", percent(&p.plane.Explained))
		row := func(what string, v float64) { n.Rows = append(n.Rows, []string{what, report.Short(v)}) }
		row("margin of the plane where both inputs are nil", p.plane.At)
		row("its change for each unit of "+plain(p.x.Input), p.plane.X)
		row("its change for each unit of "+plain(p.y.Input), p.plane.Y)
		row("share of the margin's spread that the plane accounts for", p.plane.Explained)
	}
	return d.figure(picture{Kind: "two", Subject: c.Name, Caption: template.HTML(caption + "." + beyond(p.px, p.py)), From: fmt.Sprintf("samples, %s", oneIn(step)),
		Note:    d.note("two", "A point is a draw: a disc where the claim holds, a hollow lozenge where it fails. Where they mix, other inputs decide too."),
		Numbers: n, Scene: p.scene})
}

func (p *scatter) count() (held, failed int64) {
	for _, h := range p.holds {
		switch h {
		case 1:
			held++
		case 0:
			failed++
		}
	}
	return held, failed
}

func (p *scatter) scene(f frame) *draw.Scene {
	s := &draw.Scene{Width: f.width, Title: plain(p.c.Name) + " over two inputs"}
	left, top, field := 72.0, 28.0, 290.0
	if f.narrow() {
		left, field = 58, 250
	}
	if f.talk {
		field = 212
	}
	bottom := top + field
	sx, sy := draw.NewScale(left, f.width-8, 0.03, ends(p.px)...), draw.NewScale(bottom, top, 0.03, ends(p.py)...)
	s.AxisUp(sy, sx.From, sx.To, 6, plain(p.y.Unit))
	s.Say(0, 12, draw.Fit(plain(p.y.Input), draw.TextSize, f.width), draw.Start, draw.Soft)
	var holds []draw.Point
	for i, h := range p.holds {
		x, y := sx.At(p.px[i]), sy.At(p.py[i])
		if !sx.Holds(p.px[i]) || !sy.Holds(p.py[i]) {
			continue
		}
		switch h {
		case 1:
			holds = append(holds, draw.Point{X: x, Y: y})
		case 0:
			s.Lozenge(x, y, 3.6, draw.Ground, draw.Rule)
		}
	}
	s.Dots(holds, 2.6, draw.Dark)
	p.even(s, sx, sy)
	s.Axis(sx, bottom, 7, plain(p.x.Unit))
	s.Say((sx.From+sx.To)/2, bottom+38, draw.Fit(plain(p.x.Input), draw.TextSize, f.width-left), draw.Middle, draw.Soft)
	s.Height = bottom + 46
	held, failed := p.count()
	s.About = fmt.Sprintf("Of the draws shown %d hold the claim and %d do not.", held, failed)
	return s
}

// even draws the line on which the plane is nil, as far as it crosses the field, and names
// its sides.
func (p *scatter) even(s *draw.Scene, sx, sy draw.Scale) {
	if p.plane == nil {
		return
	}
	var ends []draw.Point
	add := func(x, y float64) {
		if sx.Holds(x) && sy.Holds(y) && len(ends) < 2 {
			ends = append(ends, draw.Point{X: sx.At(x), Y: sy.At(y)})
		}
	}
	if p.plane.Y != 0 {
		add(sx.Low, -(p.plane.At+p.plane.X*sx.Low)/p.plane.Y)
		add(sx.High, -(p.plane.At+p.plane.X*sx.High)/p.plane.Y)
	}
	if p.plane.X != 0 {
		add(-(p.plane.At+p.plane.Y*sy.Low)/p.plane.X, sy.Low)
		add(-(p.plane.At+p.plane.Y*sy.High)/p.plane.X, sy.High)
	}
	if len(ends) < 2 {
		return
	}
	s.Curve(ends, draw.Dark, 1.6).Dash = draw.Dash
	corners := map[bool]bool{}
	for _, corner := range []struct {
		x, y   float64
		px, py float64
		anchor draw.Anchor
	}{{sx.High, sy.High, sx.To, sy.To + 4, draw.End}, {sx.Low, sy.High, sx.From + 4, sy.To + 4, draw.Start},
		{sx.High, sy.Low, sx.To, sy.From - 6, draw.End}, {sx.Low, sy.Low, sx.From + 4, sy.From - 6, draw.Start}} {
		inside := p.plane.At+p.plane.X*corner.x+p.plane.Y*corner.y > 0
		if corners[inside] {
			continue
		}
		corners[inside] = true
		words := map[bool]string{true: "rather holds", false: "rather fails"}[inside]
		s.Plate(corner.px, corner.py, words, corner.anchor)
	}
}
