package estimate

import (
	"math"
	"math/bits"
	"slices"
	"sort"
)

// percentiles finds several at once.
func (c *weighted) percentiles(at []float64) ([]float64, error) {
	found := make([]float64, len(at))
	if c.kept {
		for i, p := range at {
			found[i] = c.places.percentile(p)
		}
		return found, nil
	}
	targets := make([]target, len(at))
	for i, p := range at {
		targets[i] = target{p, &found[i]}
	}
	slices.SortFunc(targets, func(a, b target) int {
		if a.share < b.share {
			return -1
		}
		return 1
	})
	return found, c.resolve(keyOf(c.min), keyOf(c.max), 0, c.rows, targets)
}

// A target is a percentile that is looked for.
type target struct {
	share float64
	to    *float64
}

// A weightedBin is what the rows of a range of keys have.
type weightedBin struct {
	rows   int
	weight float64
}

// resolve finds the targets, all of which have keys from low to high: so many rows, with so
// much weight below them. Ranges that hold too many rows are cut; runs of parts that fit are
// taken together, those without a target passed over.
func (c *weighted) resolve(low, high uint64, below float64, rows int, targets []target) error {
	switch {
	case len(targets) == 0:
		return nil
	case low == high: // of equal rows, but for half the weight of the outermost ones
		for _, t := range targets {
			*t.to = valueOf(low)
		}
		return nil
	case rows <= c.limit:
		return c.take(low, high, below, targets)
	}
	shift := max(0, bits.Len64(high-low)-binDigits)
	bins, err := c.histogram(low, high, shift)
	if err != nil {
		return err
	}
	last := len(bins) - 1
	for b := 0; b <= last && len(targets) > 0; {
		upTo := func(weight float64, b int) int { // targets before which lies that weight; all in the last part
			if b == last {
				return len(targets)
			}
			return sort.Search(len(targets), func(i int) bool { return targets[i].share*c.all >= weight })
		}
		run := bins[b]
		here := upTo(below+run.weight, b)
		if run.rows == 0 && b < last || here == 0 {
			below += run.weight
			b++
			continue
		}
		start := b
		for b++; b <= last && run.rows+bins[b].rows <= c.limit && here < len(targets); b++ {
			run = weightedBin{run.rows + bins[b].rows, run.weight + bins[b].weight}
			here = upTo(below+run.weight, b)
		}
		end := high
		if b <= last {
			end = low + uint64(b)<<shift - 1
		}
		if err := c.resolve(low+uint64(start)<<shift, end, below, run.rows, targets[:here]); err != nil {
			return err
		}
		targets, below = targets[here:], below+run.weight
	}
	return nil
}

// histogram weighs the rows of equal parts of a range of keys; of all keys once.
func (c *weighted) histogram(low, high uint64, shift int) ([]weightedBin, error) {
	all := low == keyOf(c.min) && high == keyOf(c.max)
	if all && c.whole != nil {
		return c.whole, nil
	}
	bins := make([]weightedBin, int((high-low)>>shift)+1)
	err := c.each(func(r weightedRow) {
		if k := keyOf(r.x); k >= low && k <= high {
			bin := &bins[(k-low)>>shift]
			bin.rows++
			bin.weight += r.w
		}
	})
	if all {
		c.whole = bins
	}
	return bins, err
}

// take reads the rows from low to high, and the next ones to either side, and finds the
// targets among them.
func (c *weighted) take(low, high uint64, below float64, targets []target) error {
	rows := c.places.rows[:0]
	before, after := weightedRow{x: math.Inf(-1)}, weightedRow{x: math.Inf(1)}
	if err := c.each(func(r weightedRow) {
		switch k := keyOf(r.x); {
		case k < low:
			if r.x >= before.x {
				before = r
			}
		case k <= high:
			rows = append(rows, r)
		case r.x < after.x:
			after = r
		}
	}); err != nil {
		return err
	}
	for _, r := range []weightedRow{before, after} {
		if r.w > 0 {
			rows = append(rows, r)
		}
	}
	c.places.rows = rows
	c.places.order()
	c.places.place(below-before.w, c.all)
	for _, t := range targets {
		*t.to = c.places.percentile(t.share)
	}
	return nil
}

// thin leaves evenly spaced rows, as many as may be kept, among the places, and returns their
// weight.
func (c *weighted) thin() (all float64, err error) {
	step, row := (c.rows+c.limit-1)/c.limit, 0
	c.places.rows = c.places.rows[:0]
	err = c.each(func(r weightedRow) {
		if row++; row%step == 0 {
			c.places.rows = append(c.places.rows, r)
			all += r.w
		}
	})
	return all, err
}
