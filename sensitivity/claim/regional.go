package claim

import (
	"fmt"
	"math"
	"slices"

	"proofmass/sensitivity/estimate"
)

// Figure is an estimate with its interval; NaN where there is none.
type Figure struct {
	Estimate float64
	estimate.Interval
}

// Region compares an input where a claim holds with the same input where it fails
// (Hornberger and Spear 1981, J. Environ. Manag. 12). All but the counts is NaN, and
// Shift 0, where fewer than 50 rows hold, or fail.
type Region struct {
	Held, Failed                 int // rows with a value of the input and a weight above 0
	HoldsP10, HoldsP50, HoldsP90 float64
	FailsP10, FailsP50, FailsP90 float64
	Distance                     Figure  // Kolmogorov-Smirnov distance of the two distributions, 0 to 1
	Floor                        float64 // what Distance is on average for an input that does nothing
	Shift                        int     // the input is higher (+1), or lower (-1), where the claim holds; 0 not said
	LowChance, HighChance        Figure  // of the claim in the lowest and in the highest twentieth of the input
}

const (
	fewestOfEach = 50 // rows that hold, and rows that fail. Common practice, no source
	cuts         = 16 // blocks that independent rows are cut into for the jackknife
	twentieth    = 0.05
)

// Regions holds one input sorted, for several claims. One goroutine at a time.
type Regions struct {
	rows      int
	order     []int32   // the rows that count, by x; what follows is in this order
	x, weight []float64 // weight may be nil
	block     []int32   // replicate
	ends      []int     // group g, of equal x, is from ends[g] to ends[g+1]
	blocks    int
	holds     []float64 // of one claim at a time
}

// NewRegions sorts the column x of an input, in O(n). Rows where x is NaN or the weight 0 take no part. Both are
// only read. The error names a row of x that is infinite, a weight that is
// negative or not finite, or what is wrong with d.
func NewRegions(x []float64, d estimate.Rows) (*Regions, error) {
	weight := d.Weight
	if err := d.CheckWeights(len(x)); err != nil {
		return nil, fmt.Errorf("claim: %w", err)
	}
	bounds, err := blockBounds(d, len(x))
	if err != nil {
		return nil, err
	}
	for i, v := range x {
		if math.IsInf(v, 0) {
			return nil, fmt.Errorf("claim: input: row %d is %g, want a finite number or NaN", i, v)
		}
	}
	s := &Regions{rows: len(x), blocks: len(bounds) - 1}
	estimate.InOrder(x, func(row int) bool { return weightOf(weight, row) > 0 }, func(order []estimate.Place) {
		s.order = make([]int32, len(order))
		for k, p := range order {
			s.order[k] = p.Row
		}
	})
	s.x, s.weight = s.sorted(x, nil), s.sorted(weight, nil)
	s.fillBlocks(bounds)
	s.group()
	return s, nil
}

// sorted is a column of all rows in the order of the input, in the memory of to.
func (s *Regions) sorted(column, to []float64) []float64 {
	if column == nil {
		return nil
	}
	to = slices.Grow(to[:0], len(s.order))[:len(s.order)]
	for k, row := range s.order {
		to[k] = column[row]
	}
	return to
}

// fillBlocks finds the replicate of each row.
func (s *Regions) fillBlocks(bounds []int) {
	block := make([]int32, s.rows)
	for r := range s.blocks {
		for i := bounds[r]; i < bounds[r+1]; i++ {
			block[i] = int32(r)
		}
	}
	s.block = make([]int32, len(s.order))
	for k, row := range s.order {
		s.block[k] = block[row]
	}
}

// blockBounds are the replicates of n rows, or the blocks of independent ones.
func blockBounds(d estimate.Rows, n int) ([]int, error) {
	if d.Bounds != nil || !d.Independent {
		return d.Replicates(n)
	}
	bounds := make([]int, cuts+1)
	for r := range bounds {
		bounds[r] = n * r / cuts
	}
	return bounds, nil
}

// group finds the ends of equal values.
func (s *Regions) group() {
	for k, x := range s.x {
		if k == 0 || x != s.x[k-1] {
			s.ends = append(s.ends, k)
		}
	}
	s.ends = append(s.ends, len(s.x))
}

// weightOf is that of a row, 1 where all are equal.
func weightOf(weight []float64, row int) float64 {
	if weight == nil {
		return 1
	}
	return weight[row]
}

// Of compares the input where the claim holds (1) and fails (0); rows that are NaN are
// infeasible and in neither, but count as not holding in LowChance and HighChance, as
// in [Chance]. level is that of the intervals, 0 counts as 0.95. It takes O(n).
//
// Percentiles are of type 7; with weights the step from a row to the next is the mean
// of their two weights. A twentieth is one of the weight, or a single value that has
// more; the interval of its chance is that of as many independent rows.
//
// The distance is biased upwards by noise: it is never 0, and for an input that does
// nothing Floor on average, 0.8687 sqrt(1/n + 1/m) for n rows that hold and m that fail
// (the mean of Kolmogorov's distribution). It is shown as it is, and its interval is
// not symmetric: the low end is Kolmogorov's band, sqrt(ln(2/(1-level))/2) sqrt(1/n +
// 1/m), below it, so that an end below 0 means that nothing need be there; the high end
// is the jackknife over replicates of the gap at the value where it is widest. In 300
// trials of 512 and of 4096 rows, replicated Latin hypercubes or independent, a 95 %
// interval held 0 in 94 % to 96 % for an input that does nothing, and the exact distance
// of one that acts in 98 % or more (TestRegionsCoverageLong). With weights that hang on
// the input and halve the effective rows it held 0 in 92 %.
//
// Shift is told by the rank sum (Mann and Whitney 1947, Ann. Math. Stat. 18) where its
// jackknife interval leaves out 0 and the distance is not near 0. An input of which
// both ends break the claim has a distance and no shift.
//
// The error names a row of holds that is neither 1, 0 nor NaN.
func (s *Regions) Of(holds []float64, level float64) (Region, error) {
	if level == 0 {
		level = 0.95
	}
	if !(level > 0 && level < 1) {
		return Region{}, fmt.Errorf("claim: level %g must lie between 0 and 1", level)
	}
	if len(holds) != s.rows {
		return Region{}, fmt.Errorf("claim: %d rows of a claim for %d of an input", len(holds), s.rows)
	}
	if err := new(Verdict).count(holds, 0); err != nil {
		return Region{}, err
	}
	g := nothing()
	s.holds = s.sorted(holds, s.holds)
	holds = s.holds
	held, failed := s.side(holds, 1), s.side(holds, 0)
	g.Held, g.Failed = held.rows, failed.rows
	if min(g.Held, g.Failed) < fewestOfEach {
		return g, nil
	}
	g.HoldsP10, g.HoldsP50, g.HoldsP90 = s.percentiles(holds, 1)
	g.FailsP10, g.FailsP50, g.FailsP90 = s.percentiles(holds, 0)
	noise := math.Sqrt(1/s.effective(holds, 1, held) + 1/s.effective(holds, 0, failed))
	g.Floor = kolmogorovMean * noise
	g.Distance = s.distance(holds, held, failed, level)
	g.Distance.Low = g.Distance.Estimate - math.Sqrt(math.Log(2/(1-level))/2)*noise
	if g.Distance.Low > 0 {
		g.Shift = s.shift(holds, held, failed, level)
	}
	var err error
	if g.LowChance, err = s.end(holds, false, level); err != nil {
		return Region{}, err
	}
	g.HighChance, err = s.end(holds, true, level)
	return g, err
}

// kolmogorovMean is sqrt(pi/2) ln 2.
const kolmogorovMean = 0.8687311606361592

// nothing is the region of too few rows.
func nothing() Region {
	nan := math.NaN()
	none := Figure{nan, estimate.None()}
	return Region{
		HoldsP10: nan, HoldsP50: nan, HoldsP90: nan, FailsP10: nan, FailsP50: nan, FailsP90: nan,
		Distance: none, Floor: nan, LowChance: none, HighChance: none,
	}
}

// A side is the rows that hold, or those that fail.
type side struct {
	rows           int
	weight, square float64   // sums of the weights and of their squares
	blocks         []float64 // weight in each replicate
}

// effective is the number of equally weighted rows whose cumulative distribution F is
// as uncertain: with W the sum of the weights and S(x) that of their squares up to x,
//
//	1/n = max( S/W^2, 4 max_x (S(x) (1-F)^2 + (S - S(x)) F^2)/W^2 ),
//
// the first as by Kish (1965, Survey Sampling), the second from the delta method, which
// is greater where weights hang on x.
func (s *Regions) effective(holds []float64, which float64, a side) float64 {
	most := a.square
	if s.weight == nil {
		return a.weight * a.weight / most
	}
	var weight, square float64
	for row := range s.x {
		if holds[row] == which {
			w := s.weight[row]
			weight += w
			square += float64(w * w)
			f := weight / a.weight
			most = max(most, 4*(float64(square*(1-f)*(1-f))+float64((a.square-square)*f*f)))
		}
	}
	return a.weight * a.weight / most
}

func (s *Regions) side(holds []float64, which float64) side {
	a := side{blocks: make([]float64, s.blocks)}
	for row := range s.x {
		if holds[row] == which {
			w := weightOf(s.weight, row)
			a.rows++
			a.weight += w
			a.square += float64(w * w)
			a.blocks[s.block[row]] += w
		}
	}
	return a
}
