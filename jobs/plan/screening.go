package plan

import (
	"fmt"
	"slices"

	"proofmass/jobs/study"
	"proofmass/sampling/design"
)

// Screening is few rows that find the inputs which do next to nothing, so that they
// need no runs of their own.
type Screening struct {
	Round     // without rows: nothing is screened
	Factors   []Factor
	Targets   []Target // without whether claims hold: there everything acts together
	Design    design.Design
	TooCostly bool // asked for, and left out since it would take over a quarter of the runs
}

// Purposes of the draws of screening.
const (
	PurposeScreenA = "screen A"
	PurposeScreenB = "screen B"
)

const (
	manyFactors     = 50   // from which on screening pays without being asked for. Common practice, no source
	screeningRows   = 256  // 16 in each replicate; what Effects.Negligible was measured with
	negligible      = 0.01 // total index whose upper limit lies below it for every target. Common practice, no source
	leastToSetAside = 2    // one input alone is as cheap by itself
)

// Negligible is the total index that screening must find an input to be below.
func Negligible() float64 { return negligible }

// planScreening adds screening where the study asks for it, or has many factors.
func (p *Plan) planScreening() error {
	x := &p.Index
	for _, s := range x.Swaps {
		if s.Number >= 0 {
			x.Screening.Factors = append(x.Screening.Factors, s.Factor)
		}
	}
	for _, t := range x.Targets {
		if t.Of != OfHolds {
			x.Screening.Targets = append(x.Screening.Targets, t)
		}
	}
	asked := p.Study.Indices.Screen
	if asked == "no" || asked == "" && len(x.Screening.Factors) <= manyFactors || len(x.Screening.Targets) == 0 {
		return nil
	}
	if x.Screening.Runs() > p.Study.Indices.AtMost/4 {
		x.Screening.TooCostly = asked == "yes"
		return nil // few runs: better spent on the indices
	}
	x.Screening.Round = newRound(0, Screen, screeningRows, Replicates)
	var err error
	if x.Screening.Design, err = design.New("latin", p.Study.Seed, screeningRows, p.designColumns(PurposeScreenA, PurposeScreenB)); err != nil {
		return fmt.Errorf("indices: screening: %w", err)
	}
	return nil
}

// Each is the number of runs of one row.
func (s *Screening) Each() int { return len(s.Factors) + 1 }

// Runs is the number of runs of all rows.
func (s *Screening) Runs() int { return screeningRows * s.Each() }

// Spent is the number of runs that a plan's screening takes: none where there is none.
func (s *Screening) Spent() int {
	if s.Rows == 0 {
		return 0
	}
	return s.Runs()
}

// mayStandAside reports whether screening has looked at all that the factor does: not
// if no screened target reads it, nor if a claim without a margin names it.
func (p *Plan) mayStandAside(f Factor) bool {
	for _, c := range p.Study.Claims {
		if c.Margin == nil && p.holdsAny(f, c.Expr.Names()) {
			return false
		}
	}
	return slices.ContainsFunc(p.Index.Screening.Targets, func(t Target) bool { return p.Reaches(f, t.Output) })
}

// dearScreening says that screening was asked for in vain.
func (p *Plan) dearScreening() []string {
	if !p.Index.Screening.TooCostly {
		return nil
	}
	return []string{fmt.Sprintf("Screening (indices.screen: yes) is left out: its %d model runs are more than a quarter of the %d allowed.", p.Index.Screening.Runs(), p.Study.Indices.AtMost)}
}

// Screened is the plan in which the factors found negligible are swapped as one,
// by their numbers in the screening. It is p itself where that saves nothing.
func (p *Plan) Screened(negligible []bool) (*Plan, error) {
	var kept []Swap
	aside := Factor{Name: study.OthersGroup}
	var factors []Factor
	k := 0
	for _, s := range p.Index.Swaps {
		if s.Number < 0 {
			kept = append(kept, s)
			continue
		}
		if negligible[k] && p.mayStandAside(s.Factor) {
			aside.Inputs = append(aside.Inputs, s.Inputs...)
			factors = append(factors, s.Factor)
		} else {
			kept = append(kept, s)
		}
		k++
	}
	if len(p.Index.Swaps)-len(kept) < leastToSetAside {
		return p, nil
	}
	q := *p
	q.Index.Swaps, q.Index.Aside = append(kept, Swap{aside, -1}), factors
	q.addPlayers()
	return &q, q.sizeIndices(p.Study.Indices.AtMost - p.Index.Screening.Spent())
}
