package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
	"proofmass/jobs/result"
)

// whatIsInside shows what cars and packs are made of, where the study says enough of them:
// masses from cells to car, energy a kilogram and a litre, where the energy goes, the cells'
// field and the layers over them.
func whatIsInside(d *data) (section, bool) {
	s := section{ID: "inside", Label: "What is inside"}
	var b strings.Builder
	masses := d.nested()
	for _, figure := range []func() template.HTML{d.nestedFigure, d.steps, d.ladders, d.energy, d.layers, d.fields} {
		b.WriteString(string(figure()))
	}
	if b.Len() == 0 {
		return s, false
	}
	s.Heading = "Where the mass and the energy are."
	if len(masses) > 0 {
		s.Heading = template.HTML(safe(insideSentence(masses)))
	}
	s.Body = template.HTML(b.String())
	return s, true
}

// insideSentence tells the last vehicle's masses against the first one's.
func insideSentence(all []*masses) string {
	last, first := all[len(all)-1], all[0]
	text := fmt.Sprintf("Of the %s of %s the pack is %s", kilograms(last.car), plain(last.vehicle), kilograms(last.pack))
	if last.cells != nil {
		text += " and its cells " + kilograms(last.cells)
	}
	if first != last {
		text += fmt.Sprintf("; of the %s of %s, %s", kilograms(first.car), plain(first.vehicle), kilograms(first.pack))
		if first.cells != nil {
			text += " and " + kilograms(first.cells)
		}
	}
	return text + "."
}

func kilograms(r *result.SummaryRow) string {
	return with(figures(&r.P05, &r.P50, &r.P95)[1], r.Unit)
}

// summaryOf is a row of inside as one of the summary, whose own row is told where there is
// one: it is of all draws.
func (d *data) summaryOf(r *result.InsideRow) *result.SummaryRow {
	if own := d.rows[r.Output]; own != nil {
		return own
	}
	return &result.SummaryRow{Output: r.Output, Vehicle: r.Vehicle, Quantity: r.Quantity, Unit: r.Unit, Rows: r.Rows, Infeasible: r.Infeasible,
		Mean: r.Mean, P05: r.P05, P25: r.P25, P50: r.P50, P75: r.P75, P95: r.P95, Meaning: r.Meaning}
}

// shown are the quantities of one of the figures of vehicles, with the vehicles that have
// them; those without a value in any draw are left out.
func (d *data) shown(figure string) []*quantity {
	var all []*quantity
	of := map[string]*quantity{}
	for i := range d.inside {
		r := &d.inside[i]
		if r.Figure != figure || r.P50 != r.P50 {
			continue
		}
		q := of[r.Quantity]
		if q == nil {
			q = &quantity{name: r.Quantity, base: d.baseline()}
			of[r.Quantity] = q
			all = append(all, q)
		}
		q.rows = append(q.rows, d.summaryOf(r))
	}
	return all
}

// rowOf is a vehicle's row of a quantity, nil if it has none.
func rowOf(all []*quantity, name, vehicle string) *result.SummaryRow {
	for _, q := range all {
		for _, r := range q.rows {
			if q.name == name && r.Vehicle == vehicle {
				return r
			}
		}
	}
	return nil
}

// insideVehicles are the vehicles of the table in its order.
func (d *data) insideVehicles() []string {
	var all []string
	for i := range d.inside {
		if v := d.inside[i].Vehicle; !slices.Contains(all, v) {
			all = append(all, v)
		}
	}
	return all
}

// inkOf is the ink of a vehicle's marks.
func (d *data) inkOf(vehicle string) draw.Ink {
	return (&quantity{base: d.baseline()}).ink(&result.SummaryRow{Vehicle: vehicle})
}

// insideNumbers are the rows behind a figure.
func insideNumbers(all []*quantity) numbers {
	n := numbers{Head: []string{"output", "unit", "p05", "p25", "middle", "p75", "p95", "mean", "draws", "infeasible"}, Left: 2}
	for _, q := range all {
		for _, r := range q.rows {
			f := figures(&r.P05, &r.P25, &r.P50, &r.P75, &r.P95, &r.Mean)
			n.Rows = append(n.Rows, append([]string{plain(r.Output), plain(r.Unit)}, append(f, report.Grouped(r.Rows), report.Grouped(r.Infeasible))...))
		}
	}
	return n
}

const fromInside = "inside, and summary where it has the row"
