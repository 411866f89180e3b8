package sensitivity

import (
	"fmt"
	"math"
	"slices"

	"proofmass/sensitivity/estimate"
)

// A Regression is the linear function of all inputs that fits outputs best, in the
// standard deviations of each: of the values, and of their ranks. NaN, with no
// interval, are all figures of a constant output, or of one with no more rows than
// inputs; the coefficient of a constant input; and of one that is a linear function
// of those before it.
type Regression struct {
	SRC    [][]Index // standardised coefficient of an output and an input; its square is the share that the input explains where inputs are independent
	SRRC   [][]Index // the same of ranks, which suits curved but monotone outputs
	R2     []Index   // share of an output's variance that the function explains, adjusted for the number of inputs: 0 on average where nothing is
	RankR2 []Index   // the same of ranks; below 0.7 coefficients say little (common practice, no source)
}

// Regress fits each column of y on the columns x of all inputs, by least squares with
// the weights of the rows: Saltelli and Marivoet (1990), Reliab. Eng.
// Syst. Saf. 28 (from memory). A row counts for an output where the output and all
// inputs are finite and the weight is above 0. Equal values share the mean of their
// ranks.
//
// Intervals are jackknives over the replicates of the design, as those of Classes;
// ranks are taken once, among all rows. There are none where one value of the output is
// that of most rows and fewer than 30 have another. The square of the half-width of R2 contains
// that of the part which is quadratic in the coefficients' errors, 2 inputs
// (1-R2)^2/rows^2, without which intervals around 0 are too short.
//
// The cost of an output that has the same feasible rows as others is rows x inputs;
// that of all together rows x inputs^2. The error names columns of different lengths,
// wrong weights, or what is wrong with d.
func Regress(x, y [][]float64, d estimate.Rows, level float64) (*Regression, error) {
	n, err := rowsOf(x, y)
	if err == nil {
		err = d.CheckWeights(n)
	}
	if err != nil {
		return nil, err
	}
	weight := d.Weight
	kept := completeRows(x, weight, n)
	bounds, err := blockBounds(d, n, func(row int) bool { return kept[row] })
	if err != nil {
		return nil, err
	}
	g := &Regression{
		SRC: make([][]Index, len(y)), SRRC: make([][]Index, len(y)),
		R2: make([]Index, len(y)), RankR2: make([]Index, len(y)),
	}
	for j := range y {
		if g.SRC[j] == nil {
			g.fit(x, y, alike(y, j, kept), fitRows(y[j], kept, weight, bounds), level)
		}
	}
	return g, nil
}

// rowsOf is the length of all columns.
func rowsOf(x, y [][]float64) (int, error) {
	n := -1
	for _, columns := range [][][]float64{x, y} {
		for j, c := range columns {
			if n < 0 {
				n = len(c)
			}
			if len(c) != n {
				return 0, fmt.Errorf("sensitivity: column %d has %d rows, others %d", j, len(c), n)
			}
		}
	}
	return max(n, 0), nil
}

// completeRows tells the rows with a weight and with a value of every input.
func completeRows(x [][]float64, weight []float64, n int) []bool {
	kept := make([]bool, n)
	for row := range kept {
		kept[row] = weight == nil || weight[row] > 0
	}
	for _, c := range x {
		for row, v := range c {
			if v-v != 0 {
				kept[row] = false
			}
		}
	}
	return kept
}

// alike lists output j and the later ones with the same feasible rows.
func alike(y [][]float64, j int, kept []bool) []int {
	same := []int{j}
next:
	for k := j + 1; k < len(y); k++ {
		for row, ok := range kept {
			if ok && (y[j][row]-y[j][row] == 0) != (y[k][row]-y[k][row] == 0) {
				continue next
			}
		}
		same = append(same, k)
	}
	return same
}

// fitted are the rows of a fit.
type fitted struct {
	rows   []int32
	weight []float64 // of those rows
	ends   []int     // of the blocks among them, as bounds

	order, scratch []estimate.Place // to sort
}

// fitRows are those kept where y is finite.
func fitRows(y []float64, kept []bool, weight []float64, bounds []int) *fitted {
	f := &fitted{ends: []int{0}}
	for r := range len(bounds) - 1 {
		for row := bounds[r]; row < bounds[r+1]; row++ {
			if kept[row] && y[row]-y[row] == 0 {
				f.rows = append(f.rows, int32(row))
				f.weight = append(f.weight, weightOf(weight, int32(row)))
			}
		}
		f.ends = append(f.ends, len(f.rows))
	}
	return f
}

// fit fills in the outputs, which have all the same rows.
func (g *Regression) fit(x, y [][]float64, outputs []int, f *fitted, level float64) {
	columns := make([][]float64, 0, len(x)+len(outputs))
	for _, c := range x {
		columns = append(columns, unrounded(f.of(c)))
	}
	for _, j := range outputs {
		columns = append(columns, unrounded(f.of(y[j])))
	}
	coefficients, shares := f.regressed(columns, columns, len(x), level)
	within := make([][]float64, len(columns))
	for i, c := range columns {
		columns[i], within[i] = f.ranks(c, []int{0, len(c)}), f.ranks(c, f.ends)
	}
	rankCoefficients, rankShares := f.regressed(columns, within, len(x), level)
	for i, j := range outputs {
		g.SRC[j], g.R2[j] = coefficients[i], shares[i]
		g.SRRC[j], g.RankR2[j] = rankCoefficients[i], rankShares[i]
		if !f.tells(y[j]) {
			g.silence(j)
		}
	}
}

// unrounded is v, or a column of one value where v varies by rounding alone.
func unrounded(v []float64) []float64 {
	var e extent
	for _, x := range v {
		e.widen(x)
	}
	if !e.rounding() || e.low == e.high {
		return v
	}
	return slices.Repeat(v[:1], len(v))
}

// tells reports whether enough rows differ from a value that most have.
func (f *fitted) tells(y []float64) bool {
	var most estimate.Majority
	for _, row := range f.rows {
		most.Count(y[row])
	}
	acting := 0
	for _, row := range f.rows {
		if y[row] != most.Value {
			acting++
		}
	}
	return tells(acting, len(f.rows))
}

// silence takes the intervals of an output away.
func (g *Regression) silence(output int) {
	for _, all := range [][]Index{g.SRC[output], g.SRRC[output], g.R2[output : output+1], g.RankR2[output : output+1]} {
		for i := range all {
			all[i].Interval = estimate.None()
		}
	}
}

// of are the values of a column in the rows of the fit.
func (f *fitted) of(column []float64) []float64 {
	if len(f.rows) == len(column) {
		return column
	}
	v := make([]float64, len(f.rows))
	for i, row := range f.rows {
		v[i] = column[row]
	}
	return v
}

// ranks are, for each value, the weight below it and half of that beside it, as shares of
// the weight of those rows between two bounds that it lies in. Own: gonum's ranks have no
// weights and no bounds.
func (f *fitted) ranks(v []float64, bounds []int) []float64 {
	ranks := make([]float64, len(v))
	f.order, f.scratch = slices.Grow(f.order[:0], len(v))[:len(v)], slices.Grow(f.scratch[:0], len(v))[:len(v)]
	for r := range len(bounds) - 1 {
		from, to := bounds[r], bounds[r+1]
		for i := from; i < to; i++ {
			f.order[i] = estimate.Place{X: v[i], Row: int32(i)}
		}
		f.rank(estimate.SortPlaces(f.order[from:to], f.scratch), ranks)
	}
	return ranks
}

// rank fills the ranks of rows in order.
func (f *fitted) rank(order []estimate.Place, ranks []float64) {
	var below float64
	first := order
	for len(order) > 0 {
		to, within := 0, 0.0
		for ; to < len(order) && order[to].X == order[0].X; to++ {
			within += f.weight[order[to].Row]
		}
		for _, p := range order[:to] {
			ranks[p.Row] = below + within/2
		}
		order, below = order[to:], below+within
	}
	for _, p := range first {
		ranks[p.Row] /= below
	}
}

// regressed returns the coefficients and the explained share, with intervals, of the
// outputs, the columns behind those of the inputs.
func (f *fitted) regressed(columns, spread [][]float64, inputs int, level float64) (coefficients [][]Index, shares []Index) {
	blocks := f.products(columns, inputs)
	whole := joinedBut(blocks, -1).solve()
	if &spread[0] != &columns[0] {
		blocks = f.products(spread, inputs)
	}
	centre, without := joinedBut(blocks, -1).solve(), make([]solution, len(blocks))
	for r := range blocks {
		without[r] = joinedBut(blocks, r).solve()
	}
	values := make([]float64, len(blocks))
	for j := range len(columns) - inputs {
		coefficients = append(coefficients, make([]Index, inputs))
		for i := range inputs {
			for r, s := range without {
				values[r] = s.coefficients[j*inputs+i]
			}
			coefficients[j][i] = moved(whole.coefficients[j*inputs+i], centre.coefficients[j*inputs+i], values, level)
		}
		for r, s := range without {
			values[r] = s.shares[j]
		}
		shares = append(shares, widened(moved(whole.shares[j], centre.shares[j], values, level), whole, len(blocks), level))
	}
	return coefficients, shares
}

// known is the index of an estimate that may be NaN.
func known(all float64, without []float64, level float64) Index {
	if all != all {
		return unknown()
	}
	return jackknifed(all, without, level)
}

// moved is the index of an estimate with an interval as wide as that of another and
// the distance between the two, in squares.
func moved(all, other float64, without []float64, level float64) Index {
	i := known(other, without, level)
	if all != all {
		return unknown()
	}
	half := math.Hypot((i.High-i.Low)/2, all-other)
	return Index{all, estimate.Interval{Low: all - half, High: all + half}}
}

// widened adds the quadratic part of the error of a share.
func widened(share Index, s solution, blocks int, level float64) Index {
	if level == 0 {
		level = 0.95
	}
	quadratic := math.Sqrt(2*float64(s.used)) * (1 - share.Estimate) / s.rows
	half := math.Hypot((share.High-share.Low)/2, estimate.StudentQuantile(level, blocks-1)*quadratic)
	return Index{share.Estimate, estimate.Interval{Low: share.Estimate - half, High: share.Estimate + half}}
}
