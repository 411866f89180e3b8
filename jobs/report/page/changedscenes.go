package page

import (
	"fmt"
	"strings"

	changes "proofmass/jobs/compare"
	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// beforeScene draws a band an output: its draws before above, in grey, now below, on an axis
// of its own.
func (d *data) beforeScene(all []*changes.Output, f frame) *draw.Scene {
	left := 230.0
	if f.narrow() {
		left = 0
	}
	s := &draw.Scene{Width: f.width, Title: "Outputs before and now"}
	y := 0.0
	var about []string
	for _, x := range all {
		name := draw.Fit(plain(x.Name), draw.TextSize, f.names(left, 8))
		if s.Say(0, y+14, name, draw.Start, draw.Dark); f.narrow() {
			y += 22
		}
		ends := given(x.Before.P05, x.Before.P50, x.Before.P95, x.After.P05, x.After.P50, x.After.P95)
		if len(ends) == 0 {
			y += 26
			continue
		}
		scale := draw.NewScale(left+8, f.width-112, 0.06, ends...)
		ink := draw.Cand
		if v, _ := split(x.Name); v == d.baseline() && v != "" {
			ink = draw.Base
		} else if v == "" {
			ink = draw.Dark
		}
		before, after := figures(x.Before.P05, x.Before.P50, x.Before.P95), figures(x.After.P05, x.After.P50, x.After.P95)
		spreadBar(s, scale, x.Before, y+8, draw.Rule, "before: "+inDraws(before, x.Unit))
		spreadBar(s, scale, x.After, y+24, ink, "now: "+inDraws(after, x.Unit))
		s.Say(f.width, y+20, before[1]+" → "+after[1], draw.End, draw.Dark).Bold = true
		s.Axis(scale, y+38, 4, plain(x.Unit))
		about = append(about, fmt.Sprintf("%s: %s before, %s now", plain(x.Name), before[1], with(after[1], x.Unit)))
		y += 38 + 38
	}
	s.Height = y - 8
	s.About = strings.Join(about, "; ") + "."
	return s
}

// spreadBar is an interval of draws with its middle.
func spreadBar(s *draw.Scene, scale draw.Scale, x report.Spread, y float64, ink draw.Ink, exact string) {
	if x.P50 == nil {
		return
	}
	if x.P05 != nil && x.P95 != nil {
		s.Line(scale.At(*x.P05), y, scale.At(*x.P95), y, ink, 4).Tip = exact
	}
	s.Disc(scale.At(*x.P50), y, 5, ink).Tip = exact
}

// step is one row of a figure of causes.
type step struct {
	name     string
	from, to float64
	low, top *float64 // of where it ends
	drawn    bool     // by other draws alone
}

// stepsOf are the causes in the order of their size, those beyond what fits in one.
func stepsOf(c *changes.Change, most int) []step {
	at := *c.Before
	var all []step
	add := func(name string, by float64, low, high *float64) {
		s := step{name: name, from: at, to: at + by}
		if low != nil && high != nil {
			bottom, top := at+*low, at+*high
			s.low, s.top = &bottom, &top
		}
		all = append(all, s)
		at = s.to
	}
	rest, others := 0.0, 0
	for i, x := range c.Causes {
		if i >= most-1 && len(c.Causes) > most {
			rest += x.By
			others++
			continue
		}
		add(x.Cause, x.By, x.Low, x.High)
	}
	if others > 0 {
		add(fmt.Sprintf("%d others", others), rest, nil, nil)
	}
	if c.Draws != nil && *c.Draws != 0 {
		add("other draws", *c.Draws, nil, nil)
		all[len(all)-1].drawn = true
	}
	return all
}

// causesScene goes down the page from what was before to what is now, a step a cause.
func causesScene(of string, c *changes.Change, unit string, f frame) *draw.Scene {
	left, high := 250.0, 30.0
	if f.narrow() {
		left, high = 0, 48
	}
	all := stepsOf(c, f.rows)
	values := []float64{*c.Before, *c.After}
	for _, x := range all {
		values = append(append(values, x.from, x.to), given(x.low, x.top)...)
	}
	scale := draw.NewScale(left+20, f.width-76, 0.05, values...)
	s := &draw.Scene{Width: f.width, Title: "What moved " + plain(of)}
	ends := figures(c.Before, c.After)
	y := 0.0
	row := func(name string, bold bool) float64 {
		s.Say(0, y+15, draw.Fit(plain(name), draw.TextSize, f.names(left, 8)), draw.Start, draw.Dark).Bold = bold
		at := y + 10
		if f.narrow() {
			at = y + 30
		}
		y += high
		return at
	}
	at := row("before", true)
	s.Square(scale.At(*c.Before), at, 5, draw.Rule)
	s.Say(scale.At(*c.Before)+12, at+5, with(ends[0], unit), draw.Start, draw.Dark).Bold = true
	about := []string{"before " + with(ends[0], unit)}
	for _, x := range all {
		last := at
		at = row(x.name, false)
		by := x.to - x.from
		told := signed(by, *c.By)
		s.Line(scale.At(x.from), last+7, scale.At(x.from), at+5, draw.Hair, 1)
		if from, to := scale.At(x.from), scale.At(x.to); to-from > nothing || from-to > nothing {
			bar := s.Box(min(from, to), at-5, max(from, to)-min(from, to), 10, draw.Dark, draw.Dark)
			if x.drawn {
				bar.Fill, bar.Hatch = draw.None, true
			}
			bar.Tip = plain(x.name) + ": " + with(told, unit)
		} else {
			s.Line(from, at-5, from, at+5, draw.Dark, 1.6)
		}
		right := max(scale.At(x.from), scale.At(x.to))
		if x.low != nil {
			s.Line(scale.At(*x.low), at+9, scale.At(*x.top), at+9, draw.Soft, 1.4)
			right = max(right, scale.At(*x.top))
		}
		s.Say(right+8, at+5, told, draw.Start, draw.Dark)
		about = append(about, plain(x.name)+" "+told)
	}
	last := at
	at = row("now", true)
	s.Line(scale.At(*c.After), last+7, scale.At(*c.After), at, draw.Hair, 1)
	s.Disc(scale.At(*c.After), at, 5, draw.Dark)
	s.Say(scale.At(*c.After)+12, at+5, with(ends[1], unit), draw.Start, draw.Dark).Bold = true
	s.Axis(scale, y+2, 6, plain(unit))
	s.Height = y + 28
	s.About = strings.Join(append(about, "now "+with(ends[1], unit)), "; ") + "."
	return s
}

// signed writes a part of a change with its sign.
func signed(by, of float64) string {
	return draw.Signed(changes.Amount(by, of))
}
