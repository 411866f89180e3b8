package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// mostRequired is how many claims have a figure of what must be true.
const mostRequired = 3

// mustBeTrue shows where each claim turns: which inputs must lie where.
func mustBeTrue(d *data) (section, bool) {
	s := section{ID: "must", Label: "Must be true"}
	var b strings.Builder
	shown := 0
	for i := range d.Requires {
		r := &d.Requires[i]
		name, words := "<i>"+safe(r.Claim)+"</i>: ", r.InWords()
		if i == 0 {
			s.Heading = template.HTML(name + safe(r.Briefly()) + ".")
		}
		if i > 0 || words != r.Briefly() {
			b.WriteString("<p>" + name + safe(words) + ".</p>\n")
		}
		if r.Method != result.OutOfReach && shown < mostRequired {
			shown++
			b.WriteString(string(d.required(r)))
		}
	}
	s.Body = template.HTML(b.String())
	return s, len(d.Requires) > 0
}

func (d *data) required(r *report.Required) template.HTML {
	n := numbers{Head: []string{"input", "unit", "middle", "at the point", "percentile", "normal scores", "chance one half at", "verdict turns at", "turns alone at"}, Left: 2}
	for i := range r.Inputs {
		m := &r.Inputs[i]
		f := figures(m.Central, m.Needed, m.HalfAt, m.TurnsAt)
		n.Rows = append(n.Rows, []string{plain(m.Input), plain(m.Unit), f[0], f[1], hundredths(m.Percentile), digits(m.Distance), f[2], f[3], short3(m.AloneAt)})
	}
	turn := "holds"
	if r.Side == result.TurnsToFail {
		turn = "fails"
	}
	return d.figure(picture{Kind: "requires", Subject: r.Claim, From: "requires, claim " + plain(r.Claim), Numbers: n,
		Caption: template.HTML("The most probable point at which <i>" + safe(r.Claim) + "</i> " + turn + ": how far inputs lie from their middles."),
		Note:    d.note("requires", "The grey bar is what is believed of an input, nine in ten, the ring its middle. The lozenge is where it lies at the nearest point that turns the claim, with its value. It is one combination, the most favourable; others do it too."),
		Scene:   func(f frame) *draw.Scene { return requiredScene(r, f) }})
}

// short3 is a number of three digits, a dash where it is not told.
func short3(x *float64) string {
	if x == nil {
		return unknown
	}
	return draw.Signed(report.Short(*x))
}

// nineInTen is the normal score of the 95th percentile: so many standard deviations to either
// side hold nine in ten of a normal error. widest is the least half of the axis.
const nineInTen, widest = 1.6448536269514722, 2.2

func requiredScene(r *report.Required, f frame) *draw.Scene {
	shown := r.Inputs[:min(len(r.Inputs), f.rows)]
	left, step, right := 270.0, 38.0, 12.0
	if f.narrow() {
		left, step = 12, 58
	}
	s := &draw.Scene{Width: f.width, Title: "What must be true of " + plain(r.Claim)}
	most := widest
	for i := range shown {
		if m := shown[i].Distance; m != nil {
			most = math.Max(most, math.Abs(*m)+0.2)
		}
	}
	scale := draw.NewScale(left, f.width-right, 0, -most, most)
	y := 4.0
	var about []string
	for i := range shown {
		m := &shown[i]
		if m.Distance == nil || m.Needed == nil {
			continue
		}
		at := y + 22
		if f.narrow() {
			at = y + 40
			s.Say(0, y+14, draw.Fit(plain(m.Input), draw.TextSize, f.width), draw.Start, draw.Dark)
		} else {
			s.Say(0, at+5, draw.Fit(plain(m.Input), draw.TextSize, left-14), draw.Start, draw.Dark)
		}
		s.Box(scale.At(-nineInTen), at-5, scale.At(nineInTen)-scale.At(-nineInTen), 10, draw.Wash, draw.None)
		s.Line(scale.At(0), at, scale.At(*m.Distance), at, draw.Dark, 1.6)
		s.Ring(scale.At(0), at, 4.5, draw.Dark)
		lozenge := s.Lozenge(scale.At(*m.Distance), at, 6, draw.Dark, draw.Ground)
		lozenge.Tip = plain(m.InWords())
		about = append(about, lozenge.Tip)
		value := with(figures(m.Central, m.Needed)[1], m.Unit)
		x := scale.At(*m.Distance)
		half := draw.Width(value, draw.TextSize, false) / 2
		s.Say(min(max(x, left+half), f.width-half), at-9, value, draw.Middle, draw.Dark)
		y += step
	}
	y += 14
	s.Axis(scale, y, 5, "normal scores")
	s.Height = y + 26
	if rest := len(r.Inputs) - len(shown); rest > 0 {
		s.Say(0, s.Height+14, "others, nearer to their middles: "+report.Counted(rest, "input"), draw.Start, draw.Soft)
		s.Height += 22
	}
	s.About = fmt.Sprintf("%s.", strings.Join(about, "; "))
	return s
}
