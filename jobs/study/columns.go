package study

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"

	"proofmass/jobs/result"
	"proofmass/model/unit"
)

// csvColumn returns the numbers below a column's head. Columns are separated by
// commas, the first line names them.
func csvColumn(data []byte, column string) ([]float64, error) {
	lines := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))))
	lines.Comment, lines.ReuseRecord = '#', true
	head, err := lines.Read()
	if err != nil {
		return nil, errors.New("has no first line that names the columns, separated by commas")
	}
	names := make([]string, len(head))
	for i, name := range head {
		names[i] = strings.TrimSpace(name)
	}
	at, err := columnOf(names, column)
	if err != nil {
		return nil, err
	}
	var x []float64
	for {
		record, err := lines.Read()
		if errors.Is(err, io.EOF) {
			return enough(x, column)
		}
		if err != nil {
			return nil, fmt.Errorf("no CSV: %s", printable(err.Error(), 120))
		}
		text := strings.TrimSpace(record[at])
		v, err := unit.ParseNumber(text)
		if err != nil {
			line, _ := lines.FieldPos(at)
			return nil, fmt.Errorf("line %d, column %s: %s is no number", line, quote(column), quote(text))
		}
		if x = append(x, v); len(x) > maxValues {
			return nil, fmt.Errorf("more than %d values in column %s", maxValues, quote(column))
		}
	}
}

func columnOf(names []string, column string) (int, error) {
	at := slices.Index(names, column)
	switch {
	case at < 0 && len(names) == 1 && strings.ContainsAny(names[0], ";\t"):
		return 0, errors.New("its columns are not separated by commas")
	case at < 0:
		shown := names[:min(len(names), 12)]
		if near := unit.Nearest(column, names); near != "" {
			return 0, fmt.Errorf("no column %s; did you mean %s?", quote(column), quote(near))
		}
		return 0, fmt.Errorf("no column %s; there are %s", quote(column), printable(strings.Join(shown, ", "), 100))
	case slices.Contains(names[at+1:], column):
		return 0, fmt.Errorf("two columns %s", quote(column))
	}
	return at, nil
}

func enough(x []float64, column string) ([]float64, error) {
	if len(x) == 0 {
		return nil, fmt.Errorf("no values in column %s", quote(column))
	}
	return x, nil
}

// parquetColumn returns the numbers of a flat column of integers or floats. The
// library may panic on a damaged file, which is an error here.
func parquetColumn(data []byte, column string) (x []float64, err error) {
	defer func() {
		if recover() != nil {
			x, err = nil, errors.New("is no whole Parquet file")
		}
	}()
	if result.CheckFooter(data) != nil {
		return nil, errors.New("is no whole Parquet file")
	}
	f, err := parquet.OpenFile(bytes.NewReader(data), int64(len(data)), parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true))
	if err != nil {
		return nil, errors.New("is no whole Parquet file")
	}
	var names []string
	for _, field := range f.Schema().Fields() {
		names = append(names, field.Name())
	}
	if _, err := columnOf(names, column); err != nil {
		return nil, err
	}
	leaf, ok := f.Schema().Lookup(column)
	if !ok || leaf.Node.Repeated() || !numeric(leaf.Node.Type()) {
		return nil, fmt.Errorf("column %s is no flat column of numbers", quote(column))
	}
	if f.NumRows() > maxValues {
		return nil, fmt.Errorf("more than %d values in column %s", maxValues, quote(column))
	}
	for _, group := range f.RowGroups() {
		if x, err = readChunk(x, group.ColumnChunks()[leaf.ColumnIndex]); err != nil {
			return nil, fmt.Errorf("column %s: %w", quote(column), err)
		}
	}
	return enough(x, column)
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
func readChunk(x []float64, chunk parquet.ColumnChunk) ([]float64, error) {
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
				if x = append(x, number); len(x) > maxValues {
					return nil, fmt.Errorf("more than %d values", maxValues)
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
