package parquet

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"unicode/utf8"

	"github.com/parquet-go/parquet-go"
)

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
	var present []byte
	if nullable {
		runs, rest, err := cutLevels(body)
		if err == nil {
			present, err = levels(nil, runs, rows)
		}
		if err != nil {
			return dst, err
		}
		body = rest
	}
	nulls := bytes.Count(present, []byte{0})
	if len(body) != 8*(rows-nulls) {
		return dst, errPage
	}
	if nulls == 0 {
		values, err := parquet.Plain.DecodeDouble(dst[len(dst):], body) // into dst where it has room
		return append(dst, values...), err
	}
	for _, level := range present {
		if level == 0 {
			dst = append(dst, math.NaN())
			continue
		}
		dst = append(dst, math.Float64frombits(binary.LittleEndian.Uint64(body)))
		body = body[8:]
	}
	return dst, nil
}

// cutLevels takes the runs of a page's levels, which stand behind their length, from its values.
func cutLevels(body []byte) (runs, values []byte, err error) {
	if len(body) < 4 {
		return nil, nil, errPage
	}
	n := int64(binary.LittleEndian.Uint32(body))
	if n > int64(len(body)-4) {
		return nil, nil, errPage
	}
	return body[4 : 4+n], body[4+n:], nil
}

func parseInts(body []byte, rows int, k Kind) ([]int64, error) {
	width := 8
	if k == Int32 {
		width = 4
	}
	if len(body) != width*rows {
		return nil, errPage
	}
	if k == Int64 {
		return parquet.Plain.DecodeInt64(make([]int64, 0, rows), body)
	}
	values, err := parquet.Plain.DecodeInt32(make([]int32, 0, rows), body)
	return convert(values, func(v int32) int64 { return int64(v) }), err
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
	if int64(len(body)) < 4*int64(rows) {
		return nil, errPage
	}
	text, ends, err := parquet.Plain.DecodeByteArray(nil, body, make([]uint32, 0, rows+1))
	if err != nil || len(ends) != rows+1 {
		return nil, errPage
	}
	values := make([]string, rows)
	for i := range values {
		if values[i] = string(text[ends[i]:ends[i+1]]); !utf8.ValidString(values[i]) {
			return nil, errPage
		}
	}
	return values, nil
}
