package sensitivity

import (
	"math"
	"slices"

	"proofmass/sensitivity/estimate"
)

// Index is an index with its interval; NaN where there is none.
type Index struct {
	Estimate float64
	estimate.Interval
}

// Pair is what one output owes to one input.
type Pair struct {
	First, Total Index
	Dropped      float64 // share of the base rows left out because one of their runs is infeasible
	Constant     bool    // the output never varies: no indices
}

// PickFreeze joins the sums of slices to indices: several outputs, several
// inputs, a set of sums a replicate. An input may be a group of columns that are
// swapped together.
type PickFreeze struct {
	inputs, outputs int
	given           []float64 // the caller's centres
	centre          []float64 // the centres of the joined sums
	base            [][]baseSums
	pairs           [][]pairSums
}

// NewPickFreeze returns an empty PickFreeze. Sums are kept around centre[j] for
// output j, any value within some spreads of the output's values, such as the
// output at the medians of the inputs; where it is not finite, or centre is nil,
// it is the first feasible value. Independent rows may be cut into replicates at
// will: equal parts, 16 or a multiple.
func NewPickFreeze(inputs, outputs, replicates int, centre []float64) *PickFreeze {
	p := &PickFreeze{
		inputs: inputs, outputs: outputs,
		given: make([]float64, outputs),
		base:  make([][]baseSums, replicates),
		pairs: make([][]pairSums, replicates),
	}
	for j := range p.given {
		p.given[j] = math.NaN()
		if centre != nil && centre[j]-centre[j] == 0 {
			p.given[j] = centre[j]
		}
	}
	p.centre = slices.Clone(p.given)
	for r := range replicates {
		p.base[r] = make([]baseSums, outputs)
		p.pairs[r] = make([]pairSums, outputs*inputs)
	}
	return p
}

// NewSums returns empty sums for a slice. It may be called from any goroutine.
func (p *PickFreeze) NewSums() *PickFreezeSums {
	return &PickFreezeSums{
		inputs: p.inputs,
		centre: slices.Clone(p.given),
		base:   make([]baseSums, p.outputs),
		pairs:  make([]pairSums, p.outputs*p.inputs),
	}
}

// Join adds a slice of the replicate. Slices joined in the same order give the
// same bits; one goroutine at a time.
func (p *PickFreeze) Join(replicate int, s *PickFreezeSums) {
	for j, b := range s.base {
		var e float64
		if b.feasible > 0 {
			if p.centre[j] != p.centre[j] {
				p.centre[j] = s.centre[j]
			}
			e = s.centre[j] - p.centre[j]
		}
		p.base[replicate][j] = p.base[replicate][j].plus(b.recentre(e))
		for i := range p.inputs {
			k := j*p.inputs + i
			p.pairs[replicate][k] = p.pairs[replicate][k].plus(s.pairs[k].recentre(e))
		}
	}
}

// Indices returns the pair of output j and input i at [j][i], with intervals of
// the given level (0 counts as 0.95). They are exactly 0 with the interval [0, 0]
// where no swap ever changed the output, and NaN for a constant output, without a
// feasible row, or, the interval, with fewer than 2 replicates.
func (p *PickFreeze) Indices(level float64) [][]Pair {
	if level == 0 {
		level = 0.95
	}
	all := make([][]Pair, p.outputs)
	for j := range all {
		all[j] = make([]Pair, p.inputs)
		for i := range all[j] {
			all[j][i] = p.pair(i, j, level)
		}
	}
	return all
}

// pair computes one pair from the sums of all replicates and of all but one.
func (p *PickFreeze) pair(input, output int, level float64) Pair {
	var base baseSums
	var pair pairSums
	for r := range p.base {
		base = base.plus(p.base[r][output])
		pair = pair.plus(p.pairs[r][output*p.inputs+input])
	}
	result := Pair{Constant: base.feasible > 0 && base.low == base.high}
	if base.rows > 0 {
		result.Dropped = float64(base.rows-base.feasible+pair.dropped) / float64(base.rows)
	}
	if result.Constant {
		result.First = Index{math.NaN(), estimate.None()}
		result.Total = result.First
		return result
	}
	first, total := indices(base, pair)
	firstWithout, totalWithout := p.leaveOneOut(base, pair, input, output)
	result.First = Index{first, estimate.Jackknife(first, firstWithout, level)}
	result.Total = Index{total, estimate.Jackknife(total, totalWithout, level)}
	return result
}

// leaveOneOut returns both indices without each replicate.
func (p *PickFreeze) leaveOneOut(base baseSums, pair pairSums, input, output int) (first, total []float64) {
	for r := range p.base {
		b, c := p.base[r][output], p.pairs[r][output*p.inputs+input]
		without := base
		without.feasible -= b.feasible
		without.sum -= b.sum
		without.square -= b.square
		s, t := indices(without, pair.plus(pairSums{
			-c.dropped, -c.droppedSum, -c.droppedSquare, -c.product, -c.change, -c.changeTwo,
		}))
		first, total = append(first, s), append(total, t)
	}
	return first, total
}

// indices evaluates the two estimators of the package comment.
func indices(b baseSums, p pairSums) (first, total float64) {
	n := float64(b.feasible - p.dropped)
	mu := (b.sum - p.droppedSum) / (2 * n)
	v := (b.square-p.droppedSquare)/(2*n) - float64(mu*mu)
	if !(v > 0) {
		return math.NaN(), math.NaN()
	}
	return (p.product - float64(mu*p.change)) / (n * v), p.changeTwo / (2 * n * v)
}
