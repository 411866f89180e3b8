package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/model/unit"
	"proofmass/sampling/portable"
	"proofmass/sensitivity"
	"proofmass/sensitivity/estimate"
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

// Tornado makes tornado.parquet: for each output every factor moved alone, from the
// outputs at the points (at[o] is the column of Index.Outputs[o], shown[f] that of the
// column by which factor f is shown, all in SI), then for each target every input's
// conditional means, from the sample's own rows. Inside each the longest bar comes first.
func (a *Analyst) Tornado(at, shown [][]float64, g *Given) *result.Table {
	t := newTable()
	for k, target := range a.Plan.Index.Targets {
		if target.Of == plan.OfHolds {
			continue
		}
		var bars []bar
		if target.Of == plan.OfOutput {
			bars = a.aloneBars(target, at[k], shown)
			a.addBars(t, target, bars)
		}
		a.addBars(t, target, g.conditionalBars(k))
	}
	return t.unlessEmpty()
}

// Forms of a bar.
const (
	oneAtATime  = "one_at_a_time"
	conditional = "conditional"
)

// A bar is what one input does to one target, in display units.
type bar struct {
	input, form, shape string
	inputUnit          string
	inLow, inHigh      float64
	low, high          float64
	lowBand, highBand  estimate.Interval
}

func (b bar) size() float64 { return math.Abs(b.high - b.low) }

// aloneBars has one for each factor that reaches the output.
func (a *Analyst) aloneBars(target plan.Target, at []float64, shown [][]float64) []bar {
	out := a.unitOf(target)
	var bars []bar
	for f, factor := range a.Plan.Factors {
		if !a.Plan.Reaches(factor, target.Output) {
			continue
		}
		low, high := 1+2*factor.Inputs[0], 2+2*factor.Inputs[0]
		u := a.column(factor.Show).Quantity.Unit
		bars = append(bars, bar{input: factor.Name, form: oneAtATime, inputUnit: u.String(),
			inLow: u.FromSI(shown[f][low]), inHigh: u.FromSI(shown[f][high]),
			low: out.FromSI(at[low]), high: out.FromSI(at[high]), lowBand: estimate.None(), highBand: estimate.None()})
	}
	return bars
}

// addBars adds the bars of one target and form, with what they add up to.
func (a *Analyst) addBars(t *table, target plan.Target, bars []bar) {
	slices.SortStableFunc(bars, func(x, y bar) int { return longerFirst(x.size(), y.size()) })
	sum := 0.0 // NaN if one of them is not known
	for _, b := range bars {
		sum += b.size()
	}
	for _, b := range bars {
		a.addBar(t, target, b, sum)
	}
}

// longerFirst puts NaN last.
func longerFirst(x, y float64) int {
	switch {
	case x > y || x == x && y != y:
		return -1
	case x < y || x != x && y == y:
		return 1
	}
	return 0
}

func (a *Analyst) addBar(t *table, target plan.Target, b bar, sum float64) {
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("output", target.Name, "the output, or the claim")
	t.text("of", target.Of, "output; margin: how far inside the claim a draw lies")
	t.text("input", b.input, "the input that is moved, or looked at")
	t.text("form", b.form, "one_at_a_time: all other inputs at their medians; conditional: the mean over the draws in the input's lowest and highest twentieth")
	t.number("input_low", "input_unit of the row", b.inLow, "5th percentile of the input; conditional: its mean in its lowest twentieth")
	t.number("input_high", "input_unit of the row", b.inHigh, "95th percentile of the input; conditional: its mean in its highest twentieth")
	t.number("at_low", inRow, b.low, "the output at input_low")
	t.number("at_high", inRow, b.high, "the output at input_high")
	t.number("swing", inRow, b.high-b.low, "at_high less at_low")
	t.text("unit", a.unitOf(target).String(), "unit of the output")
	t.text("input_unit", b.inputUnit, "unit of the input")
	t.text("shape", b.shape, "of the mean output over the input's range: one_way, turns (up and down by more than its bands), empty where not looked at")
	t.number("at_low_from", inRow, b.lowBand.Low, "lower end of the interval of at_low, conditional only")
	t.number("at_low_to", inRow, b.lowBand.High, "upper end of it")
	t.number("at_high_from", inRow, b.highBand.Low, "lower end of the interval of at_high, conditional only")
	t.number("at_high_to", inRow, b.highBand.High, "upper end of it")
	t.number("sum_of_swings", inRow, sum, "sizes of all swings of this output and form together; null where one is not known")
	t.number("spread", inRow, a.spreads[a.stored(target)], "p95 less p05 of the output in the draws")
}

// unitOf is the unit in which samples store a target.
func (a *Analyst) unitOf(target plan.Target) unit.Unit {
	switch target.Of {
	case plan.OfMargin:
		i := slices.IndexFunc(a.Plan.Claims, func(c plan.Claim) bool { return c.Name == target.Name })
		return a.Plan.Claims[i].Unit
	case plan.OfHolds:
		return unit.SI(unit.One)
	}
	return a.column(target.Name).Quantity.Unit
}

func (a *Analyst) column(name string) plan.Column {
	i := slices.IndexFunc(a.Plan.Columns, func(c plan.Column) bool { return c.Name == name })
	return a.Plan.Columns[i]
}
