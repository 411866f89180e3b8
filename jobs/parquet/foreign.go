package parquet

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"
)

// errForeign is what is said of bytes that are no Parquet file, or a damaged one.
var errForeign = errors.New("is no whole Parquet file")

// ForeignColumns returns the names of the columns of a Parquet file that any
// program may have written, given as its bytes.
func ForeignColumns(data []byte) (names []string, err error) {
	defer asError(&err)
	f, err := openForeign(data)
	if err != nil {
		return nil, err
	}
	for _, field := range f.Schema().Fields() {
		names = append(names, field.Name())
	}
	return names, nil
}

// ForeignNumbers returns the numbers of a flat column of integers or floats of such
// a file, at most most of them. The error does not name the column.
func ForeignNumbers(data []byte, column string, most int) (x []float64, err error) {
	defer asError(&err)
	f, err := openForeign(data)
	if err != nil {
		return nil, err
	}
	leaf, ok := f.Schema().Lookup(column)
	if !ok || leaf.Node.Repeated() || !numeric(leaf.Node.Type()) {
		return nil, errors.New("no flat column of numbers")
	}
	if f.NumRows() > int64(most) {
		return nil, fmt.Errorf("more than %d values", most)
	}
	for _, group := range f.RowGroups() {
		if x, err = readChunk(x, group.ColumnChunks()[leaf.ColumnIndex], most); err != nil {
			return nil, err
		}
	}
	return x, nil
}

func openForeign(data []byte) (*parquet.File, error) {
	if checkFooter(data) != nil {
		return nil, errForeign
	}
	f, err := parquet.OpenFile(bytes.NewReader(data), int64(len(data)), parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true))
	if err != nil {
		return nil, errForeign
	}
	return f, nil
}

// asError turns a panic into an error: the library may panic on a damaged file.
func asError(err *error) {
	if recover() != nil {
		*err = errForeign
	}
}

// numeric leaves out integers that stand for times or decimals.
func numeric(t parquet.Type) bool {
	if l := t.LogicalType(); l != nil && l.Value != nil {
		if _, whole := l.Value.(*format.IntType); !whole {
			return false
		}
	}
	k := t.Kind()
	return k == parquet.Double || k == parquet.Float || k == parquet.Int32 || k == parquet.Int64
}

// readChunk adds the numbers of one part of a column.
func readChunk(x []float64, chunk parquet.ColumnChunk, most int) ([]float64, error) {
	pages := chunk.Pages()
	defer pages.Close()
	buffer := make([]parquet.Value, 4096)
	for {
		page, err := pages.ReadPage()
		if errors.Is(err, io.EOF) {
			return x, nil
		}
		if err != nil {
			return nil, errors.New("cannot be read whole")
		}
		for values := page.Values(); ; {
			n, err := values.ReadValues(buffer)
			for _, v := range buffer[:n] {
				number, ok := numberOf(v)
				if !ok {
					return nil, fmt.Errorf("row %d is empty or no finite number", len(x)+1)
				}
				if x = append(x, number); len(x) > most {
					return nil, fmt.Errorf("more than %d values", most)
				}
			}
			if err != nil || n == 0 {
				break
			}
		}
		parquet.Release(page)
	}
}

func numberOf(v parquet.Value) (float64, bool) {
	var x float64
	switch {
	case v.IsNull():
		return 0, false
	case v.Kind() == parquet.Double:
		x = v.Double()
	case v.Kind() == parquet.Float:
		x = float64(v.Float())
	case v.Kind() == parquet.Int32:
		x = float64(v.Int32())
	default:
		x = float64(v.Int64())
	}
	return x, !math.IsNaN(x) && !math.IsInf(x, 0)
}
