package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/estimate"
)

// Levers makes the rows of levers.parquet for one vehicle, of the columns of its program in
// SI. What a lever leaves alone in every draw has no row.
func (a *Analyst) Levers(l *plan.Levers, columns [][]float64) ([]result.LeverRow, error) {
	divided, err := a.divided()
	if err != nil {
		return nil, err
	}
	var rows []result.LeverRow
	for i := range l.Pulls {
		p := &l.Pulls[i]
		with, plain := columns[p.With], columns[p.Plain]
		by, moved := make([]float64, len(with)), false
		for row := range by {
			by[row] = p.Quantity.Unit.DeltaFromSI(with[row] - plain[row])
			moved = moved || by[row] != 0
		}
		if !moved {
			continue
		}
		unit := p.Quantity.Unit.String()
		if p.Quantity.Temperature {
			unit = "K"
		}
		s, err := estimate.Describe(by, divided, a.options(), nil)
		if err != nil {
			return nil, err
		}
		rows = append(rows, result.LeverRow{Choice: int64(a.Plan.Choice), Vehicle: l.Vehicle, Lever: p.Lever.Name, Text: p.Lever.Words, Output: p.Name,
			Mean: s.Mean, MeanLow: s.MeanInterval.Low, MeanHigh: s.MeanInterval.High, P05: s.P05, P50: s.P50, P95: s.P95,
			Unit: unit, Rows: int64(s.Rows), Infeasible: int64(s.Infeasible)})
	}
	return rows, nil
}
