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

// mostRare is how many claims have a figure of the way to them.
const mostRare = 3

// howRare shows the way to claims that next to no draw holds, or fails.
func howRare(d *data) (section, bool) {
	s := section{ID: "rare", Label: "Rare"}
	if len(d.Rare) == 0 {
		return s, false
	}
	s.Heading = template.HTML(rareSentence(&d.Rare[0]))
	var b strings.Builder
	for i := range d.Rare[:min(len(d.Rare), mostRare)] {
		b.WriteString(string(d.climbed(&d.Rare[i])))
	}
	b.WriteString("<ul>\n")
	for i := range d.Rare {
		r := &d.Rare[i]
		fmt.Fprintf(&b, "<li><i>%s</i> %s.</li>\n", safe(report.ClaimName(r.Claim)), safe(r.InWords()))
	}
	b.WriteString("</ul>\n")
	b.WriteString(elsewhere(len(d.Rare)-mostRare, "other claim", "rare.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

// rareSentence opens the section.
func rareSentence(r *report.Rare) string {
	does := "holds"
	if r.Side == result.TurnsToFail {
		does = "fails"
	}
	words, _, _ := strings.Cut(strings.TrimPrefix(r.InWords(), does), " (")
	words, _, _ = strings.Cut(words, ":")
	return fmt.Sprintf("<i>%s</i> %s%s.", safe(report.ClaimName(r.Claim)), does, safe(words))
}

func (d *data) climbed(r *report.Rare) template.HTML {
	n := numbers{Head: []string{"level", "margin, " + plain(r.Unit), "chance of it", "from", "to", "populations of 16", "moves taken, %"}, Left: 0}
	for k, l := range r.Levels {
		at := levelWords(r, &l)
		n.Rows = append(n.Rows, []string{fmt.Sprint(k + 1), at, tenth(l.Chance), tenth(l.Low), tenth(l.High), fmt.Sprint(l.Populations), hundredths(l.Taken)})
	}
	return d.figure(picture{Kind: "rare", Subject: r.Claim, From: "rare, claim " + plain(r.Claim), Numbers: n,
		Caption: template.HTML("How rare it becomes on the way to <i>" + safe(report.ClaimName(r.Claim)) + "</i>: the chance of coming so near, level by level."),
		Note:    d.note("rare", "Each level lets about a tenth of the draws go on, which are moved until they lie beyond it; from left to right a step is ten times rarer. A bar is the interval, from how far 16 populations agree."),
		Scene:   func(f frame) *draw.Scene { return rareScene(r, f) }})
}

// levelWords is a level's margin, or that the claim turns there.
func levelWords(r *report.Rare, l *report.RareLevel) string {
	switch {
	case l.At != nil:
		return digits(l.At)
	case r.Side == result.TurnsToFail:
		return "fails"
	}
	return "holds"
}

// tenth is a small chance with two digits.
func tenth(x float64) string { return fmt.Sprintf("%.2g", x) }

// rareScene has a row a level, on powers of ten.
func rareScene(r *report.Rare, f frame) *draw.Scene {
	levels := r.Levels
	if more := len(levels) - f.rows; more > 0 {
		levels = levels[more:]
	}
	left, step := 150.0, 30.0
	if f.narrow() {
		left = 96
	}
	s := &draw.Scene{Width: f.width, Title: "The way to " + plain(report.ClaimName(r.Claim))}
	last := levels[len(levels)-1]
	scale := draw.NewScale(left+8, f.width-20, 0, 0, math.Ceil(-math.Log10(max(last.Low, last.Chance/10))))
	at := func(chance float64) float64 { return scale.At(min(scale.High, -math.Log10(chance))) }
	var about []string
	bottom := step*float64(len(levels)) + 8
	for i := range levels {
		l := &levels[i]
		y := step*float64(i) + 16
		name := levelWords(r, l)
		if l.At != nil {
			name = "margin " + with(name, plain(r.Unit))
		}
		tip := fmt.Sprintf("%s: 1 in %s", name, report.Grouped(int64(math.Round(1/l.Chance))))
		s.Say(0, y+5, draw.Fit(draw.Signed(name), draw.TextSize, left-8), draw.Start, draw.Dark)
		if l.Low > 0 {
			s.Line(at(l.High), y, at(l.Low), y, draw.Soft, 1.4)
		}
		s.Disc(at(l.Chance), y, 5, draw.Dark).Tip = tip
		about = append(about, tip)
	}
	s.Line(scale.From, bottom, scale.To, bottom, draw.Rule, 1)
	for power := 0.0; power <= scale.High; power += max(1, math.Ceil(scale.High/4)) {
		x := scale.At(power)
		s.Line(x, bottom, x, bottom+5, draw.Rule, 1)
		anchor := draw.Middle
		if power > 0 && x > f.width-50 {
			anchor = draw.End
		}
		s.Say(x, bottom+19, "1 in "+report.Grouped(int64(math.Round(math.Pow(10, power)))), anchor, draw.Soft)
	}
	s.Height = bottom + 28
	s.About = strings.Join(about, "; ") + "."
	return s
}
