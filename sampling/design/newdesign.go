package design

import (
	"errors"
	"fmt"
	"math/bits"
	"strings"
)

// Replicates is the number of independent parts of every design but random: 10 to
// 32 are common practice.
const Replicates = 16

// A Column is what a design calls a coordinate: an input drawn for a purpose.
type Column struct{ Purpose, Name string }

// Names are those of all designs, the default first.
func Names() []string {
	return []string{"latin", "random", "sobol", "halton", "latin_low_correlation"}
}

// New returns the design of that name. The columns are all that Fill will be asked
// for, in an order that matters to sobol, halton and latin_low_correlation. The
// error says what is allowed.
func New(name string, seed uint64, rows int, columns []Column) (Design, error) {
	switch name {
	case "latin":
		return Latin(seed, rows)
	case "random":
		return Random(seed), nil
	case "sobol":
		return newSobol(seed, rows, columns)
	case "halton":
		return newHalton(seed, rows, columns)
	case "latin_low_correlation":
		return newLowCorrelation(seed, rows, columns)
	}
	return nil, noDesign(name)
}

func noDesign(name string) error {
	all := Names()
	return fmt.Errorf("no design is called %q; there are %s and %s", name, strings.Join(all[:len(all)-1], ", "), all[len(all)-1])
}

// RoundRows returns the number of rows that the named design takes when asked for
// rows: at least as many, and a multiple of 16 for latin and
// latin_low_correlation, 16 times a power of two for sobol and halton. The error
// says what is allowed.
func RoundRows(design string, rows int) (int, error) {
	if rows < 1 || rows > maxRows {
		return 0, fmt.Errorf("got %d rows; 1 to %d are allowed", rows, maxRows)
	}
	each := (rows + Replicates - 1) / Replicates
	switch design {
	case "random":
		return rows, nil
	case "latin":
		return each * Replicates, nil
	case "sobol", "halton":
		rows = Replicates << bits.Len64(uint64(each-1))
		return rows, powerOfTwoRows(design, rows)
	case "latin_low_correlation":
		if rows > mostLowCorrelation {
			return 0, tooManyRows(rows)
		}
		return each * Replicates, nil
	}
	return 0, noDesign(design)
}

// mostSequence is as many rows a replicate as there are points of 32 binary digits.
const mostSequence = 1 << 32

func powerOfTwoRows(design string, rows int) error {
	n := rows / Replicates
	if rows < Replicates || rows%Replicates != 0 || n&(n-1) != 0 || n > mostSequence {
		return fmt.Errorf("got %d rows; a %s design takes %d times a power of two, at most %d", rows, design, Replicates, Replicates*mostSequence)
	}
	return nil
}

var errTwice = errors.New("a column of the design is listed twice")

// numbered gives each column its dimension, from 0.
func numbered(design string, columns []Column) (map[Column]int, error) {
	if len(columns) > mostDimensions {
		return nil, fmt.Errorf("got %d columns; a %s design has %d: %d inputs with variance-based indices, %d without",
			len(columns), design, mostDimensions, mostDimensions/2, mostDimensions)
	}
	number := make(map[Column]int, len(columns))
	for j, c := range columns {
		number[c] = j
	}
	if len(number) < len(columns) {
		return nil, errTwice
	}
	return number, nil
}
