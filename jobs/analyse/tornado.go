package analyse

import (
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sampling/portable"
	"proofmass/sensitivity"
)

// The ends of a bar.
const lowEnd, highEnd = 0.05, 0.95

// TornadoPoints lays out 2d+1 rows, d drawn inputs: medians, then each factor at
// its 5th and 95th percentile, all in SI. Inputs of one factor move together.
func TornadoPoints(p *plan.Plan) [][]float64 {
	d := len(p.Drawn)
	median, low, high := make([]float64, d), make([]float64, d), make([]float64, d)
	for i, in := range p.Drawn {
		median[i], low[i], high[i] = in.Marginal.Quantile(0.5), in.Marginal.Quantile(lowEnd), in.Marginal.QuantileUpper(1-highEnd)
	}
	points := sensitivity.TornadoPoints(median, low, high)
	for _, f := range p.Factors {
		lead := f.Inputs[0]
		for k, other := range f.Inputs[1:] {
			score := f.Shift[1+k] * portable.NormalQuantile(lowEnd)
			m := p.Drawn[other].Marginal
			points[other][1+2*lead] = m.Quantile(portable.NormalCDF(score))
			points[other][2+2*lead] = m.QuantileUpper(portable.NormalCDF(score))
		}
	}
	return points
}

// Tornado makes tornado.parquet from the outputs at the points: at[o] is the
// column of Index.Outputs[o], shown[f] that of the column by which factor f is
// shown, all in SI.
func (a *Analyst) Tornado(at, shown [][]float64) *result.Table {
	t := newTable()
	for o, output := range a.Plan.Index.Outputs {
		swings := a.swings(output, at[o], shown)
		sensitivity.SortSwings(swings)
		for _, s := range swings {
			a.addSwing(t, output, s)
		}
	}
	return t.table(nil)
}

// swings has one bar for each factor that reaches the output; Input is the
// factor's number.
func (a *Analyst) swings(output int, at []float64, shown [][]float64) []sensitivity.Swing {
	var swings []sensitivity.Swing
	for f, factor := range a.Plan.Factors {
		if !a.Plan.Reaches(factor, output) {
			continue
		}
		low, high := 1+2*factor.Inputs[0], 2+2*factor.Inputs[0]
		swings = append(swings, sensitivity.Swing{Input: f, InputLow: shown[f][low], InputHigh: shown[f][high],
			AtLow: at[low], AtHigh: at[high], Swing: at[high] - at[low]})
	}
	return swings
}

func (a *Analyst) addSwing(t *table, output int, s sensitivity.Swing) {
	factor := a.Plan.Factors[s.Input]
	shown := a.column(factor.Show).Quantity.Unit
	unit := a.column(a.name(output)).Quantity.Unit
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("output", a.name(output), "the output")
	t.text("input", factor.Name, "the input that is moved")
	t.text("form", "one_at_a_time", "all other inputs at their medians")
	t.number("input_low", "input_unit of the row", shown.FromSI(s.InputLow), "5th percentile of the input")
	t.number("input_high", "input_unit of the row", shown.FromSI(s.InputHigh), "95th percentile of the input")
	t.number("at_low", inRow, unit.FromSI(s.AtLow), "the output with the input at its 5th percentile")
	t.number("at_high", inRow, unit.FromSI(s.AtHigh), "the output with the input at its 95th percentile")
	t.number("swing", inRow, unit.DeltaFromSI(s.Swing), "at_high less at_low")
	t.text("unit", unit.String(), "unit of the output")
	t.text("input_unit", shown.String(), "unit of the input")
}

func (a *Analyst) column(name string) plan.Column {
	i := slices.IndexFunc(a.Plan.Columns, func(c plan.Column) bool { return c.Name == name })
	return a.Plan.Columns[i]
}
