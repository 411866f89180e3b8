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
	s.Heading = template.HTML(capital(told[0].Naming(italic)) + ".")
	shown := told[:min(len(told), mostPaired)]
	n := numbers{Head: []string{"claim", "where this holds", "draws where it holds", "both hold", "chance of the claim there, %", "from", "to", "in all draws, %"}, Left: 2}
	for _, j := range told {
		n.Rows = append(n.Rows, []string{plain(j.Claim), plain(j.Given), report.Grouped(j.Rows), report.Grouped(j.Both), hundredths(j.Chance), hundredths(j.Low), hundredths(j.High), hundredths(d.chanceOf(j.Claim))})
	}
	var rows []chanceRow
	for _, j := range shown {
		r := chanceRow{name: plain(j.Claim) + ", where " + plain(j.Given) + " holds", exact: plain(j.InWords()), chance: j.Chance, low: j.Low, high: j.High, ring: d.chanceOf(j.Claim)}
		r.ringExact = fmt.Sprintf("%s in all draws: %s %%", plain(j.Claim), hundredths(r.ring))
		rows = append(rows, r)
	}
	var b strings.Builder
	b.WriteString(string(d.figure(picture{Kind: "together", From: "joint, a row a pair", Numbers: n,
		Caption: "How often a claim holds in the draws where another one does; the ring is how often it does in all draws.",
		Note:    d.note("together", "A disc is the share of those draws alone, with its interval, which is sampling error; far from its ring the two claims hang together, or stand in each other's way. They share inputs: that one holds does not make the other hold."),
		Scene:   func(f frame) *draw.Scene { return togetherScene(rows, f) },
		Parts:   parts(rows, 5, togetherScene)})))
	b.WriteString("<ul>\n")
	for _, j := range shown {
		fmt.Fprintf(&b, "<li>%s.</li>\n", capital(j.Naming(italic)))
	}
	b.WriteString("</ul>\n")
	b.WriteString(elsewhere(len(told)-len(shown), "other pair", "joint.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

// italic sets a claim's name.
func italic(name string) string { return "<i>" + safe(name) + "</i>" }

// chanceOf is how often a claim holds in all draws.
func (d *data) chanceOf(claim string) *float64 {
	for i := range d.Claims {
		if c := &d.Claims[i]; c.Name == claim {
			return &c.Chance
		}
	}
	return nil
}

func togetherScene(rows []chanceRow, f frame) *draw.Scene {
	return chancesScene("Claims in the draws where another one holds", rows, 270, f)
}
