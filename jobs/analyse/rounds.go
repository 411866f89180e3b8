package analyse

import (
	"fmt"

	"proofmass/jobs/plan"
	"proofmass/jobs/run"
	"proofmass/sensitivity"
)

// joined is what the rounds gave, by kind.
type joined struct {
	rounds   map[plan.Kind]int
	runs     map[plan.Kind]int // of the model
	points   [][]float64       // of the tornado, an output a column
	effects  *sensitivity.Effects
	swaps    *sensitivity.PickFreeze
	shapley  *sensitivity.Shapley
	pairs    *sensitivity.PickFreeze
	pairings []plan.Pair
}

// Join takes the parts of a round of the step, one a slice and in their order. path says
// where a slice of the sample lies. Rounds are joined in their order, by one goroutine.
func (a *Analyst) Join(step *plan.Step, round plan.Round, parts []run.Part, path func(plan.Slice) string) error {
	j := &a.joined
	if j.rounds == nil {
		j.rounds, j.runs = map[plan.Kind]int{}, map[plan.Kind]int{}
	}
	first := j.rounds[step.Kind] == 0
	a.Plan = step.Plan
	switch step.Kind {
	case plan.Sample:
		a.add(round, path)
	case plan.Tornado:
		j.points = make([][]float64, len(step.Plan.TornadoOutputs()))
		for _, p := range parts {
			for o, column := range p.(*run.Points).Values {
				j.points[o] = append(j.points[o], column...)
			}
		}
	case plan.Screen:
		j.effects = run.NewEffects(step)
		for i, s := range round.Slices {
			j.effects.Join(s.Replicate, parts[i].(*sensitivity.EffectsSums))
		}
	case plan.Index:
		if first {
			j.swaps = sensitivity.NewPickFreeze(len(step.Swaps), len(step.Plan.Index.Targets))
		}
		joinSwaps(j.swaps, round, parts)
	case plan.Pairs:
		if first {
			j.pairs, j.pairings = sensitivity.NewPickFreeze(len(step.Swaps), len(step.Plan.Index.Targets)), step.Pairs
		}
		joinSwaps(j.pairs, round, parts)
	case plan.Shapley:
		if first {
			j.shapley = run.NewShapley(step)
		}
		for i, s := range round.Slices {
			j.shapley.Join((round.FirstReplicate+s.Replicate)%step.Slots, parts[i].(*sensitivity.ShapleySums))
		}
	default:
		return fmt.Errorf("analyse: there are no rounds of kind %s", step.Kind)
	}
	j.rounds[step.Kind]++
	j.runs[step.Kind] += round.Rows * step.Each()
	return nil
}

func joinSwaps(all *sensitivity.PickFreeze, round plan.Round, parts []run.Part) {
	for i, s := range round.Slices {
		all.Join(round.FirstReplicate+s.Replicate, parts[i].(*sensitivity.PickFreezeSums))
	}
}

// Joined is what the rounds so far say for what comes next. kind is that of the step that
// was joined last, or any before there was one.
func (a *Analyst) Joined(kind plan.Kind, before *plan.Joined) (*plan.Joined, error) {
	now := *before
	now.Rounds = a.joined.rounds
	var err error
	switch {
	case kind == plan.Sample && a.Plan.Study.Growth.AtMost > 0:
		now.Chance, now.Percentiles, err = a.HalfWidths()
	case kind == plan.Screen:
		now.Negligible = a.joined.effects.Negligible(plan.Negligible(), a.Plan.Study.Level)
	case kind == plan.Index:
		now.Shares = a.joined.swaps.Indices(a.Plan.Study.Level)
	}
	return &now, err
}

// IndexRuns is how many evaluations of the model were made for sensitivity by rounds that
// count as its runs: all but the tornado's points.
func (a *Analyst) IndexRuns() int {
	r := a.joined.runs
	return r[plan.Screen] + r[plan.Index] + r[plan.Shapley] + r[plan.Pairs]
}

// AddRounds adds what the rounds of swapped rows tell to the table.
func (x *Indices) AddRounds() {
	j := &x.joined
	if j.effects != nil {
		x.addScreening(j.effects)
	}
	if j.swaps == nil {
		return
	}
	runs := j.runs[plan.Index]
	x.addSwaps(j.swaps, runs)
	if j.shapley != nil {
		x.addShapley(j.shapley, j.runs[plan.Shapley])
	}
	if j.pairs != nil {
		x.addPairs(j.pairings, j.swaps, j.pairs, runs+j.runs[plan.Pairs])
	}
}
