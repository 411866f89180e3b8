package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/estimate"
	"proofmass/sensitivity/split"
)

// aboutCandidate says of a row that it is of what the candidate has over the baseline.
const aboutCandidate = "candidate"

// Causes makes the rows of attribution.parquet for one candidate, of the columns of its
// program in SI. summary are the rows of the summary: the mean of a total is corrected to
// that of all draws, and the causes' in proportion to how they go with it.
func (a *Analyst) Causes(c *plan.Causes, columns [][]float64, summary []result.SummaryRow) ([]result.CauseRow, error) {
	divided, err := a.divided()
	if err != nil {
		return nil, err
	}
	var rows []result.CauseRow
	for i := range c.Outputs {
		o := &c.Outputs[i]
		d := divide(c, o, columns)
		if o.Itself && len(d.entries) == 1 {
			continue // it is its own cause
		}
		table, err := a.causeRows(d, o, summary, divided)
		if err != nil {
			return nil, err
		}
		rows = append(rows, table...)
	}
	return rows, nil
}

// A division is an output row by row: the total, and each cause and part with its name.
type division struct {
	total   []float64 // NaN where a row is left out
	entries []entry
	orders  int64 // random ones that stand for all; 0: all
}

type entry struct {
	cause, partOf string
	shares        []float64
	halfWidth     float64 // of its mean, from random orders
}

// divide shares out each row of an output. The total is the sum of the causes, in their
// order, which is the change but for rounding.
func divide(c *plan.Causes, o *plan.CausedOutput, columns [][]float64) *division {
	n := len(columns[o.Values[0]])
	d := &division{total: make([]float64, n), entries: make([]entry, len(o.Causes))}
	if len(o.Causes) > split.Exact {
		d.orders = split.Orders
	}
	place := map[split.Set]int{}
	for i, s := range o.Sets {
		place[s] = o.Values[i]
	}
	for k, cause := range o.Causes {
		d.entries[k] = entry{cause: cause, shares: make([]float64, n)}
	}
	for row := range n {
		shares, wide := split.Shares(len(o.Causes), func(s split.Set) float64 { return columns[place[s]][row] })
		for k, share := range shares {
			d.entries[k].shares[row] = share
			d.total[row] += share
			if wide[k] == wide[k] {
				d.entries[k].halfWidth += float64(wide[k] / float64(n))
			}
		}
	}
	if o.Mass >= 0 {
		d.entries = append(d.entries, massParts(c.Mass, &d.entries[o.Mass], d.total, columns)...)
	}
	for k := range d.entries {
		for row, total := range d.total {
			if total != total {
				d.entries[k].shares[row] = math.NaN()
			}
		}
	}
	return d
}

// leastChange is the change of mass, in kg, below which its effect a kilogram is taken from
// the other rows.
const leastChange = 1e-6

// massParts divides what mass brings among the items of the ledger: by their kilograms, which
// add up to the change of mass. Those that are nil in every row are left out.
func massParts(l *plan.Ledger, mass *entry, total []float64, columns [][]float64) []entry {
	n := len(total)
	change, slope := make([]float64, n), make([]float64, n)
	sum, known := 0.0, 0
	for row := range n {
		change[row] = columns[l.Own][row] - columns[l.Base][row]
		slope[row] = mass.shares[row] / change[row]
		if math.Abs(change[row]) >= leastChange && slope[row] == slope[row] {
			sum += slope[row]
			known++
		}
	}
	for row := range n {
		if math.Abs(change[row]) < leastChange {
			slope[row] = sum / float64(max(known, 1))
		}
	}
	var parts []entry
	rest := entry{cause: plan.RestOfMass, partOf: mass.cause, shares: make([]float64, n)}
	copy(rest.shares, mass.shares)
	for _, item := range l.Items {
		part := entry{cause: item.Name, partOf: mass.cause, shares: make([]float64, n)}
		for row := range n {
			kg := 0.0
			for k, column := range item.Columns {
				kg += float64(item.Signs[k] * columns[column][row])
			}
			part.shares[row] = float64(kg * slope[row])
			rest.shares[row] -= part.shares[row]
		}
		if !isNil(part.shares, mass.shares) {
			parts = append(parts, part)
		}
	}
	switch {
	case len(parts) == 0:
		return nil
	case !isNil(rest.shares, mass.shares):
		return append(parts, rest)
	}
	last := parts[len(parts)-1].shares // what rounding left
	for row := range n {
		last[row] += rest.shares[row]
	}
	return parts
}

// isNil reports whether x is nothing but rounding beside y, in every row.
func isNil(x, y []float64) bool {
	scale := 0.0
	for _, v := range y {
		if a := math.Abs(v); a > scale {
			scale = a
		}
	}
	for _, v := range x {
		if math.Abs(v) > float64(1e-9*scale) {
			return false
		}
	}
	return true
}

// causeRows describes a division in the unit of the output.
func (a *Analyst) causeRows(d *division, o *plan.CausedOutput, summary []result.SummaryRow, divided estimate.Rows) ([]result.CauseRow, error) {
	t, err := a.causeTotal(d, o, summary, divided)
	if err != nil {
		return nil, err
	}
	row := func(cause, partOf string, mean, half float64, s *estimate.Summary) result.CauseRow {
		return result.CauseRow{Choice: int64(a.Plan.Choice), About: aboutCandidate, Output: o.Name, Cause: cause, PartOf: partOf,
			Mean: mean, MeanLow: mean - half, MeanHigh: mean + half, P05: s.P05, P50: s.P50, P95: s.P95, Unit: o.Quantity.Unit.String(),
			Rows: int64(t.of.Rows), Infeasible: int64(t.of.Infeasible), ModelRuns: int64(t.of.Rows * len(o.Sets)), Orders: d.orders}
	}
	table := []result.CauseRow{row(result.TotalCause, "", t.mean, t.half, &t.of)}
	for _, e := range d.entries {
		x := deltas(e.shares, o)
		s, err := estimate.Describe(x, divided, a.options(), nil)
		if err != nil {
			return nil, err
		}
		slope := slopeOn(x, t.values, divided.Weight)
		apart := make([]float64, len(x)) // what does not go with the total, which more rows tell of
		for i := range x {
			apart[i] = x[i] - float64(slope*t.values[i])
		}
		rest, err := estimate.Describe(apart, divided, a.options(), nil)
		if err != nil {
			return nil, err
		}
		half, orders := halfOf(rest.MeanInterval), math.Abs(o.Quantity.Unit.DeltaFromSI(e.halfWidth))
		half = math.Sqrt(float64(half*half) + float64(slope*t.half)*float64(slope*t.half) + float64(orders*orders))
		table = append(table, row(e.cause, e.partOf, s.Mean+float64(slope*(t.mean-t.of.Mean)), half, &s))
	}
	return table, nil
}

// A causeTotal is the total of a division in the rows that were divided, and its mean over
// all rows where the summary has that.
type causeTotal struct {
	values     []float64
	of         estimate.Summary
	mean, half float64
}

func (a *Analyst) causeTotal(d *division, o *plan.CausedOutput, summary []result.SummaryRow, divided estimate.Rows) (*causeTotal, error) {
	t := &causeTotal{values: deltas(d.total, o)}
	var err error
	if t.of, err = estimate.Describe(t.values, divided, a.options(), nil); err != nil {
		return nil, err
	}
	t.mean, t.half = t.of.Mean, halfOf(t.of.MeanInterval)
	if at := slices.IndexFunc(summary, func(r result.SummaryRow) bool { return r.Output == o.Name }); at >= 0 && o.Relative && t.of.SD > 0 {
		all := &summary[at]
		t.mean, t.half = all.Mean, halfOf(estimate.Interval{Low: all.MeanLow, High: all.MeanHigh})
	}
	return t, nil
}

// divided are the rows that are divided: the first of each replicate.
func (a *Analyst) divided() (estimate.Rows, error) {
	bounds := a.causeBounds()
	t, err := a.weighed(subsample{a.bounds, estimate.Rows{Bounds: bounds, Independent: a.independent()}})
	return t.design, err
}

func halfOf(i estimate.Interval) float64 { return (i.High - i.Low) / 2 }

// deltas are differences in the unit of an output.
func deltas(x []float64, o *plan.CausedOutput) []float64 {
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = o.Quantity.Unit.DeltaFromSI(v)
	}
	return y
}

// slopeOn is the slope of the regression of x on y, nil where y does not vary. Rows without a
// value are left out.
func slopeOn(x, y, weight []float64) float64 {
	var n, sumX, sumY, sumXY, sumYY float64
	of := func(i int) float64 {
		if weight == nil {
			return 1
		}
		return weight[i]
	}
	for i, v := range y {
		if w := of(i); v == v {
			n, sumX, sumY = n+w, sumX+float64(w*x[i]), sumY+float64(w*v)
		}
	}
	for i, v := range y {
		if w := of(i); v == v {
			sumXY += float64(w * (x[i] - sumX/n) * (v - sumY/n))
			sumYY += float64(w * (v - sumY/n) * (v - sumY/n))
		}
	}
	if !(sumYY > 0) {
		return 0
	}
	return sumXY / sumYY
}
