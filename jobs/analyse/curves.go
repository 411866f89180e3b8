package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/claim"
)

// worthACurve is the least first-order share, of an input whose
// curve is kept: below, it is a flat line.
const worthACurve = 0.005

// Curves makes the rows of curves.parquet: the mean of each target over an input's range, a class
// of the input a row, for inputs that do something; none if none does.
func (g *GivenData) Curves() []result.CurveRow {
	var rows []result.CurveRow
	for k, target := range g.Plan.Index.Targets {
		for i, s := range g.inputs {
			if f := g.found[i][k]; f != nil && f.first.Low > 0 && f.first.Estimate > worthACurve {
				rows = append(rows, g.curve(target, s, f)...)
			}
		}
	}
	return rows
}

func (g *GivenData) curve(target plan.Target, s plan.StoredInput, f *finding) []result.CurveRow {
	rows := make([]result.CurveRow, len(f.curve))
	for class, p := range f.curve {
		rows[class] = result.CurveRow{Choice: int64(g.Plan.Choice), Output: target.Name, Of: result.Of(target.Of), Input: s.Name, Class: int64(class),
			InputLow: p.InputLow, InputHigh: p.InputHigh, InputMid: p.Input, Mean: p.Mean, Low: p.Low, High: p.High,
			Unit: g.unitOf(target).String(), InputUnit: g.column(s.Name).Quantity.Unit.String()}
	}
	return rows
}

// Regions makes the rows of regions.parquet: each input where a claim holds and where it fails.
// There are none without a claim.
func (g *GivenData) Regions() []result.RegionRow {
	var rows []result.RegionRow
	for k, target := range g.Plan.Index.Targets {
		if target.Of != plan.OfHolds {
			continue
		}
		for i, s := range g.inputs {
			if f := g.found[i][k]; f != nil {
				rows = append(rows, g.region(target.Name, s, &f.region))
			}
		}
	}
	return rows
}

func (g *GivenData) region(claimed string, s plan.StoredInput, r *claim.Region) result.RegionRow {
	return result.RegionRow{Choice: int64(g.Plan.Choice), Claim: claimed, Input: s.Name, InputUnit: g.column(s.Name).Quantity.Unit.String(),
		Held: int64(r.Held), Failed: int64(r.Failed),
		HoldsP10: r.HoldsP10, HoldsP50: r.HoldsP50, HoldsP90: r.HoldsP90, FailsP10: r.FailsP10, FailsP50: r.FailsP50, FailsP90: r.FailsP90,
		Distance: r.Distance.Estimate, DistanceLow: r.Distance.Low, DistanceHigh: r.Distance.High, DistanceFloor: r.Floor, Shift: int64(r.Shift),
		ChanceLowest: r.LowChance.Estimate, ChanceLowestLow: r.LowChance.Low, ChanceLowestHigh: r.LowChance.High,
		ChanceHighest: r.HighChance.Estimate, ChanceHighestLow: r.HighChance.Low, ChanceHighestHigh: r.HighChance.High}
}
