package jobs

import (
	"context"
	"math"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity"
)

// indices finds out what decides each output and claim: what the sample's own rows
// tell, the tornado's points, then what further rows tell.
func (j *job) indices(ctx context.Context) error {
	defer func() { j.progress.add(-j.foreseen) }()
	if len(j.plan.Index.Targets) == 0 {
		return nil
	}
	given, err := j.analyst.Given()
	if err != nil {
		return err
	}
	if err := j.tornado(given); err != nil {
		return err
	}
	if err := j.curves(given); err != nil {
		return err
	}
	table := j.analyst.NewIndices()
	given.Add(table)
	if err := given.Regress(table); err != nil {
		return err
	}
	if j.plan.Index.FirstRounds() > 0 {
		if err := j.screen(ctx, table); err != nil {
			return err
		}
		if err := j.swaps(ctx, table); err != nil {
			return err
		}
	}
	return j.write(result.IndicesTable, table.Table())
}

func (j *job) tornado(given *analyse.Given) error {
	ix := &j.plan.Index
	at := j.runner.Tornado(analyse.TornadoPoints(j.plan), append(append([]int{}, ix.Outputs...), j.plan.ShownOutputs()...))
	tornado := j.analyst.Tornado(at[:len(ix.Outputs)], at[len(ix.Outputs):], given)
	if tornado == nil {
		return nil // whether claims hold is all that is asked
	}
	return j.write(result.TornadoTable, tornado)
}

// curves writes what the sample's rows tell beside indices: mean outputs over an
// input's range, and an input where a claim holds and where it fails.
func (j *job) curves(given *analyse.Given) error {
	if curves := given.Curves(); curves != nil {
		if err := j.write(result.CurvesTable, curves); err != nil {
			return err
		}
	}
	if regions := given.Regions(); regions != nil {
		return j.write(result.RegionsTable, regions)
	}
	return nil
}

// screen goes on with the plan in which inputs that do next to nothing are swapped
// as one.
func (j *job) screen(ctx context.Context, table *analyse.Indices) error {
	if j.plan.Index.Screening.Rows > 0 {
		j.runs(j.plan.Index.Screening.Runs())
	}
	p, effects, err := Screened(ctx, j.plan, j.runner)
	if err != nil || effects == nil {
		return err
	}
	j.plan, j.runner.Plan, j.analyst.Plan = p, p, p
	spared := j.foreseen - (p.FirstIndexRuns() - p.Index.Screening.Runs())
	j.foreseen -= spared
	j.progress.add(-spared)
	table.AddScreening(effects)
	return nil
}

// swaps adds rounds of pairs of rows until the half-width is reached, then swaps
// those pairs of inputs that act together, in the same rows.
func (j *job) swaps(ctx context.Context, table *analyse.Indices) error {
	ix, targets := &j.plan.Index, len(j.plan.Index.Targets)
	sums := sensitivity.NewPickFreeze(len(ix.Swaps), targets)
	rounds, shares, err := j.growIndices(ctx, sums)
	if err != nil {
		return err
	}
	rows := rounds * ix.Rows
	runs := rows * ix.Each()
	table.AddSwaps(sums, runs)
	if err := j.shapley(ctx, table, rounds); err != nil {
		return err
	}
	pairs, without := j.plan.Pairs(shares, rows, j.plan.Study.Indices.AtMost-int(j.manifest.IndexRuns))
	j.manifest.PairsLeftOut = without
	if len(pairs) == 0 {
		return nil
	}
	both := sensitivity.NewPickFreeze(len(pairs), targets)
	swaps := j.plan.PairSwaps(pairs)
	more := rows * (2*len(pairs) + 2)
	j.runs(more)
	for k := range rounds {
		if err := j.runner.Index(ctx, j.plan.IndexRound(k), swaps, both); err != nil {
			return err
		}
	}
	table.AddPairs(pairs, sums, both, runs+more)
	return nil
}

// mostSlots is how many replicates are told apart at most.
const mostSlots = 32

// shapley shares out each target's variance where inputs are tied, in the rows of all
// rounds.
func (j *job) shapley(ctx context.Context, table *analyse.Indices, rounds int) error {
	ix := &j.plan.Index
	if len(ix.Players) == 0 {
		return nil
	}
	runs := rounds * ix.Rows * j.plan.ShapleyEach()
	j.runs(runs)
	slots := min(mostSlots, rounds*ix.Replicates)
	shares := sensitivity.NewShapley(len(ix.Players), len(ix.Targets), slots)
	for k := range rounds {
		if err := j.runner.Shapley(ctx, j.plan.IndexRound(k), slots, shares); err != nil {
			return err
		}
	}
	table.AddShapley(shares, runs)
	return nil
}

// runs counts evaluations of the model that are about to be made for sensitivity.
// Progress has foreseen the first of them.
func (j *job) runs(count int) {
	j.manifest.IndexRuns += int64(count)
	known := min(count, j.foreseen)
	j.foreseen -= known
	j.progress.add(count - known)
}

// growIndices adds rounds until the half-width asked for is reached or the runs are
// used up. What is decided depends on the joined rounds before alone.
func (j *job) growIndices(ctx context.Context, sums *sensitivity.PickFreeze) (rounds int, shares [][]sensitivity.Pair, err error) {
	ix := &j.plan.Index
	for more := ix.FirstRounds(); more > 0; {
		for range more {
			if err := j.indexRound(ctx, rounds, sums); err != nil {
				return 0, nil, err
			}
			rounds++
		}
		shares = sums.Indices(j.plan.Study.Level)
		widest := j.analyst.Widest(shares)
		j.manifest.HalfWidth = nil
		if !math.IsInf(widest, 0) {
			j.manifest.HalfWidth = &widest
		}
		more = sensitivity.MoreRounds(rounds, ix.Most, widest/j.plan.Study.Indices.HalfWidth)
	}
	return rounds, shares, nil
}

func (j *job) indexRound(ctx context.Context, number int, sums *sensitivity.PickFreeze) error {
	r := j.plan.IndexRound(number)
	j.runs(r.Rows * j.plan.Index.Each())
	j.manifest.Rounds = append(j.manifest.Rounds, result.Round{Number: r.Number, Kind: string(plan.Index), Rows: int64(r.Rows)})
	return j.runner.Index(ctx, r, j.plan.Index.Swaps, sums)
}
