package analyse

import (
	"cmp"
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/sampling/portable"
	"proofmass/sensitivity"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

const (
	searchedRows = 256 // of each replicate, from which the search for a point starts
	mostStarts   = 3
)

// Requires makes the rows of requires.parquet: the most probable point at which each claim turns, and
// where each input alone turns it; none without a claim that has a margin.
func (g *GivenData) Requires() ([]result.RequiredRow, error) {
	requirements, err := g.Plan.Requirements()
	if err != nil || len(requirements) == 0 {
		return nil, err
	}
	tables := make([][]result.RequiredRow, len(requirements))
	if err := g.forEach(len(requirements), func(i int, _ reader, _ *estimate.Scratch) error {
		var err error
		tables[i], err = g.requires(requirements[i])
		return err
	}); err != nil {
		return nil, err
	}
	return slices.Concat(tables...), nil
}

// requires are the rows of one claim, what must move furthest first.
func (g *GivenData) requires(r *plan.Requirement) ([]result.RequiredRow, error) {
	probe := run.NewProbe(&run.Runner{Plan: g.Plan}, r)
	margins := func(z [][]float64) ([]float64, error) { return probe.At(z)[0], nil }
	middle := make([]float64, len(r.Scores))
	drawn := probe.Drawn(searchedRows)
	starts := startsOf(drawn, probe.At(drawn)[0], probe.At([][]float64{middle})[0][0] >= 0)
	p, err := claim.Nearest(len(r.Scores), margins, starts)
	if err != nil {
		return nil, err
	}
	values, own := probe.At([][]float64{middle, p.Z}), probe.Own(p.Z)
	target := slices.IndexFunc(g.Plan.Index.Targets, func(t plan.Target) bool { return t.Of == plan.OfHolds && t.Name == r.Claim.Name })
	middles := make([]float64, len(r.Items))
	for k, item := range r.Items {
		middles[k] = values[item.Output][0]
	}
	turns := alone(probe, r, middles)
	rows := make([]result.RequiredRow, len(r.Items))
	for k, item := range r.Items {
		u := item.Quantity.Unit
		row := &rows[k]
		*row = result.RequiredRow{Choice: int64(g.Plan.Choice), Claim: r.Claim.Name, Input: item.Name, Turning: result.TurnsToHold, Unit: u.String(),
			Central: u.FromSI(middles[k]), Needed: u.FromSI(values[item.Output][1]), PointDistance: p.Distance,
			FirstOrder: portable.NormalCDF(-p.Distance), Margin: r.Claim.Unit.DeltaFromSI(p.Margin), MarginUnit: r.Claim.Unit.String(), Method: result.Reached(p.How)}
		if p.Fails {
			row.Turning, row.FirstOrder, row.Margin = result.TurnsToFail, portable.NormalCDF(p.Distance), -row.Margin
		}
		if p.How == claim.OutOfReach {
			row.FirstOrder = math.NaN()
		}
		row.Distance = scoreOf(item, own)
		row.Percentile = portable.NormalCDF(row.Distance)
		row.AloneAt = u.FromSI(turns[k])
		g.addTypical(row, target, item.Name)
	}
	slices.SortStableFunc(rows, func(a, b result.RequiredRow) int {
		return cmp.Compare(math.Abs(b.Distance), math.Abs(a.Distance))
	})
	for k := range rows {
		rows[k].Rank = int64(k + 1)
	}
	return rows, nil
}

// scoreOf is how far an item must move: of what is drawn as one the length of its scores, with
// the sign of the largest.
func scoreOf(item plan.RequiredItem, own []float64) float64 {
	square, most := 0.0, 0.0
	for _, k := range item.Scores {
		square += float64(own[k] * own[k])
		if math.Abs(own[k]) > math.Abs(most) {
			most = own[k]
		}
	}
	return math.Copysign(math.Sqrt(square), most)
}

// startsOf are the drawn rows from which a search starts: those nearest to the middle of what
// turns the claim, else those that come nearest to it.
func startsOf(z [][]float64, margin []float64, holds bool) [][]float64 {
	square := func(row int) float64 {
		sum := 0.0
		for _, x := range z[row] {
			sum += float64(x * x)
		}
		return sum
	}
	var turned, others []int
	for row, m := range margin {
		switch {
		case m != m:
		case m >= 0 != holds:
			turned = append(turned, row)
		default:
			others = append(others, row)
		}
	}
	by, rows := square, turned
	if len(turned) == 0 {
		by, rows = func(row int) float64 { return math.Abs(margin[row]) }, others
	}
	slices.SortStableFunc(rows, func(a, b int) int { return cmp.Compare(by(a), by(b)) })
	var starts [][]float64
	for _, row := range rows[:min(len(rows), mostStarts)] {
		starts = append(starts, z[row])
	}
	return starts
}

// addTypical adds what the draws say of an input: where it lies when the claim holds, and
// where the chance is one half or the verdict another.
func (g *GivenData) addTypical(row *result.RequiredRow, target int, input string) {
	nan := math.NaN()
	row.TypicalP10, row.TypicalP50, row.TypicalP90, row.HalfAt, row.TurnsAt = nan, nan, nan, nan, nan
	i := slices.IndexFunc(g.inputs, func(s plan.StoredInput) bool { return s.Name == input })
	if i < 0 || target < 0 || g.found[i][target] == nil {
		return
	}
	f := g.found[i][target]
	row.TypicalP10, row.TypicalP50, row.TypicalP90 = f.region.HoldsP10, f.region.HoldsP50, f.region.HoldsP90
	row.HalfAt = crossing(f.curve, 0.5, row.Central)
	for _, limit := range []float64{result.FallsTo, result.StandsFrom} {
		at := crossing(f.curve, limit, row.Central)
		if at == at && !(math.Abs(at-row.Central) >= math.Abs(row.TurnsAt-row.Central)) {
			row.TurnsAt = at
		}
	}
}

// crossing is where a curve of chances passes a level, linear between the middles of its
// classes and never beyond them, the place next to the middle of the input; NaN where nowhere.
func crossing(curve []sensitivity.Point, level, middle float64) float64 {
	best := math.NaN()
	for k := 1; k < len(curve); k++ {
		a, b := curve[k-1], curve[k]
		if !((a.Mean-level)*(b.Mean-level) < 0 || a.Mean != b.Mean && a.Mean == level) {
			continue
		}
		at := a.Input + float64((level-a.Mean)/(b.Mean-a.Mean)*(b.Input-a.Input))
		if best != best || math.Abs(at-middle) < math.Abs(best-middle) {
			best = at
		}
	}
	return best
}
