package study

import (
	"iter"

	"proofmass/sampling/design"
)

// grid is all combinations of levels, the last fastest.
func grid(levels []int) iter.Seq[[]int] {
	return func(yield func([]int) bool) {
		at := make([]int, len(levels))
		for yield(at) {
			k := len(at) - 1
			for ; k >= 0; k-- {
				if at[k]++; at[k] < levels[k] {
					break
				}
				at[k] = 0
			}
			if k < 0 {
				return
			}
		}
	}
}

// spreadScale is the distance from the first to the last level of a quantity. Ranks are
// whole numbers, so that every machine takes the same combinations.
const spreadScale = 1 << 12

// candidate is one combination that may be taken.
type candidate struct {
	at           []int
	place        []int64 // of each level, 0 to spreadScale
	nearest, sum int64   // squared distances to those taken: the least, and all together
	taken        bool
}

// spreadOver takes n combinations of levels: first the one nearest the middle, then always
// the one furthest from its nearest taken one; of equals the one further from all of them,
// then the earlier. category marks quantities whose levels have no order. Of very many
// combinations a keyed part is looked at. Source of the rule: maximin distance designs,
// Johnson, Moore and Ylvisaker 1990 (J. Stat. Plan. Inference 26), taken one by one.
func spreadOver(levels []int, category []bool, n int, seed uint64) iter.Seq[[]int] {
	size := 1
	for _, l := range levels {
		if size *= l; size > mostGrid {
			break
		}
	}
	if n >= size {
		return grid(levels)
	}
	return func(yield func([]int) bool) {
		all := candidates(levels, category, size, seed)
		for next := middle(all, category); n > 0; n-- {
			if c := &all[next]; !yield(c.at) {
				return
			}
			all[next].taken = true
			next = furthest(all, next, category)
		}
	}
}

func candidates(levels []int, category []bool, size int, seed uint64) []candidate {
	var all []candidate
	add := func(at []int) {
		c := candidate{at: append([]int(nil), at...), place: make([]int64, len(at)), nearest: 1 << 62}
		for k, level := range at {
			switch {
			case category[k]:
				c.place[k] = int64(level)
			case levels[k] > 1:
				c.place[k] = int64(level) * spreadScale / int64(levels[k]-1)
			}
		}
		all = append(all, c)
	}
	if size <= mostGrid {
		for at := range grid(levels) {
			add(at)
		}
		return all
	}
	at := make([]int, len(levels))
	key := design.NewKey(seed, "choices")
	for i := range uint64(mostGrid) {
		for k := range at {
			at[k] = int(key.With(uint64(k)).Unit(i) * float64(levels[k]))
		}
		add(at)
	}
	return all
}

// middle is the candidate nearest to the middle of all levels that have an order.
func middle(all []candidate, category []bool) (best int) {
	least := int64(1 << 62)
	for i := range all {
		d := int64(0)
		for k, place := range all[i].place {
			if off := place - spreadScale/2; !category[k] {
				d += off * off
			}
		}
		if d < least {
			best, least = i, d
		}
	}
	return best
}

// furthest takes note of the one just taken and finds the next.
func furthest(all []candidate, taken int, category []bool) int {
	best := -1
	for i := range all {
		c := &all[i]
		if c.taken {
			continue
		}
		d := int64(0)
		for k, place := range c.place {
			off := place - all[taken].place[k]
			if category[k] && off != 0 {
				off = spreadScale
			}
			d += off * off
		}
		c.nearest, c.sum = min(c.nearest, d), c.sum+d
		if best < 0 || c.nearest > all[best].nearest || c.nearest == all[best].nearest && c.sum > all[best].sum {
			best = i
		}
	}
	return max(best, 0)
}
