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

// masses are those of one vehicle; cells is nil where nothing tells them.
type masses struct {
	vehicle          string
	cells, pack, car *result.SummaryRow
}

// nested are the vehicles whose pack and car have a mass.
func (d *data) nested() []*masses {
	all := d.shown("mass")
	var found []*masses
	for _, v := range d.insideVehicles() {
		m := &masses{v, rowOf(all, "cells_mass", v), rowOf(all, "pack_mass", v), rowOf(all, "kerb_mass", v)}
		if m.pack != nil && m.car != nil && m.car.P50 > 0 {
			found = append(found, m)
		}
	}
	return found
}

// nestedFigure draws the masses of cells, pack and car, each inside the next.
func (d *data) nestedFigure() template.HTML {
	all := d.nested()
	if len(all) == 0 {
		return ""
	}
	return d.figure(picture{Kind: "nested", Caption: "Cells in pack in car: masses at the middle of the draws, all from one zero.", From: fromInside,
		Numbers: insideNumbers(d.shown("mass")), Scene: func(f frame) *draw.Scene { return d.nestedScene(all, f) }, Parts: parts(all, 3, d.nestedScene)})
}

func (d *data) nestedScene(all []*masses, f frame) *draw.Scene {
	const high, step = 62.0, 96.0
	s := &draw.Scene{Width: f.width, Title: "Masses of cells, pack and car"}
	most := 0.0
	for _, m := range all {
		most = max(most, m.car.P50)
	}
	at := func(r *result.SummaryRow) float64 { return min(max(r.P50, 0)/most, 1) * (f.width - 2) }
	var about []string
	y := 0.0
	for _, m := range all {
		ink := d.inkOf(m.vehicle)
		s.Say(1, y+14, draw.Fit(plain(m.vehicle), draw.TextSize, f.width), draw.Start, ink).Bold = true
		y += 22
		spread := func(what string, r *result.SummaryRow) string {
			f := figures(&r.P05, &r.P50, &r.P95)
			return what + " of " + plain(m.vehicle) + ": " + inDraws(f, r.Unit)
		}
		s.Box(1, y, at(m.car), high, draw.Wash, draw.Rule).Tip = spread("car", m.car)
		wash := draw.Washed(ink)
		if wash == draw.Wash { // as the car has: a study of one vehicle
			wash = draw.Hair
		}
		s.Box(1, y, at(m.pack), high*2/3, wash, draw.None).Tip = spread("pack", m.pack)
		words := at(m.pack) + 12
		if m.cells != nil {
			s.Box(1, y, at(m.cells), high/3, ink, draw.None).Tip = spread("cells", m.cells)
			nestedWords(s, words, y+15, "cells", m.cells, share100(m.cells.P50, m.pack.P50)+" of the pack")
		}
		nestedWords(s, words, y+35, "pack", m.pack, share100(m.pack.P50, m.car.P50)+" of the car")
		nestedWords(s, words, y+55, "car", m.car, "")
		text := fmt.Sprintf("%s: car %s, pack %s", plain(m.vehicle), kilograms(m.car), kilograms(m.pack))
		if m.cells != nil {
			text += ", cells " + kilograms(m.cells)
		}
		about = append(about, text)
		y += step - 22
	}
	s.Height = y - (step - 22 - high) + 1
	s.About = strings.Join(about, "; ") + "."
	return s
}

func nestedWords(s *draw.Scene, x, y float64, what string, r *result.SummaryRow, share string) {
	first := s.Say(x, y, what+" "+kilograms(r), draw.Start, draw.Dark)
	first.Bold = true
	if share != "" && x+first.Width()+10+draw.Width(share, draw.TextSize, false) < s.Width {
		s.Say(x+first.Width()+10, y, share, draw.Start, draw.Soft)
	}
}

func share100(part, whole float64) string {
	return fmt.Sprintf("%.0f\u00a0%%", 100*part/whole)
}

// A massStep is what one thing adds to a car's mass.
type massStep struct {
	words  string
	change float64
	rest   bool // what is left over
}

// steps draws, for the first candidates, how the mass of the baseline becomes theirs.
func (d *data) steps() template.HTML {
	base := d.baseline()
	var b strings.Builder
	known := 0
	for _, v := range d.insideVehicles() {
		if v == base || base == "" {
			continue
		}
		if steps, from, to := d.stepsOf(base, v); len(steps) > 1 {
			if known++; known <= mostPairs {
				b.WriteString(string(d.stepFigure(base, v, steps, from, to)))
			}
		}
	}
	b.WriteString(elsewhere(known-mostPairs, "other vehicle", "inside.parquet"))
	return template.HTML(b.String())
}

// stepsOf are the steps from the baseline to a candidate, of means over the same draws, so
// that they add up; the ends are the means of the cars.
func (d *data) stepsOf(base, candidate string) (steps []massStep, from, to float64) {
	mean := func(vehicle, quantity string) float64 {
		for i := range d.inside {
			if r := &d.inside[i]; r.Figure == "mass" && r.Vehicle == vehicle && r.Quantity == quantity {
				return r.Mean
			}
		}
		return math.NaN()
	}
	or0 := func(x float64) float64 {
		if x != x {
			return 0
		}
		return x
	}
	change := func(quantity string) float64 { return mean(candidate, quantity) - mean(base, quantity) }
	from, to = mean(base, "kerb_mass"), mean(candidate, "kerb_mass")
	rest := to - from
	add := func(words string, by float64) {
		if by == by && math.Abs(by) >= 0.05 {
			steps, rest = append(steps, massStep{words: words, change: by}), rest-by
		}
	}
	cells, pack := change("cells_mass"), change("pack_mass")
	if lines := d.linesOf(base, candidate, result.PackLines); len(lines) > 0 {
		cells = 0
		for _, line := range lines {
			add(line.words, line.change)
			cells += line.change
		}
	} else {
		add("cells", cells)
	}
	add(map[bool]string{true: "rest of the pack", false: "pack"}[cells == cells], pack-or0(cells))
	add("body that it replaces", -(or0(mean(candidate, "displaced_mass")) - or0(mean(base, "displaced_mass"))))
	add("body added for it", or0(mean(candidate, "added_mass"))-or0(mean(base, "added_mass")))
	for _, line := range d.linesOf(base, candidate, result.CarLines) {
		add(line.words, line.change)
	}
	if from-from+to-to != 0 {
		return nil, 0, 0
	}
	if math.Abs(rest) >= 0.05 {
		steps = append(steps, massStep{words: "all else", change: rest, rest: true})
	}
	return steps, from, to
}

// linesOf are the changes that lines of bills make, in the order of the table.
func (d *data) linesOf(base, candidate, figure string) []massStep {
	var all []massStep
	for i := range d.inside {
		r := &d.inside[i]
		if r.Figure != figure || r.Vehicle != base && r.Vehicle != candidate {
			continue
		}
		words := strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(r.Quantity, "bill."), ".total"), "_", " ")
		at := slices.IndexFunc(all, func(s massStep) bool { return s.words == words })
		if at < 0 {
			at, all = len(all), append(all, massStep{words: words})
		}
		if r.Vehicle == base {
			all[at].change -= r.Mean
		} else {
			all[at].change += r.Mean
		}
	}
	return all
}

func (d *data) stepFigure(base, candidate string, steps []massStep, from, to float64) template.HTML {
	n := numbers{Head: []string{"step", "kg"}, Left: 1}
	tenth := func(x float64) string { return draw.Signed(fmt.Sprintf("%.1f", x)) }
	n.Rows = append(n.Rows, []string{plain(base), tenth(from)})
	for _, st := range steps {
		n.Rows = append(n.Rows, []string{st.words, tenth(st.change)})
	}
	n.Rows = append(n.Rows, []string{plain(candidate), tenth(to)})
	caption := fmt.Sprintf("From the mass of <i>%s</i> to that of <i>%s</i>, step by step; the axis does not start at nil. Means over %s draws, which add up.",
		safe(base), safe(candidate), report.Grouped(d.inside[0].Rows))
	return d.figure(picture{Kind: "steps", Subject: candidate, Caption: template.HTML(caption), From: "inside, means of figure mass", Numbers: n,
		Scene: func(f frame) *draw.Scene { return stepScene(massLedger(base, candidate), steps, from, to, f) }})
}

// A ledger is how steps from one vehicle to another are told.
type ledger struct {
	title, base, candidate, unit string
	level                        func(x float64) string // of an end, with its unit
	step                         func(x float64) string
}

func massLedger(base, candidate string) ledger {
	return ledger{"From the mass of " + plain(base) + " to that of " + plain(candidate), base, candidate, "kg",
		func(x float64) string { return fmt.Sprintf("%.0f\u00a0kg", x) }, func(x float64) string { return fmt.Sprintf("%+.1f", x) }}
}

func stepScene(l ledger, steps []massStep, from, to float64, f frame) *draw.Scene {
	base, candidate := l.base, l.candidate
	left, step := 210.0, 32.0
	if f.narrow() {
		left, step = 0, 46
	}
	s := &draw.Scene{Width: f.width, Title: l.title}
	ends := []float64{from, to}
	at := from
	for _, st := range steps {
		at += st.change
		ends = append(ends, at)
	}
	scale := draw.NewScale(left+60, f.width-64, 0.04, ends...)
	place := func(row int) (label, mark float64) {
		y := step * float64(row)
		if f.narrow() {
			return y + 14, y + 30
		}
		return y + 21, y + 16
	}
	name := func(row int, words string, ink draw.Ink) float64 {
		label, mark := place(row)
		wide := left - 10
		if f.narrow() {
			wide = f.width
		}
		s.Plate(0, label, draw.Fit(words, draw.TextSize, wide), draw.Start).Ink = ink
		return mark
	}
	y := name(0, plain(base), draw.Base)
	x := scale.At(from)
	about := []string{plain(base) + " " + l.level(from)}
	at = from
	for i, st := range steps {
		_, next := place(i + 1)
		s.Line(scale.At(at), y+5, scale.At(at), next, draw.Rule, 1)
		y = name(i+1, st.words, draw.Dark)
		words := l.step(st.change)
		x1, x2 := min(scale.At(at), scale.At(at+st.change)), max(scale.At(at), scale.At(at+st.change))
		if st.rest {
			p := s.Box(x1, y-3, max(x2-x1, 1), 6, draw.None, draw.Dark)
			p.Hatch, p.Tip = true, st.words+": "+with(draw.Signed(words), l.unit)
		} else {
			s.Box(x1, y-3, max(x2-x1, 1), 6, draw.Dark, draw.None).Tip = st.words + ": " + with(draw.Signed(words), l.unit)
		}
		s.Say(x2+7, y+5, draw.Signed(words), draw.Start, draw.Dark).Bold = true
		at += st.change
		about = append(about, st.words+" "+draw.Signed(words))
	}
	s.Square(x, func() float64 { _, m := place(0); return m }(), 5, draw.Base)
	_, first := place(0)
	if words := l.level(from); x-9-draw.Width(words, draw.TextSize, true) > left {
		s.Say(x-9, first+5, words, draw.End, draw.Dark).Bold = true
	} else {
		s.Say(x+9, first+5, words, draw.Start, draw.Dark).Bold = true
	}
	_, last := place(len(steps) + 1)
	s.Line(scale.At(at), y+3, scale.At(at), last, draw.Rule, 1)
	y = name(len(steps)+1, plain(candidate), draw.Cand)
	s.Disc(scale.At(to), y, 5, draw.Cand)
	if words := l.level(to); scale.At(to)-9-draw.Width(words, draw.TextSize, true) > left {
		s.Say(scale.At(to)-9, y+5, words, draw.End, draw.Dark).Bold = true
	} else {
		s.Say(scale.At(to)+9, y+5, words, draw.Start, draw.Dark).Bold = true
	}
	bottom := step*float64(len(steps)+2) + 6
	s.Axis(scale, bottom, 5, plain(l.unit))
	s.Height = bottom + 26
	s.About = strings.Join(append(about, plain(candidate)+" "+l.level(to)), "; ") + "."
	return s
}
