package page

import (
	"fmt"
	"html/template"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// mostPaired is how many pairs of claims have a row in the figure and a sentence.
const mostPaired = 12

// whetherTogether shows how often a claim holds in the draws where another one does.
func whetherTogether(d *data) (section, bool) {
	s := section{ID: "together", Label: "Together"}
	told := d.PairsTold()
	if len(told) == 0 {
		return s, false
	}
	s.Heading = template.HTML(safe(capital(told[0].InWords())) + ".")
	shown := told[:min(len(told), mostPaired)]
	n := numbers{Head: []string{"claim", "where this holds", "draws where it holds", "both hold", "chance of the claim there, %", "from", "to", "in all draws, %"}, Left: 2}
	for _, j := range told {
		n.Rows = append(n.Rows, []string{plain(j.Claim), plain(j.Given), report.Grouped(j.Rows), report.Grouped(j.Both), hundredths(j.Chance), hundredths(j.Low), hundredths(j.High), hundredths(d.chanceOf(j.Claim))})
	}
	var b strings.Builder
	b.WriteString(string(d.figure(picture{Kind: "together", From: "joint, a row a pair", Numbers: n,
		Caption: "How often a claim holds in the draws where another one does; the ring is how often it does in all draws.",
		Note:    d.note("together", "A disc is the share of those draws alone, with its interval, which is sampling error; far from its ring the two claims hang together, or stand in each other's way. They share inputs: that one holds does not make the other hold."),
		Scene:   func(f frame) *draw.Scene { return d.togetherScene(shown, f) },
		Parts:   parts(shown, 5, d.togetherScene)})))
	b.WriteString("<ul>\n")
	for _, j := range shown {
		fmt.Fprintf(&b, "<li>%s.</li>\n", safe(capital(j.InWords())))
	}
	b.WriteString("</ul>\n")
	b.WriteString(elsewhere(len(told)-len(shown), "other pair", "joint.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

// chanceOf is how often a claim holds in all draws.
func (d *data) chanceOf(claim string) *float64 {
	for i := range d.Claims {
		if c := &d.Claims[i]; c.Name == claim {
			return &c.Chance
		}
	}
	return nil
}

// togetherScene draws a pair a row: the claim, where the other holds, both chances.
func (d *data) togetherScene(pairs []*report.Joint, f frame) *draw.Scene {
	left, step, lift := 270.0, 30.0, 0.0
	if f.narrow() {
		left, step, lift = 0, 52, 22
	}
	s := &draw.Scene{Width: f.width, Title: "Claims in the draws where another one holds"}
	scale := draw.NewScale(left+8, f.width-64, 0, 0, 100)
	var about []string
	bottom := step*float64(len(pairs)) + 8
	for i, j := range pairs {
		y := step*float64(i) + 16
		s.Say(0, y+5, draw.Fit(plain(j.Claim)+", where "+plain(j.Given)+" holds", draw.TextSize, max(left-12, f.width-left-4)), draw.Start, draw.Dark)
		about = append(about, j.InWords())
		y += lift
		if j.Chance == nil {
			s.Say(left+8, y+5, "no draw", draw.Start, draw.Soft)
			continue
		}
		at := scale.At(100 * *j.Chance)
		if all := d.chanceOf(j.Claim); all != nil {
			s.Line(scale.At(100**all), y, at, y, draw.Rule, 1)
			s.Ring(scale.At(100**all), y, 4.5, draw.Soft).Tip = fmt.Sprintf("%s in all draws: %s %%", plain(j.Claim), hundredths(all))
		}
		if j.Low != nil && j.High != nil {
			s.Line(scale.At(100**j.Low), y, scale.At(100**j.High), y, draw.Soft, 1.4)
		}
		s.Disc(at, y, 5, draw.Dark).Tip = j.InWords()
		s.Say(f.width, y+5, percent(j.Chance), draw.End, draw.Dark).Bold = true
	}
	s.Axis(scale, bottom, 5, "%")
	s.Height = bottom + 28
	s.About = strings.Join(about, "; ") + "."
	return s
}
