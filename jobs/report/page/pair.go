package page

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// A pair is what was announced of two quantities of one vehicle, as one point among the
// draws.
type pair struct {
	x, y    *report.Claim
	px, py  []float64 // some of the draws, in the announcements' units
	holds   []bool    // both claims, in these draws
	alone   float64   // change of y for each unit of x by mass alone; NaN: not known
	vehicle string
	step    int
}

// mostPairs is how many vehicles get a figure of their pair.
const mostPairs = 2

// pairs draws, of each vehicle of whose mass and range something was announced, both at
// once; of other studies the first two announced quantities.
func (d *data) pairs() template.HTML {
	var b strings.Builder
	all := d.announcedPairs()
	for _, p := range all[:min(len(all), mostPairs)] {
		columns, step := d.every(mostPoints, p.x.Of, p.y.Of, p.x.Name, p.y.Name)
		if step == 0 {
			continue
		}
		p.step = step
		p.px, p.py = scaled(columns[0], d.inAnnounced(p.x)), scaled(columns[1], d.inAnnounced(p.y))
		p.holds = make([]bool, len(p.px))
		for i := range p.holds {
			p.holds[i] = columns[2][i] == 1 && columns[3][i] == 1
		}
		p.alone = d.massAlone(p)
		b.WriteString(string(d.figure(p.picture(d))))
	}
	b.WriteString(elsewhere(len(all)-mostPairs, "other vehicle", "claims.parquet and the samples"))
	return template.HTML(b.String())
}

func (d *data) announcedPairs() []*pair {
	of := map[string][]*report.Claim{}
	var vehicles []string
	for i := range d.Claims {
		c := &d.Claims[i]
		if !d.drawnOf(c) {
			continue
		}
		vehicle, _ := split(c.Of)
		if of[vehicle] == nil {
			vehicles = append(vehicles, vehicle)
		}
		of[vehicle] = append(of[vehicle], c)
	}
	var pairs []*pair
	for _, v := range vehicles {
		all := of[v]
		x, y := named(all, "mass"), named(all, "range")
		if d.model != "vehicle" && len(all) > 1 {
			x, y = all[0], all[1]
		}
		if x != nil && y != nil && x.Of != y.Of {
			pairs = append(pairs, &pair{x: x, y: y, vehicle: v})
		}
	}
	return pairs
}

// named is the first claim of a change whose quantity has this word in it.
func named(claims []*report.Claim, word string) *report.Claim {
	at := slices.IndexFunc(claims, func(c *report.Claim) bool {
		_, quantity := split(c.Of)
		return strings.HasSuffix(quantity, "_change") && slices.Contains(strings.Split(quantity, "_"), word)
	})
	if at < 0 {
		return nil
	}
	return claims[at]
}

// massAlone is the slope of the line of mass alone, from the middles of the tables.
func (d *data) massAlone(p *pair) float64 {
	row := rowOf(d.shown("pair"), "range_change_from_mass_alone", p.vehicle)
	if row == nil || row.Unit != p.y.Unit || !strings.HasSuffix(p.y.Of, ".label_range_change") || *p.x.Seen.P50 == 0 {
		return math.NaN()
	}
	return row.P50 / *p.x.Seen.P50
}

func (p *pair) words(c *report.Claim) string {
	_, quantity := split(c.Of)
	return report.QuantityName(quantity)
}

// level is what a claim of a change is about.
func level(c *report.Claim) string {
	_, quantity := split(c.Of)
	return report.QuantityName(strings.TrimSuffix(quantity, "_change"))
}

// oneIn says which draws a cloud shows.
func oneIn(step int) string {
	if step == 1 {
		return "every draw"
	}
	return fmt.Sprintf("one draw in %d", step)
}

func (p *pair) picture(d *data) picture {
	both := 0
	for _, h := range p.holds {
		if h {
			both++
		}
	}
	n := numbers{Head: []string{"what", p.words(p.x), "unit", p.words(p.y), "unit"}, Left: 1}
	row := func(what string, of func(*report.Claim) *float64) {
		x, y := of(p.x), of(p.y)
		if x != nil || y != nil {
			n.Rows = append(n.Rows, []string{what, figures(p.x.Seen.P05, x, p.x.Seen.P95)[1], plain(p.x.Unit), figures(p.y.Seen.P05, y, p.y.Seen.P95)[1], plain(p.y.Unit)})
		}
	}
	said := func(what string, of func(*report.Claim) *float64) {
		x, y := of(p.x), of(p.y)
		if x != nil || y != nil {
			n.Rows = append(n.Rows, []string{what, stated(x), plain(p.x.Unit), stated(y), plain(p.y.Unit)})
		}
	}
	said("announced", func(c *report.Claim) *float64 { return c.Announced })
	said("rounded to", func(c *report.Claim) *float64 { return c.RoundedTo })
	said("tested limit", func(c *report.Claim) *float64 { return c.Limit })
	row("draws, 5th percentile", func(c *report.Claim) *float64 { return c.Seen.P05 })
	row("draws, middle", func(c *report.Claim) *float64 { return c.Seen.P50 })
	row("draws, 95th percentile", func(c *report.Claim) *float64 { return c.Seen.P95 })
	beyond := beyond(p.px, p.py)
	caption := fmt.Sprintf("What was said of %s and of %s, as one point among the draws; of the %s drawn here %s hold both claims.",
		safe(level(p.x)), safe(level(p.y)), report.Grouped(int64(len(p.px))), report.Grouped(int64(both)))
	if both == 1 {
		caption = strings.Replace(caption, " hold both", " holds both", 1)
	}
	caption += beyond
	return picture{Kind: "pair", Subject: p.vehicle, Caption: template.HTML(caption), From: fmt.Sprintf("claims, rows %s and %s; samples, %s", plain(p.x.Name), plain(p.y.Name), oneIn(p.step)),
		Note:    d.note("pair", "A point is a draw: a large one where both claims hold, a small grey one elsewhere. The cross is what was said, in the box of all that rounds to it; the washed corner is where both claims hold."),
		Numbers: n, Scene: p.scene}
}

// limits are the ends between which a claim holds.
func limits(c *report.Claim) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	switch {
	case c.Limit != nil && holdsAt(c, *c.Limit+1+math.Abs(*c.Limit)):
		low = *c.Limit
	case c.Limit != nil:
		high = *c.Limit
	case c.RoundedTo != nil:
		low, high = around(c)
	}
	return low, high
}

// around are the ends of an announcement's rounding box.
func around(c *report.Claim) (low, high float64) {
	if c.RoundedTo == nil {
		return *c.Announced, *c.Announced
	}
	return *c.Announced - *c.RoundedTo/2, *c.Announced + *c.RoundedTo/2
}

// beyond says how many draws a cloud leaves out, for lying far from all others.
func beyond(x, y []float64) string {
	ex, ey, n := ends(x), ends(y), int64(0)
	if ex == nil || ey == nil {
		return ""
	}
	sx, sy := draw.NewScale(0, 1, 0.03, ex...), draw.NewScale(0, 1, 0.03, ey...)
	for i := range x {
		if x[i] == x[i] && y[i] == y[i] && !(sx.Holds(x[i]) && sy.Holds(y[i])) {
			n++
		}
	}
	switch n {
	case 0:
		return ""
	case 1:
		return " One draw lies far beyond the axes."
	}
	return fmt.Sprintf(" %s draws lie far beyond the axes.", capital(report.Count(int(n))))
}

func (p *pair) scene(f frame) *draw.Scene {
	s := &draw.Scene{Width: f.width, Title: "The announced pair among the draws of " + plain(p.vehicle)}
	left, top, field := 62.0, 24.0, 300.0
	if f.narrow() {
		left, field = 52, 260
	}
	if f.talk {
		field = 215
	}
	bottom := top + field
	scale := func(c *report.Claim, x []float64, from, to float64) draw.Scale {
		b1, b2 := around(c)
		l1, l2 := limits(c)
		return draw.NewScale(from, to, 0.03, append([]float64{b1, b2, l1, l2}, ends(x)...)...)
	}
	sx, sy := scale(p.x, p.px, left, f.width-8), scale(p.y, p.py, bottom, top)
	p.corner(s, sx, sy)
	s.AxisUp(sy, sx.From, sx.To, 6, plain(p.y.Unit))
	s.Say(0, 12, draw.Fit(p.words(p.y), draw.TextSize, f.width), draw.Start, draw.Soft)
	for _, zero := range []struct {
		in   bool
		line [4]float64
	}{{sx.Holds(0), [4]float64{sx.At(0), top, sx.At(0), bottom}}, {sy.Holds(0), [4]float64{sx.From, sy.At(0), sx.To, sy.At(0)}}} {
		if zero.in {
			s.Line(zero.line[0], zero.line[1], zero.line[2], zero.line[3], draw.Rule, 1)
		}
	}
	p.cloud(s, sx, sy)
	if p.alone == p.alone {
		p.line(s, sx, sy)
	}
	p.said(s, sx, sy)
	s.Axis(sx, bottom, 7, plain(p.x.Unit))
	s.Say((sx.From+sx.To)/2, bottom+38, draw.Fit(p.words(p.x), draw.TextSize, f.width-left), draw.Middle, draw.Soft)
	s.Height = bottom + 46
	s.About = fmt.Sprintf("Said: %s of %s, %s of %s; the middle of the draws: %s and %s.", draw.Signed(p.x.Said()), p.words(p.x), draw.Signed(p.y.Said()), p.words(p.y),
		with(figures(p.x.Seen.P05, p.x.Seen.P50, p.x.Seen.P95)[1], p.x.Unit), with(figures(p.y.Seen.P05, p.y.Seen.P50, p.y.Seen.P95)[1], p.y.Unit))
	return s
}

// corner washes where both claims hold and names it.
func (p *pair) corner(s *draw.Scene, sx, sy draw.Scale) {
	clamp := func(scale draw.Scale, c *report.Claim) (float64, float64) {
		low, high := limits(c)
		return scale.At(max(low, scale.Low)), scale.At(min(high, scale.High))
	}
	x1, x2 := clamp(sx, p.x)
	y1, y2 := clamp(sy, p.y)
	s.Box(x1, y2, x2-x1, y1-y2, draw.Wash, draw.None)
	words := "both hold here"
	switch size := draw.Width(words, draw.TextSize, false); {
	case x2-x1 > size+16 && y1-y2 > 22:
		s.Say(x1+8, y2+17, words, draw.Start, draw.Dark)
	case x1+8+size < s.Width && sx.At(*p.x.Announced)-x1 > (x2-x1)/2: // away from the cross
		s.Say(x1, y2-5, words, draw.Start, draw.Dark)
	default:
		s.Say(x2, y2-5, words, draw.End, draw.Dark)
	}
}

// cloud draws the draws: those that hold both claims last.
func (p *pair) cloud(s *draw.Scene, sx, sy draw.Scale) {
	at := map[bool][]draw.Point{}
	for i, both := range p.holds {
		if x, y := p.px[i], p.py[i]; sx.Holds(x) && sy.Holds(y) {
			at[both] = append(at[both], draw.Point{X: sx.At(x), Y: sy.At(y)})
		}
	}
	s.Dots(at[false], 1.5, draw.Rule)
	s.Dots(at[true], 3.6, draw.Ground)
	s.Dots(at[true], 3, draw.Cand)
}

// line draws what mass alone would do, with its name at the end where there is room.
func (p *pair) line(s *draw.Scene, sx, sy draw.Scale) {
	var points []draw.Point
	const steps = 100
	for k := range steps + 1 {
		x := sx.Low + (sx.High-sx.Low)*float64(k)/steps
		if y := p.alone * x; sy.Holds(y) {
			points = append(points, draw.Point{X: sx.At(x), Y: sy.At(y)})
		}
	}
	if len(points) < 2 {
		return
	}
	s.Curve(points, draw.Dark, 1.4).Dash = 2
	last := points[len(points)-1]
	y := last.Y - 10
	if points[0].Y > last.Y {
		y = last.Y + 20
	}
	s.Plate(last.X-4, y, "mass alone", draw.End)
}

// said draws the announcement, a cross in its rounding box, over the draws.
func (p *pair) said(s *draw.Scene, sx, sy draw.Scale) {
	x1, x2 := around(p.x)
	y1, y2 := around(p.y)
	left, right := min(sx.At(x1), sx.At(*p.x.Announced)-9), max(sx.At(x2), sx.At(*p.x.Announced)+9)
	top, bottom := min(sy.At(y2), sy.At(*p.y.Announced)-9), max(sy.At(y1), sy.At(*p.y.Announced)+9)
	s.Box(left, top, right-left, bottom-top, draw.Ground, draw.Dark).Tip = fmt.Sprintf("said: %s of %s, %s of %s", draw.Signed(p.x.Said()), level(p.x), draw.Signed(p.y.Said()), level(p.y))
	s.Cross(sx.At(*p.x.Announced), sy.At(*p.y.Announced))
	y := (top+bottom)/2 + 5
	if size := draw.Width("said", draw.TextSize, true); right+8+size < s.Width {
		s.Say(right+7, y, "said", draw.Start, draw.Dark).Bold = true
	} else {
		s.Say(left-7, y, "said", draw.End, draw.Dark).Bold = true
	}
}
