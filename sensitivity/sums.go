package sensitivity

import "math"

// baseSums belong to one output: its rows in A and B.
type baseSums struct {
	rows, feasible int
	extent         // of both columns
}

// An extent is the least and the greatest of values, to know a constant output. The
// zero value has none.
type extent struct {
	low, high float64
	any       bool
}

func (e *extent) widen(y float64) {
	if !e.any {
		*e = extent{y, y, true}
	}
	if y < e.low {
		e.low = y
	}
	if y > e.high {
		e.high = y
	}
}

func (e extent) plus(c extent) extent {
	if c.any {
		e.widen(c.low)
		e.widen(c.high)
	}
	return e
}

// rounding tells that the values are one but for rounding.
func (e extent) rounding() bool { return e.any && roundingOnly(e.low, e.high) }

// swapSums belong to one output and one input, over the rows where all four runs
// are feasible. Only differences of two runs of one row enter, so that a mean far
// from 0 costs no digits.
type swapSums struct {
	rows, kept int
	both, any  int     // kept rows in which the input did more than rounding does in A and in B, in either
	first      float64 // of 2 (fBA - fB)(fA - fAB)
	total      float64 // of (fA - fAB)^2 + (fB - fBA)^2
	spread     float64 // of (fA - fB)^2 + (fBA - fAB)^2
}

// PickFreezeSums are the sums of one slice of rows. One goroutine at a time.
type PickFreezeSums struct {
	*reached
	base  []baseSums
	swaps []swapSums // at the place of an input and an output
}

// AddBase takes the outputs of rows of A and of B, of equal length. A value that
// is not finite is infeasible.
func (s *PickFreezeSums) AddBase(output int, fA, fB []float64) {
	b := &s.base[output]
	b.rows += len(fA)
	fB = fB[:len(fA)]
	low, high, feasible := math.Inf(1), math.Inf(-1), 0
	for k, y := range fA {
		z := fB[k]
		if y-y != 0 || z-z != 0 {
			continue
		}
		feasible++
		low, high = lower(lower(low, y), z), higher(higher(high, y), z)
	}
	if feasible > 0 {
		b.feasible += feasible
		b.widen(low)
		b.widen(high)
	}
}

// lower and higher are min and max of numbers, without their care for NaN and -0.
func lower(a, b float64) float64 {
	if b < a {
		return b
	}
	return a
}

func higher(a, b float64) float64 {
	if b > a {
		return b
	}
	return a
}

// AddSwapped takes the outputs of rows of A, of B, of A with the columns of the
// input from B, and of B with those from A, all of equal length. A row counts for
// this input and output if all four are finite. It may be left out, in every
// slice, for an input that the output does not reach: its indices are then exactly
// 0.
func (s *PickFreezeSums) AddSwapped(input, output int, fA, fB, fAB, fBA []float64) {
	w := &s.swaps[s.at(input, output)]
	fB, fAB, fBA = fB[:len(fA)], fAB[:len(fA)], fBA[:len(fA)]
	var first, total, spread float64
	kept, both, some := 0, 0, 0
	for k, y := range fA {
		a, b := y-fAB[k], fB[k]-fBA[k] // what the input does in A, and in B
		across, other := y-fB[k], fBA[k]-fAB[k]
		square := float64(across*across) + float64(other*other)
		if square-square != 0 {
			continue
		}
		kept++
		inA, inB := float64(a*a), float64(b*b)
		if least := square * nothing; inA > least || inB > least {
			some++
			if inA > least && inB > least {
				both++
			}
		}
		first -= 2 * float64(a*b)
		total += inA + inB
		spread += square
	}
	w.rows += len(fA)
	w.kept += kept
	w.both += both
	w.any += some
	w.first += first
	w.total += total
	w.spread += spread
}

// plus joins the sums of two sets of rows.
func (b baseSums) plus(c baseSums) baseSums {
	b.extent = b.extent.plus(c.extent)
	b.rows += c.rows
	b.feasible += c.feasible
	return b
}

func (w swapSums) plus(c swapSums) swapSums {
	return swapSums{w.rows + c.rows, w.kept + c.kept, w.both + c.both, w.any + c.any, w.first + c.first, w.total + c.total, w.spread + c.spread}
}

func (w swapSums) minus(c swapSums) swapSums {
	return swapSums{w.rows - c.rows, w.kept - c.kept, w.both - c.both, w.any - c.any, w.first - c.first, w.total - c.total, w.spread - c.spread}
}

// indices are the two estimators of the package comment; exactly 0 for an input
// of which no run was ever added, or that did nothing but rounding.
func (w swapSums) indices() (first, total float64) {
	if w.rows == 0 || w.kept > 0 && w.idle() {
		return 0, 0
	}
	return w.first / w.spread, w.total / w.spread
}

// idle reports whether the input did nothing but rounding: in no row, or in a few whose
// own difference happens to be next to nothing, and nothing beside all rows.
func (w swapSums) idle() bool { return w.any == 0 || w.total <= nothing*w.spread }

// few is the number of rows that show something below which, where most show nothing,
// the spread over replicates says nothing of the error. Common practice, no source.
const few = 30

// tellsFirst and tellsTotal report whether enough rows stand behind an index for an
// interval: of a yes or no that seldom changes, hardly any may. An input that never did
// anything has its 0 for sure.
func (w swapSums) tellsFirst() bool { return w.idle() || tells(w.both, w.kept) }
func (w swapSums) tellsTotal() bool { return w.idle() || tells(w.any, w.kept) }
