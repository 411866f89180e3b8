package plan

import (
	"cmp"
	"slices"

	"proofmass/sensitivity"
)

// A Pair is two factors that are swapped at once, by their places among the swaps.
type Pair struct{ One, Other int }

// pairSwap is the pair as one swap.
func (p *Plan) pairSwap(pair Pair) Swap {
	one, other := p.Index.Swaps[pair.One], p.Index.Swaps[pair.Other]
	return Swap{Factor{Name: one.Name, Inputs: slices.Concat(one.Inputs, other.Inputs)}, -1}
}

// pairSwaps are the swaps of pairs.
func (p *Plan) pairSwaps(pairs []Pair) []Swap {
	swaps := make([]Swap, len(pairs))
	for i, pair := range pairs {
		swaps[i] = p.pairSwap(pair)
	}
	return swaps
}

// What makes a pair worth its runs: both inputs surely have more than this share of
// an output's variance together with others, and the pair is among the first few of
// the output. Common practice, no source.
const (
	worthAPair  = 0.01
	pairsOfEach = 6
)

// choosePairs chooses the pairs whose second-order index is wanted: those that the study
// asks for, as far as runs of the model are left. shares has what each target owes
// to each swap. left tells how many wanted pairs there were no runs for.
func (p *Plan) choosePairs(shares [][]sensitivity.Pair, rows, runs int) (pairs []Pair, left int) {
	switch p.Study.Indices.Pairs {
	case "none":
		return nil, 0
	case "all":
		pairs = p.allPairs()
	default:
		pairs = p.interacting(shares)
	}
	most := max(0, (runs/max(rows, 1)-2)/2)
	if len(pairs) > most {
		return pairs[:most], len(pairs) - most
	}
	return pairs, 0
}

// allPairs are all pairs of factors that reach one target.
func (p *Plan) allPairs() []Pair {
	var pairs []Pair
	for i, one := range p.Index.Swaps {
		for j := range i {
			other := p.Index.Swaps[j]
			if one.Number >= 0 && other.Number >= 0 && slices.ContainsFunc(p.Index.Targets, func(t Target) bool {
				return p.Reaches(one.Factor, t.Output) && p.Reaches(other.Factor, t.Output)
			}) {
				pairs = append(pairs, Pair{j, i})
			}
		}
	}
	return pairs
}

// interacting are the pairs worth their runs, those of the first outputs first.
// Since S_ij is at most T_i - S_i where no index is negative, the smaller of the two
// bounds says how much a pair can have.
func (p *Plan) interacting(shares [][]sensitivity.Pair) []Pair {
	var pairs []Pair
	for t, target := range p.Index.Targets {
		if target.Of != OfOutput {
			continue
		}
		for _, pair := range p.interactingIn(shares[t]) {
			if !slices.Contains(pairs, pair) {
				pairs = append(pairs, pair)
			}
		}
	}
	return pairs
}

func (p *Plan) interactingIn(shares []sensitivity.Pair) []Pair {
	var mixed []int
	for i, s := range p.Index.Swaps {
		if b := shares[i].Beyond; s.Number >= 0 && b.Low > 0 && b.Estimate > worthAPair {
			mixed = append(mixed, i)
		}
	}
	var pairs []Pair
	for k, i := range mixed {
		for _, j := range mixed[:k] {
			pairs = append(pairs, Pair{j, i})
		}
	}
	bound := func(pair Pair) float64 {
		return min(shares[pair.One].Beyond.Estimate, shares[pair.Other].Beyond.Estimate)
	}
	slices.SortStableFunc(pairs, func(x, y Pair) int { return cmp.Compare(bound(y), bound(x)) })
	return pairs[:min(len(pairs), pairsOfEach)]
}
