package estimate

import (
	"math"
	"slices"
	"sort"
)

// mostBins is into how many parts of equal width rows are cut; keys of one part are sorted
// when a rank among them is asked for. Most ranks never are: percentiles and coverage
// intervals need one row in ten.
const mostBins = 1 << 11

// bins are parts of equal width from the least value to the greatest.
type bins struct {
	least, scale float64
	starts       []int  // of each part among the keys, and the end of the last
	sorted       []bool // parts whose keys are in order
}

// cut says where n rows between two values are cut.
func (b *bins) cut(least, greatest float64, n int) {
	parts := max(1, min(mostBins, n/8))
	b.least, b.scale = least, float64(parts-1)/(greatest-least)
	if !(b.scale <= math.MaxFloat64) { // one value, or a range that no float64 holds
		b.scale = 0
	}
	b.starts = slices.Grow(b.starts[:0], parts+1)[:parts+1]
	b.sorted = slices.Grow(b.sorted[:0], parts)[:parts]
	clear(b.starts)
	clear(b.sorted)
}

// of is the part of a key. A greater value is in no lower one: rounding keeps order.
func (b *bins) of(k uint64) int {
	if b.scale == 0 { // where the range is no number neither is a product with it
		return 0
	}
	return int((valueOf(k) - b.least) * b.scale)
}

// count counts the keys of each part, behind its start.
func (b *bins) count(keys []uint64) {
	for _, k := range keys {
		b.starts[b.of(k)+1]++
	}
	for i := range b.sorted {
		b.starts[i+1] += b.starts[i]
	}
}

// part is the one that holds a rank.
func (b *bins) part(rank int) int {
	return sort.Search(len(b.sorted), func(i int) bool { return b.starts[i+1] > rank })
}

// arrange puts the keys of each part together, in the order of the parts.
func (s *Scratch) arrange() {
	b := &s.bins
	b.cut(s.min, s.max, len(s.keys))
	b.count(s.keys)
	s.alt = slices.Grow(s.alt[:0], len(s.keys))[:len(s.keys)]
	at := append(s.next[:0], b.starts...)
	for _, k := range s.keys {
		part := b.of(k)
		s.alt[at[part]] = k
		at[part]++
	}
	s.keys, s.alt, s.next = s.alt, s.keys, at
}

// inOrder puts the keys of ranks from up to to, which is not among them, in their order.
func (s *Scratch) inOrder(from, to int) {
	b := &s.bins
	for part := b.part(from); part < len(b.sorted) && b.starts[part] < to; part++ {
		if !b.sorted[part] {
			s.sort(s.keys[b.starts[part]:b.starts[part+1]])
			b.sorted[part] = true
		}
	}
}

// pick finds the keys of ranks of unsorted keys, in the order of the ranks. Keys stay where
// they are.
func (s *Scratch) pick(keys []uint64, ranks []int, into []uint64) {
	b := &s.bins
	least, greatest := valueOf(slices.Min(keys)), valueOf(slices.Max(keys))
	b.cut(least, greatest, len(keys))
	b.count(keys)
	for _, rank := range ranks {
		b.sorted[b.part(rank)] = true
	}
	taken := s.chosen.taken[:0]
	for _, k := range keys {
		if b.sorted[b.of(k)] {
			taken = append(taken, k)
		}
	}
	s.sort(taken)
	s.chosen.taken = taken
	for i, rank := range ranks {
		before := 0 // keys of lower parts that were not taken
		for part := range b.part(rank) {
			if !b.sorted[part] {
				before += b.starts[part+1] - b.starts[part]
			}
		}
		into[i] = taken[rank-before]
	}
}
