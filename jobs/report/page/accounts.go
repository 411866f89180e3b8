package page

import (
	"html/template"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// mostRivals is how many claims the figure of rival accounts shows.
const mostRivals = 6

// whatIfOtherwise shows what rival accounts say.
func whatIfOtherwise(d *data) (section, bool) {
	s := section{ID: "accounts", Label: "Rival accounts"}
	a := d.Accounts
	if a == nil {
		return s, false
	}
	s.Heading = "Rival accounts come to the same verdicts."
	n := numbers{Head: []string{"claim", "account", "weight after, of 100", "draws", "chance, %", "from", "to"}, Left: 2}
	var rows []chanceRow
	told := 0
	for i := range a.Claims {
		c := &a.Claims[i]
		if !c.Agree() && s.Heading == "Rival accounts come to the same verdicts." {
			s.Heading = template.HTML("Rival accounts differ on <i>" + safe(report.ClaimName(c.Name)) + "</i>: " + safe(a.Sentence(c)) + ".")
		}
		add := func(name, weight string, x *report.Claim) {
			n.Rows = append(n.Rows, []string{plain(report.ClaimName(c.Name)), plain(name), weight, report.Grouped(x.Rows), hundredths(&x.Chance), hundredths(x.Low), hundredths(x.High)})
			if told < mostRivals {
				row := chanceRow{name: plain(report.ClaimName(c.Name)) + ", " + plain(name), exact: plain(c.Name + ", " + name + ": " + x.Frequency), chance: &x.Chance, low: x.Low, high: x.High}
				if x.Rows == 0 {
					row.chance = nil
				}
				if name != mixedName {
					row.ring, row.ringExact = &c.Mixed.Chance, "mixed"
				}
				rows = append(rows, row)
			}
		}
		add(mixedName, "100", &c.Mixed)
		for k := range c.Each {
			add(a.Each[k].Name, report.Hundred(a.Each[k].After), &c.Each[k])
		}
		told++
	}
	var b strings.Builder
	b.WriteString("<ul>\n")
	for i := range a.Each {
		b.WriteString("<li><i>" + safe(a.Each[i].Name) + "</i>: " + safe(a.Weight(&a.Each[i])) + ".</li>\n")
	}
	b.WriteString("</ul>\n<p>All else on this page is of the account <i>" + safe(a.Told) + "</i>.</p>\n")
	if len(rows) > 0 {
		b.WriteString(string(d.figure(picture{Kind: "accounts", From: "account_claims, a row a claim and account", Numbers: n,
			Caption: "How often a claim holds by each account, and by all of them mixed.",
			Note:    d.note("accounts", "A disc is the share of an account's draws in which the claim holds, with its interval, which is sampling error; the ring is that of all accounts mixed by how far they are believed after what was measured. An account that is vaguer is believed less after a measurement, whatever is true: that is why its weight is told with other widths too."),
			Scene:   func(f frame) *draw.Scene { return rivalScene(rows, f) },
			Parts:   parts(rows, 6, rivalScene)})))
	}
	b.WriteString(elsewhere(len(a.Claims)-mostRivals, "other claim", "account_claims.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

const mixedName = "all mixed"

func rivalScene(rows []chanceRow, f frame) *draw.Scene {
	return chancesScene("Claims by rival accounts", rows, 270, f)
}
