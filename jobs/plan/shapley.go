package plan

import (
	"slices"

	"proofmass/jobs/study"
	"proofmass/sampling/marginal"
)

// mostSubsets is how many players have all their subsets evaluated: up to it that is
// more exact, for a run of the model, than random orders of them (measured, see
// sensitivity.Shapley).
const mostSubsets = 5

// continuous reports whether no input takes single values: given such a value the
// scores of what is tied to it are not normal, and cannot be redrawn by kriging.
func (p *Plan) continuous(inputs []int) bool {
	return !slices.ContainsFunc(inputs, func(i int) bool { return marginal.Discrete(p.Drawn[i].Marginal) })
}

// addPlayers lists between whom the variance is shared where inputs are tied: the
// factors that reach a target, tied inputs one by one (as one where any takes single
// values), what screening set aside as one.
func (p *Plan) addPlayers() {
	if !slices.ContainsFunc(p.Ties, func(t Tie) bool { return !t.Whole }) {
		return
	}
	p.Index.Players = nil
	for _, s := range p.Index.Swaps {
		switch {
		case s.Number < 0 && s.Name == study.OthersGroup:
			p.Index.Players = append(p.Index.Players, s.Factor)
		case s.Number < 0: // its inputs stand by themselves
		case p.apart(s.Inputs[0]) && p.continuous(s.Inputs):
			for _, i := range s.Inputs {
				p.Index.Players = append(p.Index.Players, Factor{Name: p.Drawn[i].Name, Inputs: []int{i}})
			}
		default:
			p.Index.Players = append(p.Index.Players, s.Factor)
		}
	}
}

// apart reports whether an input is tied, and told apart from what it is tied to.
func (p *Plan) apart(input int) bool {
	return slices.ContainsFunc(p.Ties, func(t Tie) bool { return !t.Whole && slices.Contains(t.Inputs, input) })
}

// PlayerOf is the player that a drawn input belongs to, -1 for none.
func (p *Plan) PlayerOf(input int) int {
	for k, f := range p.Index.Players {
		for _, i := range f.Inputs {
			if i == input {
				return k
			}
		}
	}
	return -1
}

// AllSubsets reports whether the players are few enough for all their subsets.
func (p *Plan) AllSubsets() bool { return len(p.Index.Players) <= mostSubsets }

// ShapleyEach is the number of runs that one row costs.
func (p *Plan) ShapleyEach() int {
	if p.AllSubsets() {
		return 1 << len(p.Index.Players)
	}
	return len(p.Index.Players) + 1
}
