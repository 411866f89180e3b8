package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/sensitivity/estimate"
)

// Summary makes summary.parquet: a row for each stored column.
func (a *Analyst) Summary(meta map[string]string) (*result.Table, error) {
	rows := a.rows()
	found := make([]estimate.Summary, len(rows))
	negative := make([]int, len(rows))
	err := a.forEach(len(rows), func(i int, read func(string) ([]float64, error), scratch *estimate.Scratch) error {
		x, err := read(rows[i].stored)
		if err != nil {
			return err
		}
		for _, v := range x {
			if v < 0 {
				negative[i]++
			}
		}
		found[i], err = estimate.Describe(x, a.design(), a.options(), scratch)
		return err
	})
	if err != nil {
		return nil, err
	}
	t := newTable()
	a.spreads, a.deviations = map[string]float64{}, map[string]float64{}
	for i, r := range rows {
		a.spreads[r.stored], a.deviations[r.stored] = found[i].P95-found[i].P05, found[i].SD
		addIdentity(t, r)
		addMoments(t, &found[i], a.options().Coverage)
		t.count("negative", negative[i], "rows with a value below zero")
		addOrigin(t, r)
	}
	return t.table(meta), nil
}

// row is what the table says of a stored column beside its figures.
type row struct {
	stored, name, unit, role, meaning string
	column                            *plan.Column // nil for what a claim stores
}

// rows are the plan's columns, then those of the claims.
func (a *Analyst) rows() []row {
	var rows []row
	for i := range a.Plan.Columns {
		c := &a.Plan.Columns[i]
		rows = append(rows, row{c.Stored(), c.Name, c.Quantity.Unit.String(), c.Role(), c.Quantity.Meaning, c})
	}
	for _, c := range run.ClaimColumns(a.Plan) {
		rows = append(rows, row{c.Name, c.Name, c.Unit.String(), "claim", c.Meaning, nil})
	}
	return rows
}

func addIdentity(t *table, r row) {
	vehicle, quantity := plan.Split(r.name)
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("output", r.name, "full name of the input or output")
	t.text("vehicle", vehicle, "its vehicle, empty for what belongs to none")
	t.text("quantity", quantity, "the part of the name behind the vehicle")
	t.text("unit", r.unit, "unit of every value in the row; sd of a degC row is in K")
}

const inRow = "unit of the row"

func addMoments(t *table, s *estimate.Summary, coverage float64) {
	t.count("rows", s.Rows, "rows evaluated")
	t.count("infeasible", s.Infeasible, "rows without a value; all statistics are over the others")
	value := func(name string, v float64, meaning string) { t.number(name, inRow, v, meaning) }
	interval := func(name string, i estimate.Interval) {
		value(name+"_low", i.Low, "lower end of the interval of "+name)
		value(name+"_high", i.High, "upper end of the interval of "+name)
	}
	value("mean", s.Mean, "mean")
	interval("mean", s.MeanInterval)
	value("sd", s.SD, "standard deviation, divisor n - 1")
	t.number("skewness", "1", s.Skewness, "skewness, null for a constant")
	value("min", s.Min, "smallest value")
	value("max", s.Max, "largest value")
	for _, p := range []struct {
		name  string
		value float64
	}{{"p01", s.P01}, {"p05", s.P05}, {"p10", s.P10}, {"p25", s.P25}, {"p50", s.P50}, {"p75", s.P75}, {"p90", s.P90}, {"p95", s.P95}, {"p99", s.P99}} {
		value(p.name, p.value, "percentile, definition 7 of Hyndman and Fan 1996")
	}
	interval("p05", s.P05Interval)
	interval("p50", s.P50Interval)
	interval("p95", s.P95Interval)
	t.number("coverage", "1", coverage, "share of the rows within the coverage intervals")
	value("cover_low", s.CoverLow, "coverage interval with equal tails, JCGM 101:2008, 7.7")
	value("cover_high", s.CoverHigh, "its upper end")
	value("shortest_low", s.ShortestLow, "shortest coverage interval, JCGM 101:2008, 7.7")
	value("shortest_high", s.ShortestHigh, "its upper end")
	t.text("method", s.Method, "how the intervals were made")
}

// addOrigin tells where a number came from, so that no assumption is hidden.
func addOrigin(t *table, r row) {
	origin, known, text, source := "computed", "", "", ""
	if r.column != nil {
		source = run.Source(*r.column)
		if in := r.column.Input; in != nil {
			origin, known, text = "stated", in.Free.HowKnown, in.Text
			if in.Default {
				origin = "default"
			}
		}
	}
	t.text("role", r.role, "input (drawn), constant, formula, output, intermediate (kept, not asked for) or claim")
	t.text("origin", origin, "stated in the study, default of the catalogue, or computed")
	t.text("how_known", known, "how the study says it is known")
	t.text("stated_as", text, "the input as it is written")
	t.text("source", source, "where the number or the relation comes from")
	t.text("meaning", r.meaning, "what the row is")
}
