package page

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// mostMeasured is how many claims have a figure of what to measure.
const mostMeasured = 3

// measureNext shows which measurement makes which claim less doubtful.
func measureNext(d *data) (section, bool) {
	s := section{ID: "next", Label: "Measure next"}
	var helped, not []*report.Measure
	for i := range d.Claims {
		c := &d.Claims[i]
		m := d.Next(c.Name)
		switch {
		case m == nil || c.Together():
		case len(m.Helping()) > 0:
			helped = append(helped, m)
		default:
			not = append(not, m)
		}
	}
	if len(helped)+len(not) == 0 {
		return s, false
	}
	var b strings.Builder
	if len(helped) == 0 {
		s.Heading = "No single measurement turns a verdict."
	} else {
		s.Heading = template.HTML(measureSentence(helped[0]))
	}
	for _, m := range helped[:min(len(helped), mostMeasured)] {
		b.WriteString(string(d.measured(m)))
		if l := m.ForMoney(); l != nil {
			b.WriteString("<p>Most for the money: " + safe(l.Named()) + ", after which " + report.Hundred(m.Left(l)) + " of 100 draws are judged wrongly.</p>\n")
		}
	}
	b.WriteString(elsewhere(len(helped)-mostMeasured, "other claim", "measure_next.parquet"))
	for _, m := range not {
		b.WriteString("<p><i>" + safe(m.Claim) + "</i>: " + safe(m.InWords()) + ".</p>\n")
	}
	s.Body = template.HTML(b.String())
	return s, true
}

// measureSentence says what the best measurement does for a claim.
func measureSentence(m *report.Measure) string {
	l := &m.Helping()[0]
	return fmt.Sprintf("Measuring <i>%s</i> would judge <i>%s</i> rightly in %s of 100 draws more.", safe(l.Named()), safe(m.Claim), report.Hundred(*l.Gain))
}

func (d *data) measured(m *report.Measure) template.HTML {
	n := numbers{Head: []string{"item", "gauge's error", "price", "rank for the money", "judged wrongly then, of 100", "fewer", "from", "to", "share of yes or no, %", "spread of the margin left, " + plain(m.Unit)}, Left: 1}
	for _, l := range m.Items {
		rank, gauge := "", "none"
		if l.ForMoney > 0 {
			rank = strconv.FormatInt(l.ForMoney, 10)
		}
		if l.Error > 0 {
			gauge = with(report.AsStated(l.Error), l.ErrorUnit)
		}
		n.Rows = append(n.Rows, []string{plain(l.Item), gauge, plain(l.Costs()), rank, report.Hundred(m.Left(&l)), hundredths(l.Gain), hundredths(l.Low), hundredths(l.High), hundredths(l.Share), digits(l.SDLeft)})
	}
	return d.figure(picture{Kind: "measure", Subject: m.Claim, From: "measure_next, claim " + plain(m.Claim), Numbers: n,
		Caption: template.HTML("What a measurement does for <i>" + safe(m.Claim) + "</i>: draws judged wrongly, now and then."),
		Note:    d.note("measure", "Whoever says of each draw what is likelier of the claim is wrong in as many of 100 as the ring shows. The disc is how many that leaves once the item is known, the bar its interval. Without a gauge's error an item counts as learnt exactly, which no gauge betters."),
		Scene:   func(f frame) *draw.Scene { return measureScene(m, f) }})
}

func measureScene(m *report.Measure, f frame) *draw.Scene {
	helping := m.Helping()
	shown := helping[:min(len(helping), f.rows)]
	left, step, right := 270.0, 34.0, 34.0
	if f.talk {
		shown, step = shown[:min(len(shown), 6)], 40
	}
	if f.narrow() {
		left, step = 8, 52
	}
	s := &draw.Scene{Width: f.width, Title: "What to measure for " + plain(m.Claim)}
	now := 100 * *m.Risk
	scale := draw.NewScale(left, f.width-right, 0, 0, now)
	y := 22.0
	s.Say(scale.At(now), y-6, "now "+report.Hundred(*m.Risk), draw.End, draw.Soft)
	var about []string
	for i := range shown {
		l := &shown[i]
		words := plain(l.Named())
		at := y + 16
		if f.narrow() {
			at = y + 34
			s.Say(0, y+14, draw.Fit(words, draw.TextSize, f.width), draw.Start, draw.Dark)
		} else {
			s.Say(0, at+5, draw.Fit(words, draw.TextSize, left-14), draw.Start, draw.Dark)
		}
		then := 100 * m.Left(l)
		s.Line(scale.At(then), at, scale.At(now), at, draw.Dark, 1.6)
		low, high := max(0, now-float64(100**l.High)), now-float64(100**l.Low)
		s.Box(scale.At(low), at-4, math.Max(scale.At(high)-scale.At(low), 1), 8, draw.Wash, draw.Rule)
		s.Ring(scale.At(now), at, 5, draw.Dark)
		disc := s.Disc(scale.At(then), at, 5.5, draw.Dark)
		disc.Tip = fmt.Sprintf("%s: wrong in %s of 100 then, %s", words, report.Hundred(m.Left(l)), l.Worth())
		about = append(about, disc.Tip)
		number := report.Hundred(m.Left(l))
		if x := scale.At(low) - 8; x-draw.Width(number, draw.TextSize, false) > left {
			s.Say(x, at+5, number, draw.End, draw.Dark)
		} else {
			s.Say(scale.At(high)+10, at-6, number, draw.Start, draw.Dark)
		}
		y += step
	}
	y += 10
	s.Axis(scale, y, 5, "of 100 draws")
	s.Height = y + 26
	if rest := len(helping) - len(shown); rest > 0 {
		s.Say(0, s.Height+14, "others that help: "+report.Counted(rest, "item"), draw.Start, draw.Soft)
		s.Height += 22
	}
	s.About = fmt.Sprintf("Now wrong in %s of 100. %s.", report.Hundred(*m.Risk), strings.Join(about, "; "))
	return s
}
