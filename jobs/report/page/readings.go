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
	var rows []chanceRow
	for _, c := range shown {
		rows = append(rows, chanceRow{name: plain(c.Claim) + " as " + plain(c.Of), exact: plain(c.InWords()), chance: c.Chance, low: c.Low, high: c.High})
	}
	var b strings.Builder
	b.WriteString(string(d.figure(picture{Kind: "meant", From: "readings, each reading of a claim once", Numbers: n,
		Caption: "How often a claim holds in each thing that its words could mean.",
		Note:    d.note("meant", "A disc is the share of all draws in which a claim holds if that is what was meant, with its interval, which is sampling error. Nothing here says which reading was meant."),
		Scene:   func(f frame) *draw.Scene { return meantScene(rows, f) },
		Parts:   parts(rows, 5, meantScene)})))
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

func meantScene(rows []chanceRow, f frame) *draw.Scene {
	return chancesScene("Claims in each thing that they could mean", rows, 330, f)
}
