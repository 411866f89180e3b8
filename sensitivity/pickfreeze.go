package sensitivity

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// Index is an index with its interval; NaN where there is none.
type Index struct {
	Estimate float64
	estimate.Interval
}

// Per is the index, in the output's unit, as a number of its standard deviations sd, whose
// interval is spread. Both are estimates that know nothing of one another: the squares
// of their relative half-widths add up. It has no interval where one of them has none.
func (i Index) Per(sd float64, spread estimate.Interval) Index {
	p := i.Estimate / sd
	half := math.Hypot((i.High-i.Low)/2/sd, p*(spread.High-spread.Low)/2/sd)
	return Index{p, estimate.Interval{Low: p - half, High: p + half}}
}

// unknown is the index of what has none.
func unknown() Index { return Index{math.NaN(), estimate.None()} }

// Pair is what one output owes to one input.
type Pair struct {
	First, Total Index
	Beyond       Index   // Total less First: what it does together with others, all orders
	Dropped      float64 // share of the base rows left out because one of their runs is infeasible
	Constant     bool    // the output never varies, but for rounding: no indices
}

// PickFreeze joins the sums of slices to indices: several outputs, several
// inputs, a set of sums a replicate. An input may be a group of columns that are
// swapped together: its first-order index is then that of the group, closed (what
// goes when all of the group is known), and its total index the group's.
type PickFreeze struct {
	*reached
	slots int
	base  [][]baseSums // of a slot and an output
	swaps [][]swapSums // of a slot, at the place of an input and an output
}

// MostSlots bounds what is kept: replicate r joins slot r mod 32, and the
// jackknife leaves out a slot at a time.
const MostSlots = 32

// NewPickFreeze returns a PickFreeze without a row.
func NewPickFreeze(inputs, outputs int) *PickFreeze {
	return &PickFreeze{reached: allReached(inputs, outputs), slots: MostSlots}
}

// NewPickFreezeWhere is NewPickFreeze that keeps sums only of the inputs that reach an
// output: AddSwapped must be left out for the others, whose indices are exactly 0. Replicate
// r joins slot r mod slots, 32 at most.
func NewPickFreezeWhere(inputs, outputs, slots int, reaches func(input, output int) bool) *PickFreeze {
	return &PickFreeze{reached: whereReached(inputs, outputs, reaches), slots: max(1, min(slots, MostSlots))}
}

// NewSums returns empty sums for a slice. It may be called from any goroutine.
func (p *PickFreeze) NewSums() *PickFreezeSums {
	return &PickFreezeSums{
		reached: p.reached,
		base:    make([]baseSums, p.outputs),
		swaps:   make([]swapSums, p.count),
	}
}

// Join adds a slice of the replicate, which counts from 0; replicates of further
// rounds follow. Slices joined in the same order give the same bits; one goroutine
// at a time. Independent rows may be cut into replicates at will: equal parts, 16 or
// a multiple.
func (p *PickFreeze) Join(replicate int, s *PickFreezeSums) {
	replicate %= p.slots
	for len(p.base) <= replicate {
		p.base = append(p.base, make([]baseSums, p.outputs))
		p.swaps = append(p.swaps, make([]swapSums, p.count))
	}
	for j, b := range s.base {
		p.base[replicate][j] = p.base[replicate][j].plus(b)
	}
	for k, w := range s.swaps {
		p.swaps[replicate][k] = p.swaps[replicate][k].plus(w)
	}
}

// Indices returns the pair of output j and input i at [j][i], with intervals of
// the given level (0 counts as 0.95). They are exactly 0 with the interval [0, 0]
// where no swap ever changed the output, and NaN for a constant output, without a
// feasible row, or, the interval, with fewer than 2 replicates or where fewer than 30
// rows, and not most of them, show that the input does anything.
func (p *PickFreeze) Indices(level float64) [][]Pair {
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
	base, all := p.joined(input, output)
	result := Pair{Constant: base.rounding()}
	kept := base.feasible
	if all.rows > 0 {
		kept = all.kept
	}
	if base.rows > 0 {
		result.Dropped = float64(base.rows-kept) / float64(base.rows)
	}
	if result.Constant || kept == 0 {
		result.First, result.Total, result.Beyond = unknown(), unknown(), unknown()
		return result
	}
	first, total := all.indices()
	n := len(p.swaps)
	firstWithout, totalWithout, beyondWithout := make([]float64, n), make([]float64, n), make([]float64, n)
	for r := range p.swaps {
		s, t := all.minus(of(p.reached, p.swaps[r], input, output)).indices()
		firstWithout[r], totalWithout[r], beyondWithout[r] = s, t, t-s
	}
	result.First = jackknifed(first, firstWithout, level)
	result.Total = jackknifed(total, totalWithout, level)
	result.Beyond = jackknifed(total-first, beyondWithout, level)
	if !all.tellsFirst() {
		result.First.Interval, result.Beyond.Interval = estimate.None(), estimate.None()
	}
	if !all.tellsTotal() {
		result.Total.Interval = estimate.None()
	}
	return result
}

// joined are the sums of all replicates.
func (p *PickFreeze) joined(input, output int) (base baseSums, all swapSums) {
	for r := range p.base {
		base = base.plus(p.base[r][output])
		all = all.plus(of(p.reached, p.swaps[r], input, output))
	}
	return base, all
}

// jackknifed is an estimate with the interval of its leave-one-out values: a few lines, and
// gonum has none.
func jackknifed(all float64, without []float64, level float64) Index {
	if level == 0 {
		level = 0.95
	}
	return Index{all, estimate.Jackknife(all, without, level)}
}

// Interaction returns the second-order index of inputs i and j for an output: what
// goes when both are known beyond what each takes away alone,
//
//	S_ij = (closed index of i and j together) - S_i - S_j,
//
// from the closed index of input k of pairs, which swapped the columns of both in
// the same rows and replicates as p.
func (p *PickFreeze) Interaction(output, i, j int, pairs *PickFreeze, k int, level float64) Index {
	base, both := pairs.joined(k, output)
	_, one := p.joined(i, output)
	_, other := p.joined(j, output)
	if both.kept == 0 || base.rounding() || len(pairs.swaps) != len(p.swaps) {
		return unknown()
	}
	second := func(both, one, other swapSums) float64 {
		s, _ := both.indices()
		a, _ := one.indices()
		b, _ := other.indices()
		return s - a - b
	}
	without := make([]float64, len(p.swaps))
	for r, s := range p.swaps {
		without[r] = second(both.minus(of(pairs.reached, pairs.swaps[r], k, output)),
			one.minus(of(p.reached, s, i, output)), other.minus(of(p.reached, s, j, output)))
	}
	index := jackknifed(second(both, one, other), without, level)
	if !both.tellsFirst() || !one.tellsFirst() || !other.tellsFirst() {
		index.Interval = estimate.None()
	}
	return index
}
