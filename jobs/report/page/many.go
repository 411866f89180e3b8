package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// fewStrokes stand for all draws where a claim has a line: one a twentieth, so that nineteen
// long ones are "stands" and one is "falls".
const fewStrokes = 20

// manyVerdicts are the claims of a study that makes more than a reader takes in one by one:
// a line each.
func (d *data) manyVerdicts(s section) section {
	claims := make([]*report.Claim, len(d.Claims))
	n := numbers{Head: []string{"claim", "verdict", "tested", "held", "draws", "chance, %", "from", "to"}, Left: 3}
	for i := range d.Claims {
		c := &d.Claims[i]
		claims[i] = c
		n.Rows = append(n.Rows, verdictRow(c))
	}
	s.Heading = template.HTML(safe(d.Tally()))
	s.Body = d.figure(picture{Kind: "verdicts", Caption: "Each claim in a line: its verdict, and the share of the draws in which it holds.", From: "claims, a row a claim",
		Note:    d.note("verdicts", "Twenty strokes stand for all draws: a long one is a twentieth in which the claim holds, a short one a twentieth in which it does not. A claim stands from nineteen long strokes on, and falls with one or none. The interval of each chance, sampling error alone, stands in the numbers."),
		Numbers: n, Scene: func(f frame) *draw.Scene { return linesScene(claims, f) },
		Parts: parts(claims, 12, linesScene)})
	for _, c := range claims {
		if odd := c.RestsOnOdd(); odd != "" {
			s.Body += template.HTML(`<p class="note"><i>` + safe(report.ClaimName(plain(c.Name))) + `</i> ` + safe(odd) + `.</p>`)
		}
	}
	return s
}

func hundredths(x *float64) string {
	if x == nil {
		return unknown
	}
	return fmt.Sprintf("%.2f", 100**x)
}

func linesScene(claims []*report.Claim, f frame) *draw.Scene {
	width := f.width
	step, at := 24.0, 110.0
	for _, c := range claims {
		at = max(at, min(250, draw.Width(report.ClaimName(plain(c.Name)), draw.TextSize, false)+18))
	}
	if f.narrow() {
		step, at = 46, 0
	}
	s := &draw.Scene{Width: width, Height: step*float64(len(claims)) + 4, Title: "The verdict on each claim"}
	var about []string
	const pitch = 6.5
	for i, c := range claims {
		y := step*float64(i) + 17
		name, verdict, words := report.ClaimName(plain(c.Name)), c.InWords(), short(capital(c.Frequency))
		if f.narrow() {
			s.Say(0, y, draw.Fit(name, draw.TextSize, width-14-draw.Width(verdict, draw.TextSize, true)), draw.Start, draw.Dark).Italic = true
			s.Say(width, y, verdict, draw.End, draw.Dark).Bold = true
			y += 20
		} else {
			s.Say(0, y, draw.Fit(name, draw.TextSize, at-14), draw.Start, draw.Dark).Italic = true
			s.Say(at+fewStrokes*pitch+16, y, verdict, draw.Start, draw.Dark).Bold = true
		}
		tip := name + ": " + verdict + ", " + c.Frequency
		for k := range fewStrokes {
			x := at + 2 + float64(k)*pitch
			switch held := fewStrokes * c.Chance; {
			case float64(k)+1 <= math.Floor(held+1e-9):
				s.Line(x, y-12, x, y+2, draw.Dark, 2).Tip = tip
			case float64(k) < held && float64(k)+0.1 < held: // part of a twentieth
				s.Line(x, y-5, x, y+2, draw.Dark, 2).Tip = tip
			default:
				s.Line(x, y-1, x, y+2, draw.Rule, 1.6).Tip = tip
			}
		}
		if f.narrow() {
			s.Say(width, y, draw.Fit(words, draw.TextSize, width-fewStrokes*pitch-16), draw.End, draw.Soft)
		} else {
			s.Say(width, y, draw.Fit(words, draw.TextSize, width-at-fewStrokes*pitch-130), draw.End, draw.Soft)
		}
		about = append(about, tip)
	}
	s.About = strings.Join(about, "; ") + "."
	return s
}

// short is a frequency without what the place says already.
func short(frequency string) string {
	frequency, _, _ = strings.Cut(frequency, ":")
	return strings.TrimSuffix(strings.TrimSuffix(frequency, " hold it"), " holds it")
}
