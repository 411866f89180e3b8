package uncertain

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"proofmass/jobs/parquet"
	"proofmass/jobs/study/source"
	"proofmass/model/unit"
)

// csvColumn returns the numbers below a column's head. Columns are separated by
// commas, the first line names them.
func csvColumn(data []byte, column string) ([]float64, error) {
	if line := wideLine(data); line > 0 {
		return nil, fmt.Errorf("line %d: more than %d columns", line, maxColumns)
	}
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
			return nil, fmt.Errorf("no CSV: %s", source.Printable(err.Error(), 120))
		}
		text := strings.TrimSpace(record[at])
		v, err := unit.ParseNumber(text)
		if err != nil {
			line, _ := lines.FieldPos(at)
			return nil, fmt.Errorf("line %d, column %s: %s is no number", line, source.Quote(column), source.Quote(text))
		}
		if x = append(x, v); len(x) > maxValues {
			return nil, fmt.Errorf("more than %d values in column %s", maxValues, source.Quote(column))
		}
	}
}

// maxColumns bounds the columns of a CSV file: a record is taken apart as a whole, and each of its commas takes 100 bytes of memory.
const maxColumns = 65_536

// wideLine returns the number of the first line whose record has more than maxColumns columns, 0 if there is none.
func wideLine(data []byte) int {
	line, columns, quoted, start := 1, 1, false, true
	for i := 0; i < len(data); i++ {
		switch c := data[i]; {
		case start && c == '#': // a comment
			end := bytes.IndexByte(data[i:], '\n')
			if end < 0 {
				return 0
			}
			i += end
			line++
			continue
		case c == '"':
			quoted = !quoted // a quote within quotes is doubled
		case c == '\n':
			line++
			if start = !quoted; start {
				columns = 1
				continue
			}
		case c == ',' && !quoted:
			if columns++; columns > maxColumns {
				return line
			}
		}
		start = false
	}
	return 0
}

func columnOf(names []string, column string) (int, error) {
	at := slices.Index(names, column)
	switch {
	case at < 0 && len(names) == 1 && strings.ContainsAny(names[0], ";\t"):
		return 0, errors.New("its columns are not separated by commas")
	case at < 0:
		shown := names[:min(len(names), 12)]
		if near := source.Nearest(column, names); near != "" {
			return 0, fmt.Errorf("no column %s; did you mean %s?", source.Quote(column), source.Quote(near))
		}
		return 0, fmt.Errorf("no column %s; there are %s", source.Quote(column), source.Printable(strings.Join(shown, ", "), 100))
	case slices.Contains(names[at+1:], column):
		return 0, fmt.Errorf("two columns %s", source.Quote(column))
	}
	return at, nil
}

func enough(x []float64, column string) ([]float64, error) {
	if len(x) == 0 {
		return nil, fmt.Errorf("no values in column %s", source.Quote(column))
	}
	return x, nil
}

// parquetColumn returns the numbers of a flat column of integers or floats.
func parquetColumn(data []byte, column string) ([]float64, error) {
	names, err := parquet.ForeignColumns(data)
	if err != nil {
		return nil, err
	}
	if _, err := columnOf(names, column); err != nil {
		return nil, err
	}
	x, err := parquet.ForeignNumbers(data, column, maxValues)
	if err != nil {
		return nil, fmt.Errorf("column %s: %w", source.Quote(column), err)
	}
	return enough(x, column)
}
