package estimate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// weightedInMemory is the number of rows up to which a weighted column is kept, in the order
// of its values: 8 MB. Beyond, it is read several times, a piece at a time, and sums are in
// the order of the rows.
const weightedInMemory = 1 << 18

// A weightedRow is a feasible row with a weight.
type weightedRow struct {
	x, w           float64
	row, replicate int32
}

// A weighted column is what DescribeColumn knows of one.
type weighted struct {
	x, weight Column
	bounds    []int
	level     float64
	limit     int  // rows that are kept
	kept      bool // places are those of all rows

	rows      int // that take part: feasible ones with a weight
	min, max  float64
	all, kish float64
	places    places        // of all rows, else of those that are looked at
	whole     []weightedBin // the first cut of all keys, once it is made
}

// places are rows in the order of their values.
type places struct {
	rows []weightedRow
	at   []float64 // of each row, the middle of its weight, as a share of all
}

// order sorts the rows, equal ones by their number.
func (p *places) order() {
	slices.SortFunc(p.rows, func(a, b weightedRow) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.row, b.row)) })
}

// place says where rows in order lie, the first of which has so much weight below it.
func (p *places) place(below, all float64) {
	p.at = slices.Grow(p.at[:0], len(p.rows))[:len(p.rows)]
	for i, r := range p.rows {
		p.at[i] = (below + r.w/2) / all
		below += r.w
	}
}

// percentile is linear between rows at the middle of their weights.
func (p *places) percentile(share float64) float64 {
	k, found := slices.BinarySearch(p.at, share)
	switch {
	case k == 0 || found:
		return p.rows[k].x
	case k == len(p.at):
		return p.rows[k-1].x
	}
	return between(p.rows[k-1].x, p.rows[k].x, (share-p.at[k-1])/(p.at[k]-p.at[k-1]))
}

// shortest is where the shortest interval begins of those from a row to the percentile that
// the coverage is further on; -1 where there is none.
func (p *places) shortest(coverage float64) (first int) {
	first = -1
	least := 0.0
	for i, u := range p.at {
		if u+coverage > p.at[len(p.at)-1] {
			break
		}
		if length := p.percentile(u+coverage) - p.rows[i].x; first < 0 || length < least {
			first, least = i, length
		}
	}
	return first
}

// describeWeighted is DescribeColumn for weighted rows.
func describeWeighted(x Column, d Rows, o Options, scratch *Scratch) (Summary, error) {
	bounds, err := d.Blocks(x.Rows())
	if err != nil {
		return Summary{}, err
	}
	if err := d.CheckWeights(x.Rows()); err != nil {
		return Summary{}, err
	}
	s := undefined()
	s.Rows = x.Rows()
	c := weighted{x: x, weight: d.OfRows(), bounds: bounds, level: o.Level, limit: cmp.Or(scratch.limit, weightedInMemory), places: scratch.places}
	if err := c.load(&s); err != nil || c.rows == 0 {
		return s, err
	}
	err = c.describe(&s, o)
	scratch.places = c.places
	return s, err
}

// load reads the column for the first time, and keeps it if it is not too long.
func (c *weighted) load(s *Summary) error {
	c.places.rows, c.kept = c.places.rows[:0], true
	c.min, c.max = math.Inf(1), math.Inf(-1)
	var square float64
	err := c.read(func(r weightedRow) error {
		switch {
		case r.x != r.x:
			s.Infeasible++
			return nil
		case r.x-r.x != 0:
			return fmt.Errorf("estimate: row %d is %g, want a finite number or NaN", r.row, r.x)
		case !(r.w >= 0 && r.w <= math.MaxFloat64):
			return badWeight(int(r.row), r.w)
		}
		if r.x < 0 {
			s.Negative++
		}
		if !(r.w > 0) {
			return nil
		}
		c.rows++
		c.all += r.w
		square += float64(r.w * r.w)
		c.min, c.max = min(c.min, r.x), max(c.max, r.x)
		if c.kept = c.rows <= c.limit; c.kept {
			c.places.rows = append(c.places.rows, r)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if c.kept { // sums in the order of the values
		c.places.order()
		c.all, square = 0, 0
		for _, r := range c.places.rows {
			c.all += r.w
			square += float64(r.w * r.w)
		}
		c.places.place(0, c.all)
	}
	c.kish = c.all * c.all / square
	return nil
}

// read hands on all rows in their order, with one zero.
func (c *weighted) read(f func(r weightedRow) error) error {
	for k := range len(c.bounds) - 1 {
		r := weightedRow{row: int32(c.bounds[k]), replicate: int32(k)}
		if err := EachTogether([]Column{c.x, c.weight}, c.bounds[k], c.bounds[k+1], func(pieces [][]float64) error {
			weights := pieces[1]
			for i, x := range pieces[0] {
				r.x, r.w = x+0, weights[i]
				if err := f(r); err != nil {
					return err
				}
				r.row++
			}
			return nil
		}); err != nil {
			return err
		}
	}
	return nil
}

// each hands on the rows that take part, in the order of their values if they are kept.
func (c *weighted) each(f func(r weightedRow)) error {
	if c.kept {
		for _, r := range c.places.rows {
			f(r)
		}
		return nil
	}
	return c.read(func(r weightedRow) error {
		if r.x == r.x && r.w > 0 {
			f(r)
		}
		return nil
	})
}

// describe fills in everything.
func (c *weighted) describe(s *Summary, o Options) error {
	s.Min, s.Max = c.min, c.max
	if err := c.moments(s); err != nil {
		return err
	}
	if len(c.bounds) > 2 {
		s.Method = MethodReplicates
	}
	at := slices.Clone(percentiles[:])
	tail := (1 - o.Coverage) / 2
	at = append(at, tail, 1-tail)
	if u, err := c.shortest(o.Coverage); err != nil {
		return err
	} else if u == u && c.knows(tail) {
		at = append(at, u, u+o.Coverage)
	}
	found, err := c.percentiles(at)
	if err != nil {
		return err
	}
	to := []*float64{&s.P01, &s.P05, &s.P10, &s.P25, &s.P50, &s.P75, &s.P90, &s.P95, &s.P99, &s.CoverLow, &s.CoverHigh, &s.ShortestLow, &s.ShortestHigh}
	for i, p := range at {
		if i >= len(percentiles)+2 || c.knows(p) {
			*to[i] = found[i]
		}
	}
	return c.percentileIntervals([len(tails)]float64{s.P05, s.P50, s.P95}, [...]*Interval{&s.P05Interval, &s.P50Interval, &s.P95Interval})
}

// moments fills in mean, standard deviation and skewness, and the intervals of the first
// two.
func (c *weighted) moments(s *Summary) error {
	first, scale := c.min, c.max-c.min
	if scale == 0 {
		s.Mean, s.SD, s.SDInterval, s.MeanInterval = first, 0, Interval{}, Interval{first, first}
		return nil
	}
	if math.IsInf(scale, 0) {
		return nil
	}
	var sum float64
	var vote Majority
	inside := 0 // rows of neither the least nor the greatest value
	if err := c.each(func(r weightedRow) {
		sum += r.w * ((r.x - first) / scale)
		vote.Count(r.x)
		if r.x != c.min && r.x != c.max {
			inside++
		}
	}); err != nil {
		return err
	}
	mean := sum / c.all
	var sum2, sum3 float64
	others := 0
	gaps := make([]float64, len(c.bounds)-1)
	if err := c.each(func(r weightedRow) {
		d := (r.x-first)/scale - mean
		sum2 += r.w * (d * d)
		sum3 += r.w * (d * d * d)
		gaps[r.replicate] += r.w * d
		if r.x != vote.Value {
			others++
		}
	}); err != nil {
		return err
	}
	second := sum2 / c.all
	s.Mean = first + mean*scale
	s.SD = math.Sqrt(second*c.kish/(c.kish-1)) * scale
	s.Skewness = sum3 / c.all / (second * math.Sqrt(second))
	if half := c.halfWidth(gaps) * scale; half == half {
		s.MeanInterval = Interval{s.Mean - half, s.Mean + half}
	}
	clear(gaps)
	if err := c.each(func(r weightedRow) {
		d := (r.x-first)/scale - mean
		gaps[r.replicate] += r.w * (d*d - second)
	}); err != nil {
		return err
	}
	if half := c.halfWidth(gaps) / (2 * second) * s.SD; half == half {
		s.SDInterval = Interval{s.SD - half, s.SD + half}
	}
	switch {
	case c.rows >= fewestSteps && inside == 0: // two values, as in meanInterval of rows without weights
		weighings, err := c.weighings(func(x float64) bool { return x == c.max })
		if err != nil {
			return err
		}
		p, err := WeightedChance(weighings[0], Options{Level: c.level})
		if err == nil {
			s.MeanInterval = Interval{between(s.Min, s.Max, p.Interval.Low), between(s.Min, s.Max, p.Interval.High)}
		}
	case others < fewestOthers && 2*others < c.rows: // nearly all have one value
		s.MeanInterval = None()
	}
	return nil
}

// halfWidth is t times the standard error of a mean, from what replicates are off it.
func (c *weighted) halfWidth(gaps []float64) float64 {
	if len(gaps) < 2 {
		return math.NaN()
	}
	n := float64(len(gaps))
	var square float64
	for _, g := range gaps {
		d := g / (c.all / n)
		square += d * d
	}
	return StudentQuantile(c.level, len(gaps)-1) * math.Sqrt(square/(n*(n-1)))
}

// weighings are the weights of each replicate, and of what holds, for each question.
func (c *weighted) weighings(holds ...func(x float64) bool) ([][]Weighing, error) {
	all := make([][]Weighing, len(holds))
	for k := range all {
		all[k] = make([]Weighing, len(c.bounds)-1)
	}
	err := c.each(func(r weightedRow) {
		for k, f := range holds {
			all[k][r.replicate].Add(r.w, f(r.x))
		}
	})
	return all, err
}

// fewestBeyond is the effective number of rows beyond a percentile, below which it is not
// known: p05 takes an ESS of 200.
const fewestBeyond = 10

// knows reports whether enough rows lie beyond the percentile p.
func (c *weighted) knows(p float64) bool { return !(c.kish*min(p, 1-p) < fewestBeyond*(1-1e-9)) }

// percentileIntervals turn the interval of the chance of at most a percentile back into
// percentiles (Woodruff 1952, J. Am. Stat. Assoc. 47). Those that are not known have none.
func (c *weighted) percentileIntervals(q [len(tails)]float64, to [len(tails)]*Interval) error {
	if len(c.bounds) < 3 {
		return nil
	}
	all, err := c.weighings(
		func(x float64) bool { return x <= q[0] },
		func(x float64) bool { return x <= q[1] },
		func(x float64) bool { return x <= q[2] })
	if err != nil {
		return err
	}
	var ends []float64
	for k, at := range all {
		var held float64
		for _, w := range at {
			held += w.Held
		}
		i := wilson(tails[k], effectiveWeights(at, held/c.all, c.kish), StudentQuantile(c.level, len(at)-1))
		ends = append(ends, i.Low, i.High)
	}
	found, err := c.percentiles(ends)
	if err != nil {
		return err
	}
	for k, i := range to {
		if q[k] == q[k] {
			*i = Interval{found[2*k], found[2*k+1]}
		}
	}
	return nil
}

// shortest is the share below the shortest interval from a row to the percentile that the
// coverage is further on, NaN where there is none; of a column that is not kept that of evenly
// spaced rows.
func (c *weighted) shortest(coverage float64) (float64, error) {
	if !c.kept {
		all, err := c.thin()
		if err != nil {
			return 0, err
		}
		c.places.order()
		c.places.place(0, all)
	}
	if i := c.places.shortest(coverage); i >= 0 {
		return c.places.at[i], nil
	}
	return math.NaN(), nil
}
