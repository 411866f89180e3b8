package jobs_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"proofmass/jobs/plan"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
	"proofmass/sensitivity"
)

// The demo's total indices three ways: from the input swapped both ways; as what the
// closed index of all other inputs leaves, T = 1 - S of the rest, from other rows; and
// by Jansen's estimator from the rows of screening, a third design. Two right 95 %
// intervals differ by more than the sum of their half-widths with the chance 0.6 % or
// less (two equal ones: 2 x 1.96 sd of a difference of sd 1.41); some 40 inputs and two
// comparisons each for three outputs make 3 such cases likely at most 1 in 20 runs.
func TestTotalIndicesThreeWays(t *testing.T) {
	p := heronPlan(t)
	factors, rests := factorsAndRests(p)
	own, rest := run.NewSwaps(swapping(p, factors)), run.NewSwaps(swapping(p, rests))
	const rounds = 1
	for k := range rounds {
		swapped(t, p, p.IndexRound(k), factors, own)
		other := p.IndexRound(rounds + k)
		other.FirstReplicate -= rounds * plan.Replicates
		swapped(t, p, other, rests, rest)
	}
	screen := &plan.Step{Kind: plan.Screen, Plan: p}
	effects := run.NewEffects(screen)
	for i, part := range parts(t, screen, p.Index.Screening.Round) {
		effects.Join(p.Index.Screening.Slices[i].Replicate, part.(*sensitivity.EffectsSums))
	}
	apart, compared := agree(t, p, own.Indices(0.95), rest.Indices(0.95), effects.Results(0.95))
	t.Logf("%d of %d comparisons are further apart than their intervals", apart, compared)
	if apart > 3 || compared < 100 {
		t.Errorf("%d of %d comparisons are further apart than their intervals", apart, compared)
	}
}

func swapping(p *plan.Plan, swaps []plan.Swap) *plan.Step {
	return &plan.Step{Kind: plan.Index, Plan: p, Swaps: swaps, Slots: sensitivity.MostSlots}
}

// swapped joins what a round of rows with each swap tells into all.
func swapped(t *testing.T, p *plan.Plan, round plan.Round, swaps []plan.Swap, all *sensitivity.PickFreeze) {
	t.Helper()
	for i, part := range parts(t, swapping(p, swaps), round) {
		all.Join(round.FirstReplicate+round.Slices[i].Replicate, part.(*sensitivity.PickFreezeSums))
	}
}

func parts(t *testing.T, step *plan.Step, round plan.Round) []run.Part {
	t.Helper()
	var made []run.Part
	err := new(run.Runner).Make(t.Context(), step, round, round.Slices, nowhere{}, func(_ plan.Slice, part run.Part) error {
		made = append(made, part)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return made
}

type nowhere struct{}

func (nowhere) Known(*plan.Step, plan.Key) run.Part { return nil }
func (nowhere) Keep(_ plan.Key, part run.Part, _ time.Duration) error {
	if file, ok := part.(*run.File); ok {
		return file.Commit()
	}
	return nil
}

func heronPlan(t *testing.T) *plan.Plan {
	t.Helper()
	s, err := study.Read(studies+"heron.yaml", study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s.Indices.Screen = "yes"
	p, err := plan.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// factorsAndRests are the swaps of each factor alone, and of all others together.
func factorsAndRests(p *plan.Plan) (factors, rests []plan.Swap) {
	for _, s := range p.Index.Swaps {
		if s.Number < 0 {
			continue
		}
		factors = append(factors, s)
		rest := plan.Swap{Factor: plan.Factor{Name: "all but " + s.Name}, Number: -1}
		for _, o := range p.Index.Swaps {
			if o.Number >= 0 && o.Number != s.Number {
				rest.Inputs = append(rest.Inputs, o.Inputs...)
			}
		}
		rests = append(rests, rest)
	}
	return factors, rests
}

func agree(t *testing.T, p *plan.Plan, own, rest [][]sensitivity.Pair, few [][]sensitivity.Effect) (apart, compared int) {
	for k, target := range p.Index.Targets {
		if target.Of != plan.OfOutput || !slices.ContainsFunc(p.Study.Claims, func(c study.Claim) bool { return c.Of == target.Name }) {
			continue
		}
		for i, f := range p.Index.Screening.Factors {
			if !p.Reaches(f, target.Output) {
				continue
			}
			total, closed, jansen := own[k][i].Total, rest[k][i].First, few[k][i].Total
			for _, other := range []sensitivity.Index{
				{Estimate: 1 - closed.Estimate, Interval: closed.Interval}, jansen,
			} {
				compared++
				allowed := (total.High-total.Low)/2 + max(other.High-other.Low, 0)/2
				if d := math.Abs(total.Estimate - other.Estimate); d > allowed {
					apart++
					t.Logf("%s of %s: %.4f and %.4f, apart by %.4f, intervals allow %.4f", f.Name, target.Name, total.Estimate, other.Estimate, d, allowed)
				}
			}
		}
	}
	return apart, compared
}
