package analyse

import (
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/estimate"
)

// Summary makes the rows of summary.parquet, one for each stored column.
func (a *Analyst) Summary() ([]result.SummaryRow, error) {
	if err := a.weigh(); err != nil {
		return nil, err
	}
	rows := a.rows()
	found := make([]estimate.Summary, len(rows))
	err := a.forEach(len(rows), func(i int, read reader, scratch *estimate.Scratch) error {
		x, err := read(rows[i].stored)
		if err != nil {
			return err
		}
		design, err := a.weighted(read)
		if err != nil {
			return err
		}
		o := a.options()
		o.YesNo = rows[i].yesNo
		found[i], err = estimate.DescribeColumn(x, design, o, scratch)
		if a.poor() {
			withhold(&found[i])
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	table := make([]result.SummaryRow, len(rows))
	a.spreads, a.deviations = map[string]float64{}, map[string]deviation{}
	a.middles = map[string][2]float64{}
	for i, r := range rows {
		a.spreads[r.stored] = found[i].P95 - found[i].P05
		a.deviations[r.stored] = deviation{found[i].SD, found[i].SDInterval}
		a.middles[r.stored] = [2]float64{found[i].P05, found[i].P95}
		table[i] = r.row(&found[i])
		table[i].Choice = int64(a.Plan.Choice)
		table[i].Coverage, table[i].Negative = a.options().Coverage, int64(found[i].Negative)
	}
	return table, nil
}

// row is what the table says of a stored column beside its figures.
type row struct {
	stored, name, unit, role, meaning string
	column                            *plan.Column // nil for what a claim stores
	yesNo                             bool         // whether a claim holds
}

// rows are the plan's columns, then those of the claims.
func (a *Analyst) rows() []row {
	var rows []row
	for i := range a.Plan.Columns {
		c := &a.Plan.Columns[i]
		rows = append(rows, row{c.Stored(), c.Name, c.Quantity.Unit.String(), c.Role(), c.Quantity.Meaning, c, false})
	}
	yesNo := func(name string) bool {
		return slices.ContainsFunc(a.Plan.Claims, func(c plan.Claim) bool { return c.Name == name })
	}
	for _, c := range a.Plan.StoredClaims() {
		rows = append(rows, row{c.Name, c.Name, c.Unit.String(), string(result.RoleClaim), c.Meaning, nil, yesNo(c.Name)})
	}
	return rows
}

// row is the column's row without what only the analyst knows.
func (r *row) row(s *estimate.Summary) result.SummaryRow {
	vehicle, quantity := plan.Split(r.name)
	row := result.SummaryRow{
		Output: r.name, Vehicle: vehicle, Quantity: quantity, Unit: r.unit,
		Rows: int64(s.Rows), Infeasible: int64(s.Infeasible),
		Mean: s.Mean, MeanLow: s.MeanInterval.Low, MeanHigh: s.MeanInterval.High, SD: s.SD, Skewness: s.Skewness, Min: s.Min, Max: s.Max,
		P01: s.P01, P05: s.P05, P10: s.P10, P25: s.P25, P50: s.P50, P75: s.P75, P90: s.P90, P95: s.P95, P99: s.P99,
		P05Low: s.P05Interval.Low, P05High: s.P05Interval.High, P50Low: s.P50Interval.Low, P50High: s.P50Interval.High,
		P95Low: s.P95Interval.Low, P95High: s.P95Interval.High,
		CoverLow: s.CoverLow, CoverHigh: s.CoverHigh, ShortestLow: s.ShortestLow, ShortestHigh: s.ShortestHigh,
		Method: result.IntervalMethod(s.Method), Role: result.Role(r.role), Origin: result.Computed, Meaning: r.meaning,
	}
	if r.column == nil {
		return row
	}
	row.Source = r.column.Source()
	if in := r.column.Input; in != nil {
		row.Origin, row.HowKnown, row.StatedAs = result.Stated, in.Free.HowKnown, in.Text
		if in.Default {
			row.Origin = result.Default
		}
	}
	return row
}
