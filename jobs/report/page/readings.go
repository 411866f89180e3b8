package page

import (
	"html/template"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// mostRead is how many readings have a row in the figure, and combinations a line.
const mostRead = 12

// whatWasMeant shows how often claims hold in each thing that they could mean.
func whatWasMeant(d *data) (section, bool) {
	s := section{ID: "meant", Label: "Could mean"}
	if d.Readings == nil {
		return s, false
	}
	s.Heading = template.HTML(safe(d.Readings.Told()))
	read := d.Readings.Read()
	n := numbers{Head: []string{"claim", "read as", "tested", "draws in which it holds", "chance, %", "from", "to"}, Left: 3}
	for _, c := range read {
		n.Rows = append(n.Rows, []string{plain(c.Claim), plain(c.Of), plain(c.Text), report.Grouped(c.Held), hundredths(c.Chance), hundredths(c.Low), hundredths(c.High)})
	}
	shown := read[:min(len(read), mostRead)]
	var b strings.Builder
	b.WriteString(string(d.figure(picture{Kind: "meant", From: "readings, each reading of a claim once", Numbers: n,
		Caption: "How often a claim holds in each thing that its words could mean.",
		Note:    d.note("meant", "A disc is the share of all draws in which a claim holds if that is what was meant, with its interval, which is sampling error. Nothing here says which reading was meant."),
		Scene:   func(f frame) *draw.Scene { return meantScene(shown, f) },
		Parts:   parts(shown, 5, meantScene)})))
	b.WriteString(elsewhere(len(read)-len(shown), "other reading", "readings.parquet"))
	b.WriteString("<p>All claims in the same draw, the most compatible readings first:</p>\n<ul>\n")
	told := d.Readings.Compatible()
	for _, line := range told[:min(len(told), mostRead)] {
		b.WriteString("<li>" + safe(line) + ".</li>\n")
	}
	b.WriteString("</ul>\n")
	b.WriteString(elsewhere(len(told)-mostRead, "other combination", "readings.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

// meantScene draws a reading a row, its chance as a disc.
func meantScene(read []*report.ReadClaim, f frame) *draw.Scene {
	left, step, lift := 330.0, 30.0, 0.0
	if f.narrow() {
		left, step, lift = 0, 52, 22
	}
	s := &draw.Scene{Width: f.width, Title: "Claims in each thing that they could mean"}
	scale := draw.NewScale(left+8, f.width-64, 0, 0, 100)
	var about []string
	bottom := step*float64(len(read)) + 8
	for i, c := range read {
		y := step*float64(i) + 16
		s.Say(0, y+5, draw.Fit(plain(c.Claim)+" as "+plain(c.Of), draw.TextSize, max(left-12, f.width-left-4)), draw.Start, draw.Dark)
		about = append(about, c.InWords())
		y += lift
		if c.Chance == nil {
			s.Say(left+8, y+5, "no draw", draw.Start, draw.Soft)
			continue
		}
		if c.Low != nil && c.High != nil {
			s.Line(scale.At(100**c.Low), y, scale.At(100**c.High), y, draw.Soft, 1.4)
		}
		s.Disc(scale.At(100**c.Chance), y, 5, draw.Dark).Tip = c.InWords()
		s.Say(f.width, y+5, percent(c.Chance), draw.End, draw.Dark).Bold = true
	}
	s.Axis(scale, bottom, 5, "%")
	s.Height = bottom + 28
	s.About = strings.Join(about, "; ") + "."
	return s
}
