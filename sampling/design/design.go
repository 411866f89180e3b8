package design

// A Design places rows in the unit cube. Each input is a column of its own,
// called by purpose and name. What other columns a study has does not matter to
// latin and random; for sobol and halton a column's number does, and for
// latin_low_correlation what stands before it.
//
// The value of a row is a pure function of the design, its seed and size, its
// columns, the purpose, the column's name, the round, the replicate and the row, so
// rows may be made in any order, in any slices, on any machine. One design serves
// all goroutines.
type Design interface {
	// Name is the word that stands for the design in a study, one of Names.
	Name() string
	// Replicates is how many independent parts the rows fall into. Their
	// spread is what gives the error of an estimate. It is 1 where the rows
	// themselves are independent.
	Replicates() int
	// Fill sets u to rows from, from+1, ... of one replicate of a column, each
	// in (0, 1). Rows count from 0 inside their replicate. Rows beyond the
	// replicate's end, which only a mistaken caller asks for, are NaN.
	// Nothing is allocated, but by latin_low_correlation for the first rows of a
	// replicate.
	Fill(u []float64, purpose, column string, round, replicate, from int)
}

// maxRows keeps a row number exact in a float64, with room to spare.
const maxRows = 1 << 40

// columnKey is the key of one replicate of a column.
func columnKey(seed uint64, design, purpose, column string, round, replicate int) Key {
	return NewKey(seed, design, purpose, column).With(uint64(round)).With(uint64(replicate))
}
