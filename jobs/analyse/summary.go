package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
	"proofmass/sensitivity/estimate"
)

// Summary makes summary.parquet: a row for each stored input or output.
func (a *Analyst) Summary(meta map[string]string) (*result.Table, error) {
	columns := a.Plan.Columns
	found := make([]estimate.Summary, len(columns))
	negative := make([]int, len(columns))
	err := a.forEach(len(columns), func(i int, read func(string) ([]float64, error), scratch *estimate.Scratch) error {
		x, err := read(columns[i].Stored())
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
	for i, c := range columns {
		addIdentity(t, c)
		addMoments(t, &found[i], a.options().Coverage)
		t.count("negative", negative[i], "rows with a value below zero")
		addOrigin(t, c)
	}
	return t.table(meta), nil
}

func addIdentity(t *table, c plan.Column) {
	vehicle, quantity := plan.Split(c.Name)
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("output", c.Name, "full name of the input or output")
	t.text("vehicle", vehicle, "its vehicle, empty for what belongs to none")
	t.text("quantity", quantity, "the part of the name behind the vehicle")
	t.text("unit", c.Quantity.Unit.String(), "unit of every value in the row; sd of a degC row is in K")
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
func addOrigin(t *table, c plan.Column) {
	role, origin, known, text := "output", "computed", "", ""
	if in := c.Input; in != nil {
		role = [...]string{study.Constant: "constant", study.Uncertain: "input", study.Formula: "formula"}[in.Kind]
		origin, known, text = "stated", in.Free.HowKnown, in.Text
		if in.Default {
			origin = "default"
		}
	}
	t.text("role", role, "input (drawn), constant, formula or output")
	t.text("origin", origin, "stated in the study, default of the catalogue, or computed")
	t.text("how_known", known, "how the study says it is known")
	t.text("stated_as", text, "the input as it is written")
	t.text("source", run.Source(c), "where the number or the relation comes from")
	t.text("meaning", c.Quantity.Meaning, "what the row is")
}
