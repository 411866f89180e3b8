package parquet

import (
	"errors"
	"fmt"
	"math"

	"github.com/parquet-go/parquet-go/deprecated"
	"github.com/parquet-go/parquet-go/format"
)

// errForeign is what is said of bytes that are no Parquet file, or a damaged one.
var errForeign = errors.New("is no whole Parquet file")

// ForeignColumns returns the names of the columns of a Parquet file that any
// program may have written, given as its bytes.
func ForeignColumns(data []byte) (names []string, err error) {
	defer asError(&err)
	m, _, err := foreignFooter(data)
	if err != nil {
		return nil, err
	}
	err = eachColumn(m.Schema, func(s *format.SchemaElement, _ int) { names = append(names, s.Name) })
	return names, err
}

// ForeignNumbers returns the numbers of a flat column of integers or floats of such
// a file, at most most of them: one a row, and none may be null or not finite. The
// error does not name the column. Whatever the file claims, the work and the memory
// are bounded by its length and by most: about 100 bytes for each value asked for.
func ForeignNumbers(data []byte, column string, most int) (x []float64, err error) {
	defer asError(&err)
	m, end, err := foreignFooter(data)
	if err != nil {
		return nil, err
	}
	l, err := leafOf(m.Schema, column)
	if err != nil {
		return nil, err
	}
	r := chunkReader{leaf: l, pages: data[:end], most: most, left: end}
	defer r.close()
	for i := range m.RowGroups {
		if l.index >= len(m.RowGroups[i].Columns) {
			return nil, errForeign
		}
		if err := r.chunk(&m.RowGroups[i].Columns[l.index].MetaData); err != nil {
			return nil, inWords(err)
		}
	}
	return r.x, nil
}

// inWords says of a page what is wrong without calling it one of ours.
func inWords(err error) error {
	if d := new(damage); errors.As(err, &d) {
		return errors.New("cannot be read whole: " + d.what)
	}
	return err
}

// asError turns a panic into an error: the library may panic on a damaged file.
func asError(err *error) {
	if recover() != nil {
		*err = errForeign
	}
}

// foreignFooter returns the footer and the offset at which it begins.
func foreignFooter(data []byte) (*format.FileMetaData, int, error) {
	footer, err := footerOf(data)
	if err != nil {
		return nil, 0, errForeign
	}
	m, err := parseMetadata(footer)
	if err != nil {
		return nil, 0, errForeign
	}
	return m, len(data) - 8 - len(footer), nil
}

// eachColumn goes through the columns below the schema's root, leaf or not, and says how many leaves stand before each.
func eachColumn(schema []format.SchemaElement, do func(s *format.SchemaElement, leaves int)) error {
	if len(schema) == 0 {
		return errForeign
	}
	leaves, next := 0, 1
	for range schema[0].NumChildren.V {
		if next >= len(schema) {
			return errForeign
		}
		do(&schema[next], leaves)
		for open := 1; open > 0; next++ {
			if next >= len(schema) {
				return errForeign
			}
			if open--; schema[next].Type.Valid {
				leaves++
			} else {
				open += max(0, int(schema[next].NumChildren.V))
			}
		}
	}
	return nil
}

// leaf is a flat column of numbers.
type leaf struct {
	index    int // among all leaves of the schema
	kind     format.Type
	unsigned bool
	optional bool
}

func leafOf(schema []format.SchemaElement, column string) (l leaf, err error) {
	found := false
	err = eachColumn(schema, func(s *format.SchemaElement, leaves int) {
		if s.Name == column && !found {
			l, found = leaf{index: leaves, kind: s.Type.V, optional: s.RepetitionType.V == format.Optional}, true
			l.unsigned, found = numeric(s)
		}
	})
	if err == nil && !found {
		err = errors.New("no flat column of numbers")
	}
	return l, err
}

// numeric leaves out integers that stand for times or decimals.
func numeric(s *format.SchemaElement) (unsigned, ok bool) {
	if !s.Type.Valid || s.RepetitionType.V == format.Repeated {
		return false, false
	}
	switch s.Type.V {
	case format.Double, format.Float:
		return false, s.LogicalType.Value == nil
	case format.Int32, format.Int64:
	default:
		return false, false
	}
	if l := s.LogicalType.Value; l != nil {
		whole, ok := l.(*format.IntType)
		return ok && !whole.IsSigned, ok
	}
	if c := s.ConvertedType; c.Valid {
		return c.V >= deprecated.Uint8 && c.V <= deprecated.Uint64, c.V >= deprecated.Uint8 && c.V <= deprecated.Int64
	}
	return false, true
}

// take adds values, which must be finite.
func (r *chunkReader) take(values []float64) error {
	if len(values) > r.most-len(r.x) {
		return fmt.Errorf("more than %d values", r.most)
	}
	for i, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return r.notNumber(i)
		}
	}
	r.x = append(r.x, values...)
	return nil
}

func (r *chunkReader) notNumber(i int) error {
	return fmt.Errorf("row %d is empty or no finite number", len(r.x)+i+1)
}
