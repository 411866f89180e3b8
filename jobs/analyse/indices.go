package analyse

import (
	"math"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity"
	"proofmass/sensitivity/estimate"
)

// Indices collects indices.parquet: a figure a row.
type Indices struct {
	*Analyst
	table *table
}

// NewIndices starts the table.
func (a *Analyst) NewIndices() *Indices { return &Indices{a, newTable()} }

// Table is the table with all that was added.
func (x *Indices) Table() *result.Table { return x.table.table(nil) }

// A figure is one row of the table.
type figure struct {
	target       plan.Target
	input, other string
	method       Method
	order        string
	sensitivity.Index
	runs    int
	dropped float64
}

func (x *Indices) add(f figure) {
	t := x.table
	t.count("choice", 0, "number of the choice, 0 without choices")
	t.text("output", f.target.Name, "the output, or the claim")
	t.text("of", f.target.Of, "output; margin: how far inside the claim a draw lies; holds: whether it holds, 1 or 0")
	t.text("input", f.input, "the input or group; model_error stands for both of its factors")
	t.text("other", f.other, "the other input of a second-order index")
	t.text("method", string(f.method), "the estimator, one of a closed list: see `proofmass list methods`")
	t.text("order", f.order, "what kind of figure: see `proofmass list methods`")
	t.number("estimate", "1", f.Estimate, "the figure; null for what never varies")
	t.number("low", "1", f.Low, "lower end of its interval")
	t.number("high", "1", f.High, "upper end of its interval")
	t.count("model_runs", f.runs, "evaluations of the model made for this figure and those made with it; 0: from the sample's own rows")
	t.number("dropped", "1", f.dropped, "share of the rows left out because a run is infeasible; null: not counted")
}

// AddSwaps adds first-order and total index of each target and each factor, and
// those of groups.
func (x *Indices) AddSwaps(sums *sensitivity.PickFreeze, runs int) {
	pairs := sums.Indices(x.Plan.Study.Level)
	place := make(map[int]int) // factor -> its place among the swaps
	for i, s := range x.Plan.Index.Swaps {
		place[s.Number] = i
	}
	for t, target := range x.Plan.Index.Targets {
		for f, factor := range x.Plan.Factors {
			i, swapped := place[f]
			switch {
			case !x.Plan.Reaches(factor, target.Output):
				x.addBoth(target, factor.Name, CannotReach, [2]string{orderFirst, orderTotal}, sensitivity.Pair{}, 0)
			case swapped:
				x.addBoth(target, factor.Name, SwappedBothWays, [2]string{orderFirst, orderTotal}, pairs[t][i], runs)
			}
		}
		for i, s := range x.Plan.Index.Swaps {
			if s.Number < 0 && x.Plan.Reaches(s.Factor, target.Output) {
				x.addBoth(target, s.Name, SwappedBothWays, [2]string{orderGroup, orderGroupTotal}, pairs[t][i], runs)
			}
		}
	}
}

func (x *Indices) addBoth(target plan.Target, input string, method Method, orders [2]string, p sensitivity.Pair, runs int) {
	x.add(figure{target: target, input: input, method: method, order: orders[0], Index: p.First, runs: runs, dropped: p.Dropped})
	x.add(figure{target: target, input: input, method: method, order: orders[1], Index: p.Total, runs: runs, dropped: p.Dropped})
}

// Widest is the largest half-width of first-order and total index of the outputs'
// factors, what growing goes by: infinite where one that there should be is not known. A
// constant output has none.
func (a *Analyst) Widest(pairs [][]sensitivity.Pair) float64 {
	widest := 0.0
	for t, target := range a.Plan.Index.Targets {
		if target.Of != plan.OfOutput {
			continue
		}
		for i, s := range a.Plan.Index.Swaps {
			p := &pairs[t][i]
			if s.Number < 0 || p.Constant {
				continue
			}
			for _, half := range []float64{halfWidth(p.First.Interval), halfWidth(p.Total.Interval)} {
				if half != half {
					return math.Inf(1)
				}
				widest = max(widest, half)
			}
		}
	}
	return widest
}

// AddScreening adds the elementary effects of each factor, as shares of the output's
// standard deviation, and the total index of those that were set aside.
func (x *Indices) AddScreening(effects *sensitivity.Effects) {
	s := &x.Plan.Index.Screening
	runs := s.Runs()
	for t, found := range effects.Results(x.Plan.Study.Level) {
		target := s.Targets[t]
		for k, e := range found {
			f := s.Factors[k]
			if !x.Plan.Reaches(f, target.Output) {
				continue
			}
			for _, figures := range []struct {
				order string
				sensitivity.Index
			}{
				{orderMeanEffect, sensitivity.Index{Estimate: e.Mean, Interval: estimate.None()}},
				{orderEffect, e.MeanAbsolute},
				{orderEffectSD, sensitivity.Index{Estimate: e.SD, Interval: estimate.None()}},
			} {
				x.add(figure{target: target, input: f.Name, method: FewSteps, order: figures.order, Index: x.perSD(target, figures.Index), runs: runs, dropped: math.NaN()})
			}
			if !slices.ContainsFunc(x.Plan.Index.Swaps, func(w plan.Swap) bool { return w.Number >= 0 && w.Name == f.Name }) {
				x.add(figure{target: target, input: f.Name, method: ScreenedOut, order: orderTotal, Index: e.Total, runs: runs, dropped: math.NaN()})
			}
		}
	}
}

// perSD is an effect in SI as a share of the target's standard deviation in the draws.
func (x *Indices) perSD(target plan.Target, i sensitivity.Index) sensitivity.Index {
	unit := x.unitOf(target)
	sd := x.deviations[x.stored(target)]
	scale := func(v float64) float64 { return unit.DeltaFromSI(v) / sd }
	return sensitivity.Index{Estimate: scale(i.Estimate), Interval: estimate.Interval{Low: scale(i.Low), High: scale(i.High)}}
}

// AddPairs adds second-order indices: sums has the swaps that first-order indices
// came from, both those of the pairs.
func (x *Indices) AddPairs(pairs []plan.Pair, sums, both *sensitivity.PickFreeze, runs int) {
	swaps := x.Plan.Index.Swaps
	for t, target := range x.Plan.Index.Targets {
		for k, p := range pairs {
			one, other := swaps[p.One], swaps[p.Other]
			if x.Plan.Reaches(one.Factor, target.Output) && x.Plan.Reaches(other.Factor, target.Output) {
				x.add(figure{target: target, input: one.Name, other: other.Name, method: SwappedBothWays, order: orderSecond,
					Index: sums.Interaction(t, p.One, p.Other, both, k, x.Plan.Study.Level), runs: runs})
			}
		}
	}
}

// AddShapley adds each player's share of each target.
func (x *Indices) AddShapley(sums *sensitivity.Shapley, runs int) {
	method := RandomOrders
	if x.Plan.AllSubsets() {
		method = AllSubsets
	}
	for t, shares := range sums.Effects(x.Plan.Study.Level) {
		for k, share := range shares {
			x.add(figure{target: x.Plan.Index.Targets[t], input: x.Plan.Index.Players[k].Name, method: method, order: orderShapley,
				Index: share, runs: runs, dropped: sums.Dropped(t)})
		}
	}
}

// name is the full name of a program output that is stored.
func (a *Analyst) name(output int) string { return a.Plan.Program.Outputs()[output] }
