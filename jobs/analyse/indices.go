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
	rows []result.IndexRow
}

// NewIndices starts the table.
func (a *Analyst) NewIndices() *Indices { return &Indices{Analyst: a} }

// Rows are all that was added.
func (x *Indices) Rows() []result.IndexRow { return x.rows }

// A figure is one row of the table.
type figure struct {
	target       plan.Target
	input, other string
	method       result.Method
	order        result.Order
	sensitivity.Index
	runs    int
	dropped float64
}

func (x *Indices) add(f figure) {
	x.rows = append(x.rows, result.IndexRow{Choice: int64(x.Plan.Choice), Output: f.target.Name, Of: result.Of(f.target.Of), Input: f.input, Other: f.other, Method: f.method, Order: f.order,
		Estimate: f.Estimate, Low: f.Low, High: f.High, ModelRuns: int64(f.runs), Dropped: f.dropped, Evidence: x.taken(f.method)})
}

// addSwaps adds first-order and total index of each target and each factor, and
// those of groups.
func (x *Indices) addSwaps(sums *sensitivity.PickFreeze, runs int) {
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
				x.addBoth(target, factor.Name, result.CannotReach, [2]result.Order{result.FirstOrder, result.TotalOrder}, sensitivity.Pair{}, 0)
			case swapped:
				x.addBoth(target, factor.Name, result.SwappedBothWays, [2]result.Order{result.FirstOrder, result.TotalOrder}, pairs[t][i], runs)
			}
		}
		for i, s := range x.Plan.Index.Swaps {
			if s.Number < 0 && x.Plan.Reaches(s.Factor, target.Output) {
				x.addBoth(target, s.Name, result.SwappedBothWays, [2]result.Order{result.GroupOrder, result.GroupTotal}, pairs[t][i], runs)
			}
		}
	}
}

func (x *Indices) addBoth(target plan.Target, input string, method result.Method, orders [2]result.Order, p sensitivity.Pair, runs int) {
	x.add(figure{target: target, input: input, method: method, order: orders[0], Index: p.First, runs: runs, dropped: p.Dropped})
	x.add(figure{target: target, input: input, method: method, order: orders[1], Index: p.Total, runs: runs, dropped: p.Dropped})
}

// addScreening adds the elementary effects of each factor, as shares of the output's
// standard deviation, and the total index of those that were set aside.
func (x *Indices) addScreening(effects [][]sensitivity.Effect) {
	s := &x.Plan.Index.Screening
	runs := s.Runs()
	for t, found := range effects {
		target := s.Targets[t]
		for k, e := range found {
			f := s.Factors[k]
			if !x.Plan.Reaches(f, target.Output) {
				continue
			}
			for _, figures := range []struct {
				order result.Order
				sensitivity.Index
			}{
				{result.MeanEffect, sensitivity.Index{Estimate: e.Mean, Interval: estimate.None()}},
				{result.AbsoluteEffect, e.MeanAbsolute},
				{result.EffectSD, sensitivity.Index{Estimate: e.SD, Interval: estimate.None()}},
			} {
				x.add(figure{target: target, input: f.Name, method: result.FewSteps, order: figures.order, Index: x.perSD(target, figures.Index), runs: runs, dropped: math.NaN()})
			}
			if !slices.ContainsFunc(x.Plan.Index.Swaps, func(w plan.Swap) bool { return w.Number >= 0 && w.Name == f.Name }) {
				x.add(figure{target: target, input: f.Name, method: result.ScreenedOut, order: result.TotalOrder, Index: e.Total, runs: runs, dropped: math.NaN()})
			}
		}
	}
}

// perSD is an effect in SI as a share of the target's standard deviation in the draws,
// which has an error too.
func (x *Indices) perSD(target plan.Target, i sensitivity.Index) sensitivity.Index {
	scale := x.unitOf(target).DeltaFromSI
	i = sensitivity.Index{Estimate: scale(i.Estimate), Interval: estimate.Interval{Low: scale(i.Low), High: scale(i.High)}}
	found := x.deviations[x.stored(target)]
	return i.Per(found.sd, found.Interval)
}

// addPairs adds second-order indices: sums has the swaps that first-order indices
// came from, both those of the pairs.
func (x *Indices) addPairs(pairs []plan.Pair, sums, both *sensitivity.PickFreeze, runs int) {
	swaps := x.Plan.Index.Swaps
	for t, target := range x.Plan.Index.Targets {
		for k, p := range pairs {
			one, other := swaps[p.One], swaps[p.Other]
			if x.Plan.Reaches(one.Factor, target.Output) && x.Plan.Reaches(other.Factor, target.Output) {
				x.add(figure{target: target, input: one.Name, other: other.Name, method: result.SwappedBothWays, order: result.SecondOrder,
					Index: sums.Interaction(t, p.One, p.Other, both, k, x.Plan.Study.Level), runs: runs})
			}
		}
	}
}

// addShapley adds each player's share of each target.
func (x *Indices) addShapley(sums *sensitivity.Shapley, runs int) {
	method := result.RandomOrders
	if x.Plan.AllSubsets() {
		method = result.AllSubsets
	}
	for t, shares := range sums.Effects(x.Plan.Study.Level) {
		for k, share := range shares {
			x.add(figure{target: x.Plan.Index.Targets[t], input: x.Plan.Index.Players[k].Name, method: method, order: result.ShapleyEffect,
				Index: share, runs: runs, dropped: sums.Dropped(t)})
		}
	}
}

// name is the full name of a program output that is stored.
func (a *Analyst) name(output int) string { return a.Plan.Program.Outputs()[output] }
