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

// mostWhere is how many claims get pictures of where they hold: those nearest to even.
const mostWhere = 3

// whereItHolds shows which inputs differ where a claim holds and where it fails, and draws
// over the two that differ most.
func whereItHolds(d *data) (section, bool) {
	s := section{ID: "where", Label: "Where it holds"}
	var claims []*report.Claim
	asked := false
	for i := range d.Claims {
		c := &d.Claims[i]
		asked = asked || !c.Together()
		if len(c.Where) > 0 && !c.Together() {
			claims = append(claims, c)
		}
	}
	if !asked {
		return s, false
	}
	if len(claims) == 0 {
		s.Heading = "No input is known to differ between the draws where a claim holds and those where it fails."
		return s, true
	}
	even := func(c *report.Claim) float64 { return math.Abs(c.Chance - 0.5) }
	near := slices.SortedStableFunc(slices.Values(claims), func(a, b *report.Claim) int { return compare(even(a), even(b)) })
	s.Heading = template.HTML("<i>" + safe(near[0].Name) + "</i>: " + safe(draw.Signed(near[0].Where[0].Differs())) + ".")
	var b strings.Builder
	for _, c := range near[:min(len(near), mostWhere)] {
		b.WriteString(string(d.regions(c)))
		b.WriteString(string(d.two(c)))
	}
	b.WriteString(elsewhere(len(near)-mostWhere, "other claim", "regions.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

// regions draws, an axis an input, the range of eight in ten draws where a claim holds and
// where it fails.
func (d *data) regions(c *report.Claim) template.HTML {
	n := numbers{Head: []string{"input", "unit", "holds, 10th percentile", "middle", "90th", "fails, 10th percentile", "middle", "90th", "distance", "from", "to"}, Left: 2}
	for _, w := range c.Where {
		f := figures(w.HoldsLow, w.HoldsMid, w.HoldsTop, w.FailsLow, w.FailsMid, w.FailsTop)
		n.Rows = append(n.Rows, append([]string{plain(w.Input), plain(w.Unit)}, append(f, digits(w.Distance), digits(w.Low), digits(w.High))...))
	}
	return d.figure(picture{Kind: "regions", Subject: c.Name, Caption: template.HTML("Where <i>" + safe(c.Name) + "</i> holds and where it fails, by the inputs that differ most."),
		From:    "regions, claim " + plain(c.Name),
		Note:    d.note("regions", "Each line is an input, from its 1st to its 99th percentile. The solid bar above it holds eight in ten of the draws in which the claim holds, the hatched one below it eight in ten of those in which it fails; the stroke is the middle."),
		Numbers: n, Scene: func(f frame) *draw.Scene { return d.regionScene(c, f) }})
}

func (d *data) regionScene(c *report.Claim, f frame) *draw.Scene {
	shown := c.Where[:min(len(c.Where), f.rows)]
	left, step := 250.0, 62.0
	if f.talk {
		shown, step = shown[:min(len(shown), 5)], 54
	}
	if f.narrow() {
		left, step = 0, 82
	}
	s := &draw.Scene{Width: f.width, Title: "Where " + plain(c.Name) + " holds and where it fails"}
	y := 0.0
	var about []string
	for i, w := range shown {
		at := y + 20
		if f.narrow() {
			at = y + 42
			s.Say(0, y+14, draw.Fit(plain(w.Input), draw.TextSize, f.width), draw.Start, draw.Dark)
		} else {
			s.Say(0, at+5, draw.Fit(plain(w.Input), draw.TextSize, left-12), draw.Start, draw.Dark)
		}
		about = append(about, d.regionRow(s, w, left+4, f.width-54, at, i == 0))
		y += step
	}
	s.Height = y
	if rest := len(c.Where) - len(shown); rest > 0 {
		s.Say(0, y+14, "others that differ: "+report.Counted(rest, "input"), draw.Start, draw.Soft)
		s.Height = y + 22
	}
	s.About = strings.Join(about, "; ") + "."
	return s
}

// regionRow draws one input and returns it in words; the first names its two bars.
func (d *data) regionRow(s *draw.Scene, w report.Where, from, to, y float64, first bool) string {
	ends := []float64{*w.HoldsLow, *w.HoldsTop, *w.FailsLow, *w.FailsTop}
	low, high := slices.Min(ends), slices.Max(ends)
	if r := d.rows[w.Input]; r != nil {
		low, high = min(low, r.P01), max(high, r.P99)
	}
	scale := draw.NewScale(from, to, 0, low, high)
	f := figures(&low, &high, w.HoldsLow, w.HoldsTop, w.FailsLow, w.FailsTop)
	exact := fmt.Sprintf("%s: %s to %s where it holds, %s to %s where it fails", plain(w.Input), f[2], with(f[3], w.Unit), f[4], with(f[5], w.Unit))
	s.Line(from, y, to, y, draw.Rule, 1)
	s.Line(from, y-4, from, y+4, draw.Rule, 1)
	s.Line(to, y-4, to, y+4, draw.Rule, 1)
	s.Say(from, y+28, f[0], draw.Start, draw.Soft)
	s.Say(min(to+draw.Width(with("", w.Unit), draw.TextSize, false), s.Width), y+28, with(f[1], w.Unit), draw.End, draw.Soft)
	least := func(a, b float64) (float64, float64) { // what is a single value is still seen
		x, wide := scale.At(a), scale.At(b)-scale.At(a)
		return min(x, x+wide/2-2), max(wide, 4)
	}
	x, wide := least(*w.HoldsLow, *w.HoldsTop)
	holds := s.Box(x, y-12, wide, 8, draw.Dark, draw.None)
	holds.Tip = exact
	if first {
		besideBar(s, x, x+wide, to, y-4, "holds")
	}
	if w.HoldsMid != nil {
		s.Line(scale.At(*w.HoldsMid), y-13, scale.At(*w.HoldsMid), y-3, draw.Ground, 2)
	}
	x, wide = least(*w.FailsLow, *w.FailsTop)
	fails := s.Box(x, y+4, wide, 8, draw.None, draw.Dark)
	fails.Hatch, fails.Tip = true, exact
	if first {
		besideBar(s, x, x+wide, to, y+14, "fails")
	}
	if w.FailsMid != nil {
		s.Line(scale.At(*w.FailsMid), y+4, scale.At(*w.FailsMid), y+12, draw.Dark, 2)
	}
	return exact
}

// besideBar names a bar at its right end, else at its left: never over the end of the axis.
func besideBar(s *draw.Scene, left, right, end, y float64, words string) {
	size := draw.Width(words, draw.TextSize, false)
	if over := right+6 < end && right+6+size > end; right+6+size <= s.Width && !(over && left-6-size > 0) {
		s.Say(right+6, y, words, draw.Start, draw.Dark)
	} else {
		s.Say(left-6, y, words, draw.End, draw.Dark)
	}
}
