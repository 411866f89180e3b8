package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/model/unit"
	"proofmass/sensitivity/estimate"
)

// Tornado makes the rows of tornado.parquet: for each output every factor moved alone, from the
// outputs at the points of that round (those asked for, then those by which the factors are
// shown, all in SI), then for each target every input's
// conditional means, from the sample's own rows. Inside each the longest bar comes first.
func (a *Analyst) Tornado(g *GivenData) []result.BarRow {
	asked := len(a.Plan.Index.Outputs)
	at, shown := a.joined.points[:asked], a.joined.points[asked:]
	var rows []result.BarRow
	for k, target := range a.Plan.Index.Targets {
		if target.Of == plan.OfHolds {
			continue
		}
		var bars []bar
		if target.Of == plan.OfOutput {
			bars = a.aloneBars(target, at[k], shown)
			rows = append(rows, a.barRows(target, bars)...)
		}
		rows = append(rows, a.barRows(target, g.conditionalBars(k))...)
	}
	return rows
}

// A bar is what one input does to one target, in display units.
type bar struct {
	input, inputUnit  string
	form              result.Form
	shape             result.Shape
	inLow, inHigh     float64
	low, high         float64
	lowBand, highBand estimate.Interval
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
		bars = append(bars, bar{input: factor.Name, form: result.OneAtATime, inputUnit: u.String(),
			inLow: u.FromSI(shown[f][low]), inHigh: u.FromSI(shown[f][high]),
			low: out.FromSI(at[low]), high: out.FromSI(at[high]), lowBand: estimate.None(), highBand: estimate.None()})
	}
	return bars
}

// barRows are the bars of one target and form, with what they add up to.
func (a *Analyst) barRows(target plan.Target, bars []bar) []result.BarRow {
	slices.SortStableFunc(bars, func(x, y bar) int { return longerFirst(x.size(), y.size()) })
	sum := 0.0 // NaN if one of them is not known
	for _, b := range bars {
		sum += b.size()
	}
	rows := make([]result.BarRow, len(bars))
	for i, b := range bars {
		rows[i] = result.BarRow{Choice: int64(a.Plan.Choice), Output: target.Name, Of: result.Of(target.Of), Input: b.input, Form: b.form, InputLow: b.inLow, InputHigh: b.inHigh,
			AtLow: b.low, AtHigh: b.high, Swing: b.high - b.low, Unit: a.unitOf(target).String(), InputUnit: b.inputUnit, Shape: b.shape,
			AtLowFrom: b.lowBand.Low, AtLowTo: b.lowBand.High, AtHighFrom: b.highBand.Low, AtHighTo: b.highBand.High,
			SumOfSwings: sum, Spread: a.spreads[a.stored(target)]}
	}
	return rows
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

// column is the stored column of that name. Columns are what no step changes.
func (a *Analyst) column(name string) *plan.Column {
	a.named.Do(func() {
		a.columns = make(map[string]*plan.Column, len(a.Plan.Columns))
		for i := range a.Plan.Columns {
			a.columns[a.Plan.Columns[i].Name] = &a.Plan.Columns[i]
		}
	})
	return a.columns[name]
}
