package analyse

import (
	"math"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/estimate"
)

// Inside makes inside.parquet: a row for each column that figures show, in SI as it was
// evaluated.
func (a *Analyst) Inside(x *plan.Inside, columns [][]float64) (*result.Table, error) {
	rows := make([]result.InsideRow, len(x.Columns))
	var design estimate.Rows
	if len(columns) > 0 {
		first := []int{0, len(columns[0])} // figures are of the first draws
		t, err := a.weighed(subsample{first, estimate.Rows{Bounds: first, Independent: true}})
		if err != nil {
			return nil, err
		}
		design = t.design
	}
	var scratch estimate.Scratch
	for i, c := range x.Columns {
		values := make([]float64, len(columns[i]))
		for k, v := range columns[i] {
			values[k] = math.NaN()
			if v == v {
				values[k] = c.Quantity.Unit.FromSI(v)
			}
		}
		s, err := estimate.Describe(values, design, a.options(), &scratch)
		if err != nil {
			return nil, err
		}
		vehicle, quantity := plan.Split(c.Name)
		rows[i] = result.InsideRow{Figure: c.Quantity.Figure, Output: c.Name, Vehicle: vehicle, Quantity: quantity, Unit: c.Quantity.Unit.String(),
			Rows: int64(s.Rows), Infeasible: int64(s.Infeasible), Mean: s.Mean, P05: s.P05, P25: s.P25, P50: s.P50, P75: s.P75, P95: s.P95, Meaning: c.Quantity.Meaning}
	}
	return result.Inside.Make(rows, nil), nil
}
