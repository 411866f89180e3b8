package parquet

import (
	"encoding/binary"
	"fmt"
	"math"
	"unicode/utf8"
)

var errPage = damaged("page has another length than its values")

// appendNumbers appends a column of any kind but text as float64: null is NaN, true is 1.
func (f *File) appendNumbers(dst []float64, i int, body []byte) ([]float64, error) {
	switch column := f.fields[i]; column.kind {
	case Float:
		return appendFloats(dst, body, f.rows, column.nullable)
	case Bool:
		bits, err := parseBools(body, f.rows)
		for _, b := range bits {
			v := 0.0
			if b {
				v = 1
			}
			dst = append(dst, v)
		}
		return dst, err
	case Int64, Int32:
		ints, err := parseInts(body, f.rows, column.kind)
		for _, v := range ints {
			dst = append(dst, float64(v))
		}
		return dst, err
	}
	return dst, fmt.Errorf("column %s holds text, not numbers", f.fields[i].name)
}

func appendFloats(dst []float64, body []byte, rows int, nullable bool) ([]float64, error) {
	var levels []byte // nil: every row has a value
	if nullable {
		var err error
		if levels, body, err = parseLevels(body, rows); err != nil {
			return dst, err
		}
	}
	if levels == nil {
		if len(body) != 8*rows {
			return dst, errPage
		}
		for i := range rows {
			dst = append(dst, math.Float64frombits(binary.LittleEndian.Uint64(body[8*i:])))
		}
		return dst, nil
	}
	for i := range rows {
		if levels[i/8]>>(i%8)&1 == 0 {
			dst = append(dst, math.NaN())
			continue
		}
		if len(body) < 8 {
			return dst, errPage
		}
		dst = append(dst, math.Float64frombits(binary.LittleEndian.Uint64(body)))
		body = body[8:]
	}
	if len(body) > 0 {
		return dst, errPage
	}
	return dst, nil
}

// parseLevels is the inverse of Writer.levels: a bit a row, or nil where all rows have a value; and the values.
func parseLevels(body []byte, rows int) (levels, values []byte, err error) {
	if len(body) < 4 {
		return nil, nil, errPage
	}
	n := int64(binary.LittleEndian.Uint32(body))
	if n > int64(len(body)-4) {
		return nil, nil, errPage
	}
	runs, values := body[4:4+n], body[4+n:]
	header, used := binary.Uvarint(runs)
	if used <= 0 {
		return nil, nil, errPage
	}
	runs = runs[used:]
	bytes := (rows + 7) / 8
	switch {
	case header == uint64(bytes)<<1|1 && len(runs) == bytes:
		return runs, values, nil
	case header == uint64(rows)<<1 && len(runs) == 1 && runs[0] == 1:
		return nil, values, nil
	case header == uint64(rows)<<1 && len(runs) == 1 && runs[0] == 0:
		return make([]byte, bytes), values, nil
	}
	return nil, nil, errPage
}

func parseInts(body []byte, rows int, k Kind) ([]int64, error) {
	width := 8
	if k == Int32 {
		width = 4
	}
	if len(body) != width*rows {
		return nil, errPage
	}
	values := make([]int64, rows)
	for i := range values {
		if k == Int32 {
			values[i] = int64(int32(binary.LittleEndian.Uint32(body[4*i:])))
		} else {
			values[i] = int64(binary.LittleEndian.Uint64(body[8*i:]))
		}
	}
	return values, nil
}

func parseBools(body []byte, rows int) ([]bool, error) {
	if len(body) != (rows+7)/8 {
		return nil, errPage
	}
	values := make([]bool, rows)
	for i := range values {
		values[i] = body[i/8]>>(i%8)&1 == 1
	}
	return values, nil
}

func parseTexts(body []byte, rows int) ([]string, error) {
	values := make([]string, 0, rows)
	for range rows {
		if len(body) < 4 {
			return nil, errPage
		}
		n := int64(binary.LittleEndian.Uint32(body))
		if n > int64(len(body)-4) || !utf8.Valid(body[4:4+n]) {
			return nil, errPage
		}
		values = append(values, string(body[4:4+n]))
		body = body[4+n:]
	}
	if len(body) > 0 {
		return nil, errPage
	}
	return values, nil
}
