package analyse

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/claim"
)

// worthACurve is the least first-order share, of an input whose
// curve is kept: below, it is a flat line.
const worthACurve = 0.005

// Curves makes curves.parquet: the mean of each target over an input's range, a class
// of the input a row, for inputs that do something; nil if none does.
func (g *Given) Curves() *result.Table {
	t := newTable()
	for k, target := range g.Plan.Index.Targets {
		for i, s := range g.singles {
			if f := &g.found[i][k]; f.first.Low > 0 && f.first.Estimate > worthACurve {
				g.addCurve(t, target, s, f)
			}
		}
	}
	return t.unlessEmpty()
}

func (g *Given) addCurve(t *table, target plan.Target, s plan.Single, f *given) {
	for class, p := range f.curve {
		t.count("choice", 0, "number of the choice, 0 without choices")
		t.text("output", target.Name, "the output, or the claim")
		t.text("of", target.Of, "output; margin: how far inside the claim a draw lies; holds: whether it holds, so that the mean is its chance")
		t.text("input", s.Name, "the input")
		t.count("class", class, "number of the class, from the lowest")
		t.number("input_low", "input_unit of the row", p.InputLow, "lowest value of the input in the class")
		t.number("input_high", "input_unit of the row", p.InputHigh, "highest value of the input in the class")
		t.number("input_mid", "input_unit of the row", p.Input, "median of the input in the class")
		t.number("mean", inRow, p.Mean, "mean of the output over the draws of the class")
		t.number("low", inRow, p.Low, "lower end of its interval")
		t.number("high", inRow, p.High, "upper end of its interval")
		t.text("unit", g.unitOf(target).String(), "unit of the output")
		t.text("input_unit", g.column(s.Name).Quantity.Unit.String(), "unit of the input")
	}
}

// Regions makes regions.parquet: each input where a claim holds and where it fails.
// It is nil without a claim.
func (g *Given) Regions() *result.Table {
	t := newTable()
	for k, target := range g.Plan.Index.Targets {
		if target.Of != plan.OfHolds {
			continue
		}
		for i, s := range g.singles {
			if f := &g.found[i][k]; f.reaches {
				g.addRegion(t, target.Name, s, &f.region)
			}
		}
	}
	return t.unlessEmpty()
}

func (g *Given) addRegion(t *table, claimed string, s plan.Single, r *claim.Region) {
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("claim", claimed, "the claim")
	t.text("input", s.Name, "the input")
	t.text("input_unit", g.column(s.Name).Quantity.Unit.String(), "unit of the input's percentiles")
	t.count("held", r.Held, "draws looked at in which it holds; with fewer than 50 of either kind nothing is said")
	t.count("failed", r.Failed, "draws looked at in which it fails")
	for _, p := range []struct {
		name, meaning string
		value         float64
	}{
		{"holds_p10", "10th percentile of the input where the claim holds", r.HoldsP10},
		{"holds_p50", "median of the input where the claim holds", r.HoldsP50},
		{"holds_p90", "90th percentile of the input where the claim holds", r.HoldsP90},
		{"fails_p10", "10th percentile of the input where the claim fails", r.FailsP10},
		{"fails_p50", "median of the input where the claim fails", r.FailsP50},
		{"fails_p90", "90th percentile of the input where the claim fails", r.FailsP90},
	} {
		t.number(p.name, "input_unit of the row", p.value, p.meaning)
	}
	t.number("distance", "1", r.Distance.Estimate, "Kolmogorov-Smirnov distance of the two distributions, 0 to 1")
	t.number("distance_low", "1", r.Distance.Low, "lower end of its interval; below 0: nothing need be there")
	t.number("distance_high", "1", r.Distance.High, "upper end of its interval")
	t.number("distance_floor", "1", r.Floor, "what it is on average for an input that does nothing")
	t.count("shift", r.Shift, "1: the input is higher where the claim holds, -1: lower, 0: not said")
	t.number("chance_lowest", "1", r.LowChance.Estimate, "chance of the claim in the lowest twentieth of the input")
	t.number("chance_lowest_low", "1", r.LowChance.Low, "lower end of its interval")
	t.number("chance_lowest_high", "1", r.LowChance.High, "upper end of its interval")
	t.number("chance_highest", "1", r.HighChance.Estimate, "chance of the claim in the highest twentieth of the input")
	t.number("chance_highest_low", "1", r.HighChance.Low, "lower end of its interval")
	t.number("chance_highest_high", "1", r.HighChance.High, "upper end of its interval")
}
