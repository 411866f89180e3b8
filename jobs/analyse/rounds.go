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
	runs     map[plan.Kind]int    // of the model
	points   [][]float64          // of the tornado, an output a column
	effects  *sensitivity.Effects // until they are told, as
	screened [][]sensitivity.Effect
	swaps    *sensitivity.PickFreeze
	shapley  *sensitivity.Shapley
	pairs    *sensitivity.PickFreeze
	pairings []plan.Pair
	slots    int // of walks
	climbs   []plan.Climb
	moved    [][]run.Moved // of each climb in a step and each population

	tempering *plan.Tempering
}

// Begin begins to join a round of the step, whose slices follow in their order. path says
// where a slice of the sample lies.
func (a *Analyst) Begin(step *plan.Step, round plan.Round, path func(plan.Slice) string) {
	j := &a.joined
	if j.rounds == nil {
		j.rounds, j.runs = map[plan.Kind]int{}, map[plan.Kind]int{}
	}
	if j.rounds[step.Kind] == 0 {
		j.start(step)
	}
	a.Plan = step.Plan
	switch step.Kind {
	case plan.Rare:
		j.beginClimbs(step)
	case plan.Temper:
		j.beginTempering(step)
	}
	if step.Kind == plan.Sample {
		a.add(round, path)
	}
	j.slots = step.Slots
	j.rounds[step.Kind]++
	j.runs[step.Kind] += round.All() * step.Each()
}

// start makes what the parts of a kind are joined into.
func (j *joined) start(step *plan.Step) {
	switch step.Kind {
	case plan.Tornado:
		j.points = make([][]float64, len(step.Plan.TornadoOutputs()))
	case plan.Screen:
		j.effects = run.NewEffects(step)
	case plan.Index:
		j.swaps = run.NewSwaps(step)
	case plan.Pairs:
		j.pairs, j.pairings = run.NewSwaps(step), step.Pairs
	case plan.Shapley:
		j.shapley = run.NewShapley(step)
	}
}

// Join joins the part of the round's next slice. One goroutine at a time.
func (a *Analyst) Join(round plan.Round, s plan.Slice, part run.Part) error {
	j := &a.joined
	replicate := round.FirstReplicate + s.Replicate
	switch round.Kind {
	case plan.Sample: // its rows stand in files
		a.addFigures(s, part)
	case plan.Rare, plan.Temper:
		j.moved[s.Climb][s.Replicate] = *part.(*run.Moved)
	case plan.Tornado:
		for o, column := range part.(*run.Points).Values {
			j.points[o] = append(j.points[o], column...)
		}
	case plan.Screen:
		j.effects.Join(replicate, part.(*sensitivity.EffectsSums))
	case plan.Index:
		j.swaps.Join(replicate, part.(*sensitivity.PickFreezeSums))
	case plan.Pairs:
		j.pairs.Join(replicate, part.(*sensitivity.PickFreezeSums))
	case plan.Shapley:
		j.shapley.Join(replicate%j.slots, part.(*sensitivity.ShapleySums))
	default:
		return fmt.Errorf("analyse: there are no rounds of kind %s", round.Kind)
	}
	return nil
}

// Joined is what the rounds so far say for what comes next. kind is that of the step that
// was joined last, or any before there was one.
func (a *Analyst) Joined(kind plan.Kind, before *plan.Joined) (*plan.Joined, error) {
	now := *before
	now.Rounds = a.joined.rounds
	var err error
	if kind == plan.Sample && a.Plan.FollowsRare() {
		if now.Climbs, err = a.rare(); err != nil {
			return nil, err
		}
	}
	if kind == plan.Sample && len(a.Plan.Facts) > 0 {
		if now.Tempering, err = a.temper(); err != nil {
			return nil, err
		}
	}
	switch {
	case kind == plan.Temper:
		a.joined.tellTempering()
		now.Tempering = a.joined.tempering
	case kind == plan.Rare:
		a.joined.tellClimbs(a.Plan.Study.Rare)
		now.Climbs = a.joined.climbs
	case kind == plan.Sample && a.race != nil:
		now.In = a.look()
	case kind == plan.Sample && a.Plan.Study.Stopping.AtMost > 0:
		now.Chance, now.Percentiles, err = a.halfWidths()
	case kind == plan.Screen:
		now.Negligible = a.Negligible()
		a.joined.screened, a.joined.effects = a.joined.effects.Results(a.Plan.Study.Level), nil // the sums are large
	case kind == plan.Index:
		now.Shares = a.joined.swaps.Indices(a.Plan.Study.Level)
	}
	return &now, err
}

// Negligible says of each screened factor whether it does next to nothing, of the screening
// round that was joined last.
func (a *Analyst) Negligible() []bool {
	return a.joined.effects.Negligible(plan.Negligible(), a.Plan.Study.Level)
}

// IndexRuns is how many evaluations of the model were made for sensitivity by rounds that
// count as its runs: all but the tornado's points.
func (a *Analyst) IndexRuns() int {
	r := a.joined.runs
	return r[plan.Screen] + r[plan.Index] + r[plan.Shapley] + r[plan.Pairs]
}

// AddRounds adds what the rounds of swapped rows tell to the table, and lets go of their
// sums: of many inputs and outputs they are large.
func (x *Indices) AddRounds() {
	defer func() { x.joined.swaps, x.joined.pairs, x.joined.shapley, x.joined.screened = nil, nil, nil, nil }()
	j := &x.joined
	if j.screened != nil {
		x.addScreening(j.screened)
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
