package sensitivity

import (
	"encoding/binary"
	"math/bits"
	"slices"

	//lint:ignore SA1019 its PCG is the project's choice for work with an order of its own
	"golang.org/x/exp/rand"
)

// AddWalk takes rows whose players are swapped one after the other in the given order,
// one order for all rows of the call: fA has the outputs of A, steps[j] those with the
// first j+1 players of order swapped, all of equal length. A player that the output does
// not reach, whoever else is swapped, may be left out of order and steps. A value that is
// not finite is infeasible; it takes its row out of the whole walk.
//
// With independent players the same runs also walk back from B: f(B) for fA, the order
// reversed, the steps from the last but one to the first and then fA. Orders of
// different calls must each be uniformly random, those of different replicates
// independent: see Permutation.
func (s *ShapleySums) AddWalk(output int, order []int, fA []float64, steps [][]float64) {
	o := &s.outputs[output]
	o.rows += len(fA)
	row, sums := s.scratch(len(order))
	for k, base := range fA {
		before := base
		var cost float64
		for j, step := range steps {
			y := step[k]
			// half of (base-y)^2 - (base-before)^2, exactly 0 where nothing changed
			row[j] = float64((base - y/2 - before/2) * (before - y))
			cost += row[j]
			before = y
		}
		if cost-cost != 0 {
			continue
		}
		o.feasible++
		o.widen(base)
		o.widen(before)
		acted := false
		for j, gain := range row {
			sums[j] += gain
			acted = acted || gain != 0
		}
		if acted {
			o.acting++
		}
	}
	for j, player := range order {
		o.gains[player] += sums[j]
	}
}

// AddSubsets takes rows with every non-empty set of players swapped: subsets[m-1] has the
// outputs where player i is swapped if bit i of m is set. It is the mean over all
// orders, for few players. All columns are of equal length. A value that is not
// finite takes its row out.
func (s *ShapleySums) AddSubsets(output int, fA []float64, subsets [][]float64) {
	o := &s.outputs[output]
	o.rows += len(fA)
	row, costs := s.scratch(len(subsets))
	for k, base := range fA {
		var cost float64
		for m, subset := range subsets {
			d := base - subset[k]
			row[m] = float64(d * d)
			cost += row[m]
		}
		if cost-cost != 0 {
			continue
		}
		o.feasible++
		o.widen(base)
		o.widen(subsets[len(subsets)-1][k])
		if cost > 0 {
			o.acting++
		}
		for m, q := range row {
			costs[m] += q
		}
	}
	for i := range o.gains {
		o.gains[i] += gainOfSubsets(costs, i, s.players) / 2
	}
}

// gainOfSubsets is what player i adds to the cost of those before it, in the mean
// over all orders of d players. costs[m-1] belongs to set m.
func gainOfSubsets(costs []float64, i, d int) float64 {
	var gain float64
	for m := range len(costs) + 1 {
		if m>>i&1 == 1 {
			continue
		}
		added := costs[m|1<<i-1]
		if m > 0 {
			added -= costs[m-1]
		}
		gain += added / float64(d*choose(d-1, bits.OnesCount(uint(m))))
	}
	return gain
}

// choose is n over k.
func choose(n, k int) int {
	c := 1
	for i := range k {
		c = c * (n - i) / (i + 1)
	}
	return c
}

// scratch returns two slices of n, the second all 0.
func (s *ShapleySums) scratch(n int) (row, sums []float64) {
	if len(s.row) < n {
		s.row, s.slice = make([]float64, n), make([]float64, n)
	}
	row, sums = s.row[:n], s.slice[:n]
	clear(sums)
	return row, sums
}

// Permutation fills order with the order of the players 0..len(order)-1 for a block of
// rows: a function of the seed and the block's number alone. Block 2k+1 has the
// order of block 2k reversed: a player that comes early in one comes late in the
// other, and the errors of the two partly cancel (antithetic orders: Mitchell, Cooper,
// Frank and Holmes, 2022, J. Mach. Learn. Res. 23, 1-46). The two belong in one replicate.
// Plain orders have 1.3 to 3 times the mean square error where some players are
// dependent, about the same where none are. Short blocks, of 1 to 16 rows, lose little;
// with 32 the error of many dependent players is up to twice as great.
func Permutation(order []int, seed uint64, block int) {
	source := sourceOf(seed, uint64(block/2))
	for i := range order { // Fisher-Yates from the inside out
		j, _ := bits.Mul64(source.Uint64(), uint64(i+1))
		order[i] = order[j]
		order[j] = i
	}
	if block%2 == 1 {
		slices.Reverse(order)
	}
}

// sourceOf is the sequential generator of a seed and a number: PCG XSL RR 128/64 (O'Neill,
// 2014, HMC-CS-2014-0905). Both halves of its state are hashed: the library's own Seed makes
// them equal, which relates the streams of neighbours.
func sourceOf(seed, number uint64) *rand.PCGSource {
	const golden = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio, the step of splitmix64
	high := mix(mix(seed+golden) ^ mix(number+golden))
	var state [16]byte
	binary.BigEndian.PutUint64(state[:8], high)
	binary.BigEndian.PutUint64(state[8:], mix(high+golden))
	source := new(rand.PCGSource)
	if err := source.UnmarshalBinary(state[:]); err != nil {
		panic("sensitivity: " + err.Error()) // only for fewer than 16 bytes
	}
	return source
}

// mix is the finaliser of splitmix64 (Steele, Lea and Flood, 2014, OOPSLA, 453-472).
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
