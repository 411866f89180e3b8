package sampling

import "fmt"

// A Design places rows in the unit cube. Each input is a column of its own,
// called by name: what other columns a study has does not matter.
//
// The value of a row is a pure function of the design, its seed and size, the
// purpose, the column's name, the round, the replicate and the row, so rows may
// be made in any order, in any slices, on any machine. Designs are values
// without state: one serves all goroutines.
type Design interface {
	// Name is the word that stands for the design in a study: latin or random.
	Name() string
	// Replicates is how many independent parts the rows fall into. Their
	// spread is what gives the error of an estimate. It is 1 where the rows
	// themselves are independent.
	Replicates() int
	// Fill sets u to rows from, from+1, ... of one replicate of a column, each
	// in (0, 1). Rows count from 0 inside their replicate. Rows beyond the
	// replicate's end, which only a mistaken caller asks for, are NaN.
	// Nothing is allocated.
	Fill(u []float64, purpose, column string, round, replicate, from int)
}

// maxRows keeps a row number exact in a float64, with room to spare.
const maxRows = 1 << 40

// RoundRows returns the number of rows that the named design takes when asked
// for rows: at least as many, and a multiple of 16 for latin. The error says
// what is allowed.
func RoundRows(design string, rows int) (int, error) {
	if rows < 1 || rows > maxRows {
		return 0, fmt.Errorf("got %d rows; 1 to %d are allowed", rows, maxRows)
	}
	switch design {
	case "random":
		return rows, nil
	case "latin":
		return (rows + latinReplicates - 1) / latinReplicates * latinReplicates, nil
	}
	return 0, fmt.Errorf("no design is called %q; there are latin and random", design)
}

// columnKey is the key of one replicate of a column.
func columnKey(seed uint64, design, purpose, column string, round, replicate int) Key {
	return NewKey(seed, design, purpose, column).With(uint64(round)).With(uint64(replicate))
}
