package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// mostGains is how many gains get a figure, those of which something is claimed first.
const mostGains = 4

// whatMakes shows what the gains of candidates over the baseline are made of: causes that add
// up, whatever their order. A mass by itself is told by the steps of what is inside.
func whatMakes(d *data) (section, bool) {
	s := section{ID: "makes", Label: "What makes it"}
	var said []string
	var b strings.Builder
	all := d.toldGains()
	for _, g := range all[:min(len(all), mostGains)] {
		said = append(said, gainSentence(g))
		b.WriteString(string(d.gainFigure(g)))
	}
	if len(said) == 0 {
		return s, false
	}
	s.Heading = template.HTML(strings.Join(said[:1], " "))
	b.WriteString(elsewhere(len(all)-mostGains, "other gain", "attribution.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

// toldGains are those with something to tell, of claims first.
func (d *data) toldGains() []*report.Gain {
	var all []*report.Gain
	add := func(g *report.Gain) {
		if g == nil || len(g.Causes) == 1 && len(g.Causes[0].Parts) == 0 {
			return
		}
		if !slices.Contains(all, g) {
			all = append(all, g)
		}
	}
	for i := range d.Claims {
		add(d.Gain(d.Claims[i].Of))
	}
	for i := range d.Gains {
		add(d.Gain(d.Gains[i].Output))
	}
	return all
}

// gainSentence names the largest causes of a gain.
func gainSentence(g *report.Gain) string {
	vehicle, quantity := split(g.Output)
	return fmt.Sprintf("%s of <i>%s</i>: %s.", capital(safe(report.QuantityName(quantity))), safe(vehicle), draw.Signed(safe(g.Largest())))
}

// gainSteps are the causes, or what the only one is made of.
func gainSteps(g *report.Gain) []report.Cause {
	if len(g.Causes) == 1 && len(g.Causes[0].Parts) > 0 {
		return g.Causes[0].Parts
	}
	return g.Causes
}

func (d *data) gainFigure(g *report.Gain) template.HTML {
	vehicle, quantity := split(g.Output)
	unit := g.Unit
	if unit == "%" {
		unit = "points"
	}
	n := numbers{Head: []string{"cause", "part of", "unit", "mean", "low", "high", "p05", "middle", "p95"}, Left: 3}
	add := func(cause, of string, a *report.Averaged) {
		f := figures(a.Mean, a.Low, a.High, a.P05, a.P50, a.P95)
		n.Rows = append(n.Rows, append([]string{plain(cause), plain(of), unit}, f...))
	}
	for i := range g.Causes {
		c := &g.Causes[i]
		add(c.Name, "", &c.Averaged)
		for k := range c.Parts {
			add(c.Parts[k].Name, c.Name, &c.Parts[k].Averaged)
		}
	}
	add("total", "", &g.Total)
	var steps []massStep
	for _, c := range gainSteps(g) {
		if c.Mean != nil {
			steps = append(steps, massStep{words: plain(c.Name), change: *c.Mean})
		}
	}
	l := ledger{fmt.Sprintf("What makes the %s of %s", plain(report.QuantityName(quantity)), plain(vehicle)), d.baseline(), vehicle, unit,
		func(x float64) string {
			if x == 0 {
				return "0"
			}
			return with(draw.Signed(g.Signed(x)), unit)
		}, func(x float64) string { return g.Signed(x) }}
	return d.figure(picture{Kind: "gains", Subject: g.Output, Numbers: n, From: "attribution, rows of " + plain(g.Output),
		Caption: template.HTML(fmt.Sprintf("What makes the %s of <i>%s</i>: means over the draws, which add up.", safe(report.QuantityName(quantity)), safe(vehicle))),
		Note:    d.note("gains", "A bar is what the two vehicles' difference in one thing brings, averaged over every order in which the differences could come; so none is favoured, and the bars lead from the baseline to the candidate."),
		Scene:   func(f frame) *draw.Scene { return stepScene(l, steps, 0, *g.Total.Mean, f) }})
}
