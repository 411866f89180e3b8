package page

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// mostFacts is how many facts get a row in the figure, those that contradict first.
const mostFacts = 8

// evidence shows what was measured, what the inputs made likely of it, and what quantities
// and claims were before it and are now.
func evidence(d *data) (section, bool) {
	e := d.Evidence
	s := section{ID: "evidence", Label: "Before and after"}
	if e == nil {
		return s, false
	}
	head := fmt.Sprintf("%s from outside %s taken in.", capital(report.Counted(len(e.Facts), "fact")), was(len(e.Facts)))
	odd := slices.IndexFunc(e.Facts, func(f report.Fact) bool { return f.Odd })
	switch {
	case odd >= 0:
		head = fmt.Sprintf("What was measured of <i>%s</i> contradicts what else is believed: one of the two is wrong, or known less well than stated.", safe(e.Facts[odd].Of))
	case len(e.Claims) > 0:
		most := e.Furthest()
		head += " " + italic(report.ClaimName(most.Claim)) + ": " + strings.ReplaceAll(safe(most.Moved()), " %", "\u00a0%") + "."
	}
	s.Heading = template.HTML(head)
	var b strings.Builder
	fmt.Fprintf(&b, "<p>%s.", capital(safe(e.Counts(d.Run.Rows))))
	if e.Few() {
		fmt.Fprintf(&b, " That is few: what would help is %s.", safe(e.Help()))
	}
	b.WriteString("</p>\n<ul>")
	facts := e.InOrder()
	for _, f := range facts[:min(len(facts), mostFacts)] {
		fmt.Fprintf(&b, "<li><i>%s</i>: %s; it lies %s</li>\n", safe(f.Of), safe(f.Said()), safe(f.Place()))
	}
	b.WriteString("</ul>\n")
	b.WriteString(string(d.figure(d.evidencePicture(facts[:min(len(facts), mostFacts)]))))
	b.WriteString(elsewhere(len(facts)-mostFacts, "other fact", "evidence.parquet"))
	s.Body = template.HTML(b.String())
	return s, true
}

func was(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

func (d *data) evidencePicture(facts []*report.Fact) picture {
	n := numbers{Head: []string{"what", "unit", "measured", "sd", "before, p05", "p50", "p95", "after, p05", "p50", "p95"}, Left: 2}
	for _, f := range facts {
		row := []string{plain(f.Of), plain(f.Unit), short3(&f.Value), short3(f.SD)}
		for _, s := range []report.Spread{f.Before, f.After} {
			row = append(row, short3(s.P05), short3(s.P50), short3(s.P95))
		}
		n.Rows = append(n.Rows, row)
	}
	for _, m := range d.Evidence.Claims {
		n.Rows = append(n.Rows, []string{"chance of " + report.ClaimName(m.Claim), "%", "", "", "", report.Short(100 * m.Before), "", "", report.Short(100 * m.After), ""})
	}
	claims := d.Evidence.Claims
	return picture{Kind: "evidence", Subject: "facts", Caption: "What was measured, and what it and the claims were before and are after.", From: "evidence, summary_before, summary, claims_before, claims",
		Note:    d.note("evidence", "In each row the hollow mark and its line are nine in ten draws before what was measured, the full ones those after; the cross is the reading, with the range in which nine in ten such readings would lie. Each row has a scale of its own."),
		Numbers: n, Scene: func(f frame) *draw.Scene { return evidenceScene(facts, claims, f) }}
}

func evidenceScene(facts []*report.Fact, claims []report.Shifted, f frame) *draw.Scene {
	s := &draw.Scene{Width: f.width, Title: "Before and after what was measured"}
	left := 64.0
	var about []string
	y := 0.0
	for _, x := range facts {
		s.Plate(0, y+13, draw.Fit(plain(x.Of)+", "+plain(x.Text), draw.TextSize, f.width), draw.Start).Bold = true
		var ends []float64
		low, high := x.Value, x.Value
		if x.SD != nil {
			low, high = x.Value-nineInTen**x.SD, x.Value+nineInTen**x.SD
		}
		ends = append(ends, low, high)
		ends = append(ends, given(x.Before.P05, x.Before.P50, x.Before.P95, x.After.P05, x.After.P50, x.After.P95)...)
		scale := draw.NewScale(left, f.width-12, 0.04, ends...)
		for i, label := range []string{"reading", "before", "after"} {
			s.Say(0, y+35+16*float64(i), label, draw.Start, draw.Soft)
		}
		s.Line(scale.At(low), y+30, scale.At(high), y+30, draw.Soft, 1.2)
		s.Cross(scale.At(x.Value), y+30)
		rangeMark(s, scale, &x.Before, y+46, false)
		rangeMark(s, scale, &x.After, y+62, true)
		s.Axis(scale, y+72, 6, plain(x.Unit))
		about = append(about, plain(x.Of)+" "+plain(x.Narrowed()))
		y += 106
	}
	if len(claims) > 0 {
		s.Plate(0, y+13, "chance of each claim, before (hollow) and after", draw.Start).Bold = true
		y += 22
		names := 120.0
		scale := draw.NewScale(names, f.width-22, 0, 0, 100)
		for _, m := range claims[:min(len(claims), f.rows)] {
			s.Say(0, y+13, draw.Fit(plain(report.ClaimName(m.Claim)), draw.TextSize, names-10), draw.Start, draw.Dark)
			from, to := scale.At(100*m.Before), scale.At(100*m.After)
			s.Line(from, y+9, to, y+9, draw.Soft, 1.2)
			s.Ring(from, y+9, 4, draw.Dark)
			s.Disc(to, y+9, 4, draw.Dark)
			about = append(about, plain(m.InWords()))
			y += 22
		}
		s.Axis(scale, y+4, 6, "%")
		y += 34
	}
	s.Height = y
	s.About = strings.Join(about, "; ") + "."
	return s
}

// rangeMark draws the middle and nine in ten draws, as far as they are told.
func rangeMark(s *draw.Scene, scale draw.Scale, r *report.Spread, y float64, full bool) {
	if r.P05 != nil && r.P95 != nil {
		width := 1.4
		if full {
			width = 4
		}
		s.Line(scale.At(*r.P05), y, scale.At(*r.P95), y, draw.Dark, width)
	}
	switch {
	case r.P50 == nil:
	case full:
		s.Disc(scale.At(*r.P50), y, 5, draw.Dark)
	default:
		s.Ring(scale.At(*r.P50), y, 5, draw.Dark)
	}
}

// readCounted reads draws of equal weight after what was measured: at most so many rows, each
// as often as its weight asks for (systematic resampling from the middle of the first step: the
// same rows each time the page is drawn).
func (d *data) readCounted(most int, reader *result.SliceReader, names []string) (columns [][]float64, step int, err error) {
	likely, moved := "log_likelihood", d.Evidence.Moved != nil
	if moved {
		likely = "weight" // of draws that were moved it is what their population counts
	}
	log, err := reader.Column(likely)
	if err != nil {
		return nil, 0, err
	}
	picked, err := counted(log, most, moved)
	if err != nil {
		return nil, 0, err
	}
	for _, name := range names {
		all, err := reader.Column(strings.ReplaceAll(name, ".", "_"))
		if err != nil {
			return nil, 0, err
		}
		kept := make([]float64, 0, len(picked))
		at := 0
		if err := all.Each(0, all.Rows(), func(piece []float64) error {
			for len(kept) < len(picked) && picked[len(kept)] < at+len(piece) {
				kept = append(kept, piece[picked[len(kept)]-at])
			}
			at += len(piece)
			return nil
		}); err != nil {
			return nil, 0, err
		}
		columns = append(columns, d.inShown(name, kept))
	}
	return columns, max(1, (log.Rows()+most-1)/most), nil
}

// counted picks rows, in their order, in proportion to their likelihoods, or to weights. It reads
// the column three times and keeps what it picks.
func counted(log *result.SliceColumn, most int, weights bool) ([]int, error) {
	greatest, all := math.Inf(-1), 0.0
	each := func(f func(row int, weight float64)) error {
		row := 0
		return log.Each(0, log.Rows(), func(piece []float64) error {
			for _, l := range piece {
				switch {
				case weights:
					f(row, l)
				case l == l:
					f(row, math.Exp(l-greatest))
				}
				row++
			}
			return nil
		})
	}
	if err := log.Each(0, log.Rows(), func(piece []float64) error {
		for _, l := range piece {
			if l > greatest {
				greatest = l
			}
		}
		return nil
	}); err != nil {
		return nil, err
	}
	if err := each(func(_ int, w float64) { all += w }); err != nil {
		return nil, err
	}
	n := min(most, log.Rows())
	picked := make([]int, 0, n)
	below := 0.0
	err := each(func(row int, w float64) {
		below += w
		for len(picked) < n && (float64(len(picked))+0.5)/float64(n)*all < below {
			picked = append(picked, row)
		}
	})
	return picked, err
}
