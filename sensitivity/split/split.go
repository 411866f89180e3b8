// Package split shares a change out among its causes: of every order in which what was
// could have become what is, cause by cause, the mean of what each cause did at its turn
// (Shapley 1953, A value for n-person games). So no order is preferred, a cause that does
// nothing gets nothing, and the shares add up to the change.
//
// Up to Exact causes all combinations are needed; with more, random orders and their
// reverses (Castro, Gomez and Tejada 2009, Computers & Operations Research 36; the reverses
// halve what depends on the place in the order).
package split

import (
	"math"
	"math/bits"
	"math/rand/v2"
)

// A Set is the changes that are made, a bit each.
type Set uint64

// Most is how many changes a Set can hold.
const Most = 64

// Exact is the number of changes up to which every combination is evaluated: 64 of
// them. Orders is the number of random orders with more, their reverses counted.
const Exact, Orders = 6, 32

// orders are how changes are made one by one: in every order where exact, else in random
// ones, each followed by its reverse. The same number of changes gives the same orders.
func orders(changes int) [][]int {
	rng := rand.New(rand.NewPCG(1953, uint64(changes)))
	var all [][]int
	for range Orders / 2 {
		order := rng.Perm(changes)
		back := make([]int, changes)
		for i, c := range order {
			back[changes-1-i] = c
		}
		all = append(all, order, back)
	}
	return all
}

// Combinations are the sets whose values are needed, each once, the old study first.
func Combinations(changes int) []Set {
	if changes <= Exact {
		all := make([]Set, 1<<changes)
		for i := range all {
			all[i] = Set(i)
		}
		return all
	}
	seen := map[Set]bool{0: true}
	all := []Set{0}
	for _, order := range orders(changes) {
		s := Set(0)
		for _, c := range order {
			if s |= 1 << c; !seen[s] {
				seen[s] = true
				all = append(all, s)
			}
		}
	}
	return all
}

// Shares are the causes of one figure: what each change brings, the mean over the orders.
// value gives the figure of a combination. They add up to the value of all changes less
// that of none. halfWidth is how far, at random orders, the mean of each may lie from that
// of all orders: two standard errors over the pairs of an order and its reverse.
func Shares(changes int, value func(Set) float64) (mean, halfWidth []float64) {
	if changes <= Exact {
		return exactShares(changes, value), make([]float64, changes)
	}
	mean, halfWidth = make([]float64, changes), make([]float64, changes)
	all := orders(changes)
	pairs := float64(len(all) / 2)
	squares := make([]float64, changes)
	for p := 0; p < len(all); p += 2 {
		pair := make([]float64, changes)
		for _, order := range all[p : p+2] {
			s, before := Set(0), value(0)
			for _, c := range order {
				s |= 1 << c
				after := value(s)
				pair[c] += float64((after - before) / 2)
				before = after
			}
		}
		for c, x := range pair {
			mean[c] += float64(x / pairs)
			squares[c] += float64(x * x)
		}
	}
	for c := range mean {
		variance := (float64(squares[c]/pairs) - float64(mean[c]*mean[c])) / (pairs - 1)
		halfWidth[c] = float64(2 * math.Sqrt(max(0, variance)))
	}
	return mean, halfWidth
}

// exactShares weighs what a change brings to each combination of the others by the share of
// the orders in which exactly these come before it: s! (n - 1 - s)! / n! for s of them.
func exactShares(changes int, value func(Set) float64) []float64 {
	weight := make([]float64, changes)
	for s := range weight {
		weight[s] = 1 / float64(changes)
		for k := range s { // 1 / (n times the binomial of n - 1 over s)
			weight[s] *= float64(k+1) / float64(changes-1-k)
		}
	}
	mean := make([]float64, changes)
	for s := Set(0); s < 1<<changes; s++ {
		for c := range changes {
			if s&(1<<c) == 0 {
				mean[c] += float64(weight[bits.OnesCount64(uint64(s))] * (value(s|1<<c) - value(s)))
			}
		}
	}
	return mean
}
