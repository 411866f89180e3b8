package sensitivity

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// Classes are the rows of one input cut by its value into classes of about equal
// weight, for what rows that are there already say of outputs ("given data"). No
// further runs are needed, and inputs may depend on one another; an index then
// contains what the input brings by its companions.
//
// Of takes an output as a column y of the same rows. A row counts where the
// input and y are finite and the weight is above 0; NaN is infeasible. All results
// are NaN, with no interval, for a constant input, a constant output and a y of
// another length. Intervals are jackknives over the replicates of the design, of
// which the r-th joins block r mod 32; independent rows are cut into 16 blocks. Level 0
// counts as 0.95.
//
// One goroutine at a time: buffers are used again from call to call.
type Classes struct {
	weight      []float64 // nil for equal ones
	class       []uint16  // class of a row, or left out
	within      []float32 // x of a row less the mean of its class, over the width of it
	bounds      []int     // of the replicates
	blocks      int       // replicates that are kept apart
	independent bool
	n           int          // classes
	discrete    bool         // a class is a value
	at          []float64    // middle of each class, as a share of the weight of all
	curve       grouping     // classes joined for Curve
	coarse      grouping     // classes joined for Distance
	ends        [2]twentieth // lowest and highest of the input
	sums        []classSum   // of a block and a class
	all         []classSum   // of a class
	bins        histogram    // buffers of Distance
	seen        Seen         // the present output
}

// A grouping joins neighbouring classes.
type grouping struct {
	of     []uint16 // group of a class
	n      int
	points []Point // values of the input in each group
}

const (
	leftOut     = math.MaxUint16
	twenty      = 20 // classes come in twentieths, halved while rows last
	mostClasses = twenty << 6
	blockCuts   = 16 // of independent rows
)

// NewClasses cuts the column x of an input, in O(n). The weights are kept and only read. There are 20 2^k classes of
// n rows that count, from 1.2 to 2.4 n^(2/5), which lies between n^(1/3) and n^(1/2): the
// loss by what bends within a class stays below the noise. Equal values are never split, and
// no more values than classes are a class each. The error names a column of the
// wrong length, a weight that is negative or not finite, or what is wrong with d.
func NewClasses(x []float64, d estimate.Rows) (*Classes, error) {
	weight := d.Weight
	if err := d.CheckWeights(len(x)); err != nil {
		return nil, err
	}
	bounds, err := blockBounds(d, len(x), func(row int) bool { return counts(x, weight, row) })
	if err != nil {
		return nil, err
	}
	c := &Classes{weight: weight, class: make([]uint16, len(x)), within: make([]float32, len(x)), bounds: bounds, independent: d.Independent}
	c.blocks = min(len(bounds)-1, MostSlots)
	estimate.InOrder(x, func(row int) bool { return counts(x, weight, row) }, c.cut)
	c.sums, c.all = make([]classSum, c.blocks*c.n), make([]classSum, c.n)
	return c, nil
}

// blockBounds are the replicates of the design, or equal blocks of those of n
// independent rows that are kept.
func blockBounds(d estimate.Rows, n int, kept func(row int) bool) ([]int, error) {
	bounds, err := d.Replicates(n)
	if err != nil || !d.Independent || len(bounds) > 2 {
		return bounds, err
	}
	var rows int
	for row := range n {
		if kept(row) {
			rows++
		}
	}
	blocks := max(1, min(blockCuts, rows))
	cut, seen := []int{0}, 0
	for row := range n {
		if kept(row) {
			seen++
		}
		if len(cut) < blocks && seen >= rows*len(cut)/blocks {
			cut = append(cut, row+1)
		}
	}
	return append(cut, n), nil
}

// counts tells whether the row has a value of x and a weight.
func counts(x, weight []float64, row int) bool {
	return x[row]-x[row] == 0 && (weight == nil || weight[row] > 0)
}

// classCount is the number of classes of n rows; two rows a class at least.
func classCount(n int) int {
	most := 2.4 * math.Pow(float64(n), 0.4)
	count := twenty
	for 2*float64(count) <= most && count < mostClasses {
		count *= 2
	}
	return min(count, n/2)
}

// weightOf is that of a row.
func weightOf(weight []float64, row int32) float64 {
	if weight == nil {
		return 1
	}
	return weight[row]
}

// cut puts each row into a class.
func (c *Classes) cut(order []estimate.Place) {
	weight := c.weight
	for row := range c.class {
		c.class[row] = leftOut
	}
	total, values := weightAndValues(order, weight)
	count := classCount(len(order))
	c.discrete = values <= count
	var ends []int // of the classes in order
	var before float64
	last := -1
	for from := 0; from < len(order); {
		to, within := tied(order, weight, from)
		k := int((before + within/2) / total * float64(count))
		if c.discrete {
			k = last + 1
		}
		if k != last {
			ends = append(ends, from)
			last = k
		}
		for _, p := range order[from:to] {
			c.class[p.Row] = uint16(len(ends) - 1)
		}
		from, before = to, before+within
	}
	c.n = len(ends)
	c.shape(order, append(ends, len(order)), total)
}

// weightAndValues are the weight of all rows and the number of different values.
func weightAndValues(order []estimate.Place, weight []float64) (total float64, values int) {
	for i, p := range order {
		total += weightOf(weight, p.Row)
		if i == 0 || p.X != order[i-1].X {
			values++
		}
	}
	return total, values
}

// tied returns the end of the rows with the value of that at from, and their weight.
func tied(order []estimate.Place, weight []float64, from int) (to int, within float64) {
	for to = from; to < len(order) && order[to].X == order[from].X; to++ {
		within += weightOf(weight, order[to].Row)
	}
	return to, within
}

// shape finds where classes lie and which are joined for what.
func (c *Classes) shape(order []estimate.Place, ends []int, total float64) {
	c.at = make([]float64, c.n)
	var before float64
	shares := make([]float64, c.n)
	for k := range c.at {
		within := c.settle(order[ends[k]:ends[k+1]])
		c.at[k] = (before + within/2) / total
		shares[k] = within / total
		before += within
	}
	c.curve = c.join(curveCount(len(order)), order, ends)
	c.coarse = c.join(distanceCount(len(order)), order, ends)
	if c.n > 0 {
		c.ends[0] = c.twentieth(order, ends, shares, 0, 1)
		c.ends[1] = c.twentieth(order, ends, shares, c.n-1, -1)
	}
}

// settle notes where in its class each row lies, and returns the weight of the class.
func (c *Classes) settle(order []estimate.Place) (weight float64) {
	at := c.span(order)
	width := at.InputHigh - at.InputLow
	for _, p := range order {
		weight += weightOf(c.weight, p.Row)
		if width > 0 {
			c.within[p.Row] = float32((p.X - at.Input) / width)
		}
	}
	return weight
}

// join joins the classes to count groups of equal weight, or fewer.
func (c *Classes) join(count int, order []estimate.Place, ends []int) grouping {
	g := grouping{of: make([]uint16, c.n)}
	last, from := -1, 0
	for k, at := range c.at {
		group := int(at * float64(count))
		if c.n <= count {
			group = k
		}
		if group != last && k > 0 {
			g.points = append(g.points, c.middle(order[ends[from]:ends[k]]))
			from = k
		}
		last = group
		g.of[k] = uint16(len(g.points))
	}
	if c.n > 0 {
		g.points = append(g.points, c.middle(order[ends[from]:]))
	}
	g.n = len(g.points)
	return g
}

// span is where rows lie, with the weighted mean of the input.
func (c *Classes) span(order []estimate.Place) Point {
	first, last := order[0].X, order[len(order)-1].X
	var weight, sum float64
	for _, p := range order {
		w := weightOf(c.weight, p.Row)
		weight += w
		sum += float64(w * (p.X - first))
	}
	mean := min(max(first+sum/weight, first), last)
	return Point{InputLow: first, InputHigh: last, Input: mean, Mean: math.NaN(), Interval: estimate.None()}
}

// middle is where rows lie, with the weighted median of the input.
func (c *Classes) middle(order []estimate.Place) Point {
	p := c.span(order)
	var total, below float64
	for _, q := range order {
		total += weightOf(c.weight, q.Row)
	}
	for i, q := range order {
		below += weightOf(c.weight, q.Row)
		if below >= total/2 {
			p.Input = q.X
			if below == total/2 && i+1 < len(order) {
				p.Input = q.X + (order[i+1].X-q.X)/2
			}
			return p
		}
	}
	return p
}
