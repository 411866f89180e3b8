package plan

import (
	"slices"

	"proofmass/sensitivity/sequential"
)

// FewHold is how many draws must hold a claim, and how many fail it, for them to tell its chance:
// with fewer it is rare. Common practice, no source.
const FewHold = 50

// A Climb is where several populations are on their way to a claim that next to no draw holds,
// or fails.
type Climb struct {
	Claim       int   // among the plan's
	Fails       bool  // the claim nearly always holds: the populations go to where it fails
	Scores      []int // the drawn inputs that the claim rests on: those of a row's normal scores
	State       sequential.Climb
	Populations []sequential.Population // the rows that lie beyond the last level; none before the first round
	Runs        int                     // of the model
}

// Climbs begins those that the study asks for: of each claim with a margin that some input
// reaches, which fewer than FewHold of the draws hold, or fail. Of choices, and after what was
// measured, whose weights plain rows have, there are none.
func (p *Plan) Climbs(held []int, rows int) []Climb {
	if !p.FollowsRare() {
		return nil
	}
	var all []Climb
	for k, c := range p.Claims {
		if c.Margin < 0 || !p.varies(c.Margin) || p.isNever(c.Margin) || held[k] >= FewHold && rows-held[k] >= FewHold {
			continue
		}
		climb := Climb{Claim: k, Fails: 2*held[k] > rows}
		for i := range p.Drawn {
			if p.Drawn[i].Choice == 0 && p.Program.Reaches(i, c.Holds) {
				climb.Scores = append(climb.Scores, i)
			}
		}
		all = append(all, climb)
	}
	return all
}

// FollowsRare reports whether the study wants rare claims followed, and they can be.
func (p *Plan) FollowsRare() bool {
	return p.Study.Rare > 0 && p.Choosing == nil && len(p.Facts) == 0 && len(p.Claims) > 0
}

// MostClimbRuns is about how many runs of the model a climb takes at most.
func (p *Plan) MostClimbRuns() int {
	levels := 1
	for x := 0.1; x > p.Study.Rare; x /= 10 {
		levels++
	}
	return sequential.Populations * sequential.ClimbRows * (1 + levels*sequential.ClimbMoves)
}

// nextClimbs is the next level of all that have not come to their end, nil if all have. A slice
// is one population of one climb.
func (p *Plan) nextClimbs(j *Joined) *Step {
	done := j.Rounds[Rare]
	r := Round{Number: done, Kind: Rare, Replicates: sequential.Populations}
	for e := range j.Climbs {
		c := &j.Climbs[e]
		if c.State.Done {
			continue
		}
		for k := range sequential.Populations {
			if done > 0 && c.State.Levels[len(c.State.Levels)-1].Shares[k] == 0 {
				continue // it has died out
			}
			r.Slices = append(r.Slices, Slice{Number: len(r.Slices), Replicate: k, First: r.Rows, Rows: sequential.ClimbRows, Climb: e})
			r.Rows += sequential.ClimbRows
		}
	}
	if len(r.Slices) == 0 {
		return nil
	}
	s := &Step{Kind: Rare, Plan: p, Rounds: []Round{r}, Climbs: j.Climbs}
	if done > 0 {
		s.Moves = sequential.ClimbMoves
	}
	return s
}

// Moved are the climbs that a step moved, by their numbers.
func (s *Step) Moved() []int {
	var all []int
	for _, x := range s.Rounds[0].Slices {
		if !slices.Contains(all, x.Climb) {
			all = append(all, x.Climb)
		}
	}
	return all
}
