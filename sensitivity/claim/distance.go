package claim

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// percentiles are the 10th, 50th and 90th of the side that is which.
func (s *Regions) percentiles(holds []float64, which float64) (p10, p50, p90 float64) {
	var length, before float64 // of all steps; the weight of the row before
	first := true
	for row := range s.x {
		if holds[row] != which {
			continue
		}
		w := weightOf(s.weight, row)
		if !first {
			length += (before + w) / 2
		}
		first, before = false, w
	}
	return s.walk(holds, which, 0.1*length), s.walk(holds, which, 0.5*length), s.walk(holds, which, 0.9*length)
}

// walk returns the value at a distance from the lowest row of the side.
func (s *Regions) walk(holds []float64, which, to float64) float64 {
	var at, before float64
	last := math.NaN()
	for row := range s.x {
		if holds[row] != which {
			continue
		}
		w := weightOf(s.weight, row)
		if last == last {
			step := (before + w) / 2
			if at+step > to {
				return last + float64((to-at)/step*(s.x[row]-last))
			}
			at += step
		}
		last, before = s.x[row], w
	}
	return last
}

// distance is own: gonum's stat.KolmogorovSmirnov, 28 ns a value (one run), tells the gap
// but not where it is, which the interval needs.
//
// It is the greatest gap between the two cumulative distributions, which both
// jump at the end of a group of equal values, with the jackknife of the gap there.
func (s *Regions) distance(holds []float64, held, failed side, level float64) Figure {
	var h, f, gap float64
	at := 0 // groups below the gap
	for g := range len(s.ends) - 1 {
		for row := s.ends[g]; row < s.ends[g+1]; row++ {
			switch holds[row] {
			case 1:
				h += weightOf(s.weight, row)
			case 0:
				f += weightOf(s.weight, row)
			}
		}
		if d := h/held.weight - f/failed.weight; math.Abs(d) > math.Abs(gap) {
			gap, at = d, g+1
		}
	}
	below := make([][2]float64, s.blocks) // weight up to the gap, of the rows that hold and of those that fail
	for row := range s.ends[at] {
		s.tally(below, holds, row, weightOf(s.weight, row))
	}
	without := s.leaveOut(below, held, failed)
	for r := range without {
		without[r] = math.Copysign(1, gap) * without[r]
	}
	return Figure{math.Abs(gap), estimate.Jackknife(math.Abs(gap), without, level)}
}

// tally adds v to the sum of the row's replicate and side.
func (s *Regions) tally(sums [][2]float64, holds []float64, row int, v float64) {
	switch holds[row] {
	case 1:
		sums[s.block[row]][0] += v
	case 0:
		sums[s.block[row]][1] += v
	}
}

// leaveOut returns, without each replicate, the mean of what was summed over the rows
// that hold less that over those that fail.
func (s *Regions) leaveOut(sums [][2]float64, held, failed side) []float64 {
	var h, f float64
	for _, b := range sums {
		h += b[0]
		f += b[1]
	}
	without := make([]float64, s.blocks)
	for r, b := range sums {
		without[r] = (h-b[0])/(held.weight-held.blocks[r]) - (f-b[1])/(failed.weight-failed.blocks[r])
	}
	return without
}

// shift is the sign of the difference of the mean ranks, 0 where its interval holds 0.
// Ranks are those among all rows, also without a replicate: what a replicate changes in
// them is smaller by its share.
func (s *Regions) shift(holds []float64, held, failed side, level float64) int {
	sums := make([][2]float64, s.blocks)
	total, below := held.weight+failed.weight, 0.0
	for g := range len(s.ends) - 1 {
		var here float64
		for row := s.ends[g]; row < s.ends[g+1]; row++ {
			if holds[row] == holds[row] {
				here += weightOf(s.weight, row)
			}
		}
		rank := (below + here/2) / total
		for row := s.ends[g]; row < s.ends[g+1]; row++ {
			s.tally(sums, holds, row, float64(weightOf(s.weight, row)*rank))
		}
		below += here
	}
	var h, f float64
	for _, b := range sums {
		h += b[0]
		f += b[1]
	}
	difference := h/held.weight - f/failed.weight
	switch i := estimate.Jackknife(difference, s.leaveOut(sums, held, failed), level); {
	case i.Low > 0:
		return 1
	case i.High < 0:
		return -1
	}
	return 0
}

// end is the chance of the claim in the lowest, or the highest, twentieth of the weight.
// Where a single value makes up more it is taken whole; where fewer rows have the lowest
// values, the next value counts with the part of its weight that makes up for it.
func (s *Regions) end(holds []float64, highest bool, level float64) (Figure, error) {
	var all, weight, square, held float64
	for row := range s.x {
		all += weightOf(s.weight, row)
	}
	groups := len(s.ends) - 1
	for g := 0; g < groups && !(weight >= twentieth*all); g++ {
		from := g
		if highest {
			from = groups - 1 - g
		}
		part := s.partOf(from, twentieth*all-weight)
		if weight == 0 {
			part = 1
		}
		for row := s.ends[from]; row < s.ends[from+1]; row++ {
			w := float64(part * weightOf(s.weight, row))
			weight += w
			square += float64(w * w)
			if holds[row] == 1 {
				held += w
			}
		}
	}
	chance := held / weight
	rows := int(math.Round(weight * weight / square))
	p, err := estimate.Chance([]estimate.Count{{Held: int(math.Round(chance * float64(rows))), Rows: rows}},
		true, estimate.Options{Level: level})
	return Figure{chance, p.Interval}, err
}

// partOf is the part of a group's weight that makes up for what is left; 1 where it is a
// single row, whose weight is no share to speak of.
func (s *Regions) partOf(group int, left float64) float64 {
	if s.ends[group+1]-s.ends[group] == 1 {
		return 1
	}
	var weight float64
	for row := s.ends[group]; row < s.ends[group+1]; row++ {
		weight += weightOf(s.weight, row)
	}
	return min(1, left/weight)
}
