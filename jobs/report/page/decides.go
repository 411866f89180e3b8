package page

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// whatDecides shows, for what claims are of and then for other outputs, what each input
// does alone, and which share of the spread comes from it.
func whatDecides(d *data) (section, bool) {
	s := section{ID: "decides", Label: "What decides it"}
	var b strings.Builder
	shown, left := d.deciding()
	for _, x := range shown {
		b.WriteString(string(d.swings(x)))
		b.WriteString(string(d.shares(x)))
		b.WriteString(string(d.curvesOf(x)))
	}
	if b.Len() == 0 {
		return s, false
	}
	b.WriteString(elsewhere(left, "other output", "indices.parquet, tornado.parquet and curves.parquet"))
	s.Heading = template.HTML(d.hanging())
	s.Body = template.HTML(b.String())
	return s, true
}

// deciding are the outputs to show: what the claims that have a figure are of, without
// claims of a number the first ones; and how many more there are.
func (d *data) deciding() (shown []*report.Decides, left int) {
	said := map[string]bool{}
	for _, c := range d.announced() {
		said[c.Of] = true
	}
	for i := range d.Decides {
		x := &d.Decides[i]
		switch {
		case x.Of != result.OfOutput || len(d.Claims) > 0 && len(x.Claims) == 0:
		case len(said) > 0 && !said[x.Output] || len(shown) == mostSaid:
			left++
		default:
			shown = append(shown, x)
		}
	}
	return shown, left
}

// hanging is what the claim farthest from standing hangs on, else what the first output
// does.
func (d *data) hanging() string {
	var farthest *report.Claim
	for i, c := range d.Claims {
		if c.HangsOn != "" && !c.Together() && (farthest == nil || c.Chance < farthest.Chance) {
			farthest = &d.Claims[i]
		}
	}
	if farthest != nil {
		name := safe(farthest.Name)
		return strings.Replace(safe(farthest.HangsOn), " "+name+" ", " <i>"+name+"</i> ", 1)
	}
	x := d.Decides[0]
	return fmt.Sprintf("<i>%s</i> hangs most on %s.", safe(x.Output), safe(x.Inputs[0].Input))
}

// swings draws a bar an input: the output with the input at the ends of what is believed.
func (d *data) swings(x *report.Decides) template.HTML {
	var rows []report.Share
	n := numbers{Head: []string{"input", "unit", "from", "to", x.Output + " from", "to", "form", "share"}, Left: 2}
	form := result.Form("")
	for _, in := range x.Inputs {
		if in.AtLow == nil || in.AtHigh == nil {
			continue
		}
		form = in.Form
		rows = append(rows, in)
		f, g := figures(in.InLow, in.InHigh), figures(in.AtLow, in.AtHigh)
		n.Rows = append(n.Rows, []string{plain(in.Input), plain(in.Unit), f[0], f[1], g[0], g[1], string(in.Form), percent(in.Share)})
	}
	if len(rows) == 0 {
		return ""
	}
	caption := "What each input alone does to <i>" + safe(x.Output) + "</i>: from its lowest to its highest twentieth."
	if form == result.OneAtATime {
		caption = "What each input alone does to <i>" + safe(x.Output) + "</i>: from its 5th to its 95th percentile, all others at their medians."
	}
	return d.figure(picture{Kind: "swings", Subject: x.Output, Caption: template.HTML(caption), From: "tornado, output " + plain(x.Output),
		Note:    d.note("swing", "The ring is the output with the input at its low end, the disc at its high end. Where the ring stands at the right, more of the input makes less of the output."),
		Numbers: n, Scene: func(f frame) *draw.Scene { return swingScene(x, rows, f) }})
}

func swingScene(x *report.Decides, rows []report.Share, f frame) *draw.Scene {
	width := f.width
	shown := rows[:min(len(rows), f.rows)]
	left, step, right := 250.0, 34.0, 60.0
	if f.narrow() {
		left, step, right = 10, 52, 52
	}
	var ends []float64
	for _, in := range shown {
		ends = append(ends, *in.AtLow, *in.AtHigh)
	}
	scale := draw.NewScale(left+10, width-right-6, 0.05, ends...)
	s := &draw.Scene{Width: width, Height: step*float64(len(shown)) + 52, Title: "What each input alone does to " + plain(x.Output)}
	if len(rows) > len(shown) {
		s.Height += 20
	}
	var about []string
	bottom := step*float64(len(shown)) + 18
	s.Say(width, 11, "share", draw.End, draw.Soft)
	for i, in := range shown {
		y := step*float64(i) + step/2 + 16
		ins := figures(in.InLow, in.InHigh)
		belief := ins[0] + " to " + with(ins[1], in.Unit)
		if f.narrow() {
			y += 10
			s.Say(0, y-15, draw.Fit(plain(in.Input), draw.TextSize, width-right-draw.Width(belief, draw.TextSize, false)-12), draw.Start, draw.Dark)
			s.Say(width-right, y-15, belief, draw.End, draw.Soft)
		} else {
			s.Say(0, y-2, draw.Fit(plain(in.Input), draw.TextSize, left), draw.Start, draw.Dark)
			s.Say(0, y+13, draw.Fit(belief, draw.TextSize, left), draw.Start, draw.Soft)
		}
		at := figures(in.AtLow, in.AtHigh)
		exact := fmt.Sprintf("%s %s: %s from %s to %s", plain(in.Input), belief, plain(x.Output), at[0], with(at[1], x.Unit))
		s.Line(scale.At(*in.AtLow), y, scale.At(*in.AtHigh), y, draw.Rule, 2)
		s.Ring(scale.At(*in.AtLow), y, 5, draw.Dark).Tip = exact
		s.Disc(scale.At(*in.AtHigh), y, 5, draw.Dark).Tip = exact
		s.Say(width, y+5, percent(in.Share), draw.End, draw.Dark)
		if i == 0 {
			endNames(s, scale.At(*in.AtLow), scale.At(*in.AtHigh), y)
		}
		about = append(about, exact)
	}
	s.Axis(scale, bottom, 6, plain(x.Unit))
	if rest := rows[len(shown):]; len(rest) > 0 {
		s.Say(0, s.Height-4, others(rest), draw.Start, draw.Soft)
	}
	s.About = strings.Join(about, "; ") + "."
	return s
}

// endNames names the two kinds of mark at the first row, on their outer sides.
func endNames(s *draw.Scene, low, high, y float64) {
	words := map[bool]string{true: "low end", false: "high end"}
	left, right := min(low, high), max(low, high)
	first := low <= high
	const gap = 10
	if right+gap+draw.Width(words[!first], draw.TextSize, false) < s.Width-52 {
		s.Say(right+gap, y+5, words[!first], draw.Start, draw.Soft)
	}
	if left-gap-draw.Width(words[first], draw.TextSize, false) > 250 || s.Width < leastWide && left-gap-draw.Width(words[first], draw.TextSize, false) > 0 {
		s.Say(left-gap, y+5, words[first], draw.End, draw.Soft)
	}
}

// others sums up the inputs that have no row of their own.
func others(rest []report.Share) string {
	sum := 0.0
	for _, in := range rest {
		if in.Share != nil {
			sum += max(0, *in.Share)
		}
	}
	return fmt.Sprintf("others: %s, together %s", report.Counted(len(rest), "input"), percent(&sum))
}

// percent writes a share; one below 1 % is "under 1".
func percent(x *float64) string {
	switch {
	case x == nil:
		return unknown
	case math.Abs(*x) < 0.01:
		return "under 1\u00a0%"
	}
	return draw.Signed(strconv.FormatFloat(100**x, 'f', 0, 64)) + "\u00a0%"
}

// shares draws two marks an input: its share of the spread alone and with others.
func (d *data) shares(x *report.Decides) template.HTML {
	var rows []report.Share
	n := numbers{Head: []string{"input", "kind", "share", "low", "high", "alone"}, Left: 2}
	for _, in := range x.Inputs {
		if in.Share == nil {
			continue
		}
		rows = append(rows, in)
		n.Rows = append(n.Rows, []string{plain(in.Input), string(in.Order), digits(in.Share), digits(in.Low), digits(in.High), digits(in.First)})
	}
	if len(rows) == 0 {
		return ""
	}
	return d.figure(picture{Kind: "shares", Subject: x.Output, Caption: template.HTML("Share of the spread of <i>" + safe(x.Output) + "</i> that comes from each input."), From: "indices, output " + plain(x.Output),
		Note:    d.note("share", "The disc is what goes when the input alone is known, the ring what it does together with others as well. Whiskers are intervals of the estimates, not of draws."),
		Numbers: n, Scene: func(f frame) *draw.Scene { return shareScene(x, rows, f) }})
}

func digits(x *float64) string {
	if x == nil {
		return unknown
	}
	return draw.Signed(strconv.FormatFloat(*x, 'f', 4, 64))
}

func shareScene(x *report.Decides, rows []report.Share, f frame) *draw.Scene {
	width := f.width
	shown := rows[:min(len(rows), f.rows)]
	left, step := 250.0, 28.0
	if f.narrow() {
		left, step = 6, 44
	}
	ends := []float64{0}
	for _, in := range shown {
		for _, v := range []*float64{in.Share, in.Low, in.High, in.First} {
			if v != nil {
				ends = append(ends, 100**v)
			}
		}
	}
	scale := draw.NewScale(left+10, width-24, 0.05, ends...)
	s := &draw.Scene{Width: width, Height: step*float64(len(shown)) + 46, Title: "Shares of the spread of " + plain(x.Output)}
	if len(rows) > len(shown) {
		s.Height += 20
	}
	bottom := step*float64(len(shown)) + 14
	s.Line(scale.At(0), 6, scale.At(0), bottom, draw.Rule, 1)
	var about []string
	for i, in := range shown {
		y := step*float64(i) + step/2 + 8
		if f.narrow() {
			y += 10
			s.Plate(0, y-14, draw.Fit(plain(in.Input), draw.TextSize, width), draw.Start) // over the line at nil
		} else {
			s.Say(0, y+5, draw.Fit(plain(in.Input), draw.TextSize, left), draw.Start, draw.Dark)
		}
		exact := fmt.Sprintf("%s: %s %s (%s to %s), alone %s", plain(in.Input), in.Order, digits(in.Share), digits(in.Low), digits(in.High), digits(in.First))
		if in.Low != nil && in.High != nil {
			s.Line(scale.At(100**in.Low), y, scale.At(100**in.High), y, draw.Soft, 1.4)
		}
		s.Ring(scale.At(100**in.Share), y, 5, draw.Dark).Tip = exact
		if in.First != nil {
			s.Disc(scale.At(100**in.First), y, 3.4, draw.Dark).Tip = exact
		}
		about = append(about, exact)
	}
	y := step/2 + 8
	if f.narrow() {
		y += 10
	}
	nameShare(s, scale, &shown[0], y)
	s.Axis(scale, bottom, 6, "%")
	if rest := rows[len(shown):]; len(rest) > 0 {
		s.Say(0, s.Height-4, others(rest), draw.Start, draw.Soft)
	}
	s.About = strings.Join(about, "; ") + "."
	return s
}

// nameShare tells beside an input's marks, where there is room, which is which.
func nameShare(s *draw.Scene, scale draw.Scale, in *report.Share, y float64) {
	if in.First == nil {
		return
	}
	const words = "alone, and with others (ring)"
	size, left, right := draw.Width(words, draw.TextSize, false), scale.At(100**in.Share), scale.At(100**in.Share)
	for _, v := range []*float64{in.First, in.Low, in.High} {
		if v != nil {
			left, right = min(left, scale.At(100**v)), max(right, scale.At(100**v))
		}
	}
	if right+10+size < s.Width {
		s.Say(right+10, y+5, words, draw.Start, draw.Soft)
	} else if left-10-size > scale.At(0)+4 {
		s.Say(left-10, y+5, words, draw.End, draw.Soft)
	}
}
