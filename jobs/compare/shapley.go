package compare

import (
	"math/bits"
	"math/rand/v2"
)

// A set is the changes that are made, a bit each.
type set uint64

// mostChanges is how many changes a set can hold.
const mostChanges = 64

// mostExact is the number of changes up to which every combination is evaluated: 64 of
// them. fewOrders is the number of random orders with more, each with its reverse.
const mostExact, fewOrders = 6, 16

// orders are how changes are made one by one: in every order where exact, else in random
// ones, each followed by its reverse. The same number of changes gives the same orders.
func orders(changes int) [][]int {
	rng := rand.New(rand.NewPCG(1953, uint64(changes)))
	var all [][]int
	for range fewOrders {
		order := rng.Perm(changes)
		back := make([]int, changes)
		for i, c := range order {
			back[changes-1-i] = c
		}
		all = append(all, order, back)
	}
	return all
}

// combinations are the sets whose values are needed, each once, the old study first.
func combinations(changes int) []set {
	if changes <= mostExact {
		all := make([]set, 1<<changes)
		for i := range all {
			all[i] = set(i)
		}
		return all
	}
	seen := map[set]bool{0: true}
	all := []set{0}
	for _, order := range orders(changes) {
		s := set(0)
		for _, c := range order {
			if s |= 1 << c; !seen[s] {
				seen[s] = true
				all = append(all, s)
			}
		}
	}
	return all
}

// shares are the causes of one figure: what each change brings, the mean over the orders.
// value gives the figure of a combination. They add up to the value of all changes less
// that of none. halfWidth is how far, at random orders, the mean of each may lie from that
// of all orders: two standard errors over the pairs of an order and its reverse.
func shares(changes int, value func(set) float64) (mean, halfWidth []float64) {
	if changes <= mostExact {
		return exactShares(changes, value), make([]float64, changes)
	}
	mean, halfWidth = make([]float64, changes), make([]float64, changes)
	all := orders(changes)
	pairs := float64(len(all) / 2)
	squares := make([]float64, changes)
	for p := 0; p < len(all); p += 2 {
		pair := make([]float64, changes)
		for _, order := range all[p : p+2] {
			s, before := set(0), value(0)
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
		halfWidth[c] = float64(2 * root(variance))
	}
	return mean, halfWidth
}

// exactShares weighs what a change brings to each combination of the others by the share of
// the orders in which exactly these come before it: s! (n - 1 - s)! / n! for s of them.
func exactShares(changes int, value func(set) float64) []float64 {
	weight := make([]float64, changes)
	for s := range weight {
		weight[s] = 1 / float64(changes)
		for k := range s { // 1 / (n times the binomial of n - 1 over s)
			weight[s] *= float64(k+1) / float64(changes-1-k)
		}
	}
	mean := make([]float64, changes)
	for s := set(0); s < 1<<changes; s++ {
		for c := range changes {
			if s&(1<<c) == 0 {
				mean[c] += float64(weight[bits.OnesCount64(uint64(s))] * (value(s|1<<c) - value(s)))
			}
		}
	}
	return mean
}
