package parquet

import (
	"encoding/binary"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/encoding/rle"
	"github.com/parquet-go/parquet-go/format"
)

var errPage = damaged("a page has another length than its values")

// levels decodes the definition levels of n values in Parquet's hybrid encoding, 1 bit wide: 1 for a value, 0 for null. It
// appends to dst[:0].
func levels(dst, runs []byte, n int) ([]byte, error) {
	if !boundedRuns(runs, 1, n) {
		return nil, errPage
	}
	dst, err := (&rle.Encoding{BitWidth: 1}).DecodeLevels(dst[:0], runs)
	if err != nil || len(dst) < n {
		return nil, errPage
	}
	return dst[:n], nil
}

// indices decodes the places in a dictionary of n values: one byte for the width in bits, then runs.
func indices(body []byte, n int) ([]int32, error) {
	if len(body) == 0 || body[0] > 32 || !boundedRuns(body[1:], int(body[0]), n) {
		return nil, errPage
	}
	all, err := (&rle.Encoding{BitWidth: int(body[0])}).DecodeInt32(nil, body[1:])
	if err != nil || len(all) < n {
		return nil, errPage
	}
	return all[:n], nil
}

// runPadding is by how many values the last run may exceed what is asked for; runs of packed bits come in eights.
const runPadding = 512

// boundedRuns walks over runs in the hybrid encoding and reports whether they lie within the bytes and hold no more values than
// asked for. The library makes a run as long as it claims to be.
func boundedRuns(b []byte, width, n int) bool {
	left := uint64(n) + runPadding
	for len(b) > 0 {
		head, used := binary.Uvarint(b)
		if used <= 0 {
			return false
		}
		b = b[used:]
		count, size := head>>1, uint64(width+7)/8
		if head&1 == 1 {
			if count > left/8 {
				return false
			}
			count, size = 8*count, count*uint64(width)
		}
		if count > left || size > uint64(len(b)) {
			return false
		}
		left -= count
		b = b[size:]
	}
	return true
}

// boundedDeltas walks over integers in the delta encoding and reports whether they are n and lie within the bytes, and whether
// no width is beyond what the integers have. The library makes as many as are claimed and unpacks any width.
func boundedDeltas(b []byte, width, n int) bool {
	w := thriftWalker{left: b} // for its numbers
	block, minis, total := w.varint(), w.varint(), w.varint()
	w.varint()
	if w.bad != "" || total != uint64(n) || block == 0 || block > 1<<16 || minis == 0 || minis > block/32 || block%minis != 0 {
		return false
	}
	for left := int(total) - 1; left > 0; left -= int(block) {
		w.varint()
		if w.bad != "" || uint64(len(w.left)) < minis {
			return false
		}
		widths := w.left[:minis]
		w.left = w.left[minis:]
		for i, bits := range widths {
			if i*int(block/minis) >= left {
				break // the last block may lack the mini-blocks that nothing stands in
			}
			if int(bits) > width {
				return false
			}
			w.skip(uint64(bits) * (block / minis) / 8)
		}
		if w.bad != "" {
			return false
		}
	}
	return true
}

// decode turns a page's n values that are not null into float64 by the library's encodings. Beyond 2^53 integers lose digits.
func (l *leaf) decode(encoding format.Encoding, body []byte, n int) ([]float64, error) {
	if n == 0 {
		return nil, nil
	}
	e := parquet.LookupEncoding(encoding)
	width := 32
	if l.kind == format.Int64 {
		width = 64
	}
	if encoding == format.DeltaBinaryPacked && !boundedDeltas(body, width, n) {
		return nil, errPage
	}
	var x []float64
	var err error
	switch l.kind {
	case format.Double:
		x, err = e.DecodeDouble(nil, body)
	case format.Float:
		var narrow []float32
		narrow, err = e.DecodeFloat(nil, body)
		x = floats(narrow)
	case format.Int32:
		var ints []int32
		if ints, err = e.DecodeInt32(nil, body); l.unsigned {
			x = convert(ints, func(v int32) float64 { return float64(uint32(v)) })
		} else {
			x = floats(ints)
		}
	default:
		var ints []int64
		if ints, err = e.DecodeInt64(nil, body); l.unsigned {
			x = convert(ints, func(v int64) float64 { return float64(uint64(v)) })
		} else {
			x = floats(ints)
		}
	}
	if err != nil || len(x) != n {
		return nil, errPage
	}
	return x, nil
}

func floats[T int32 | int64 | float32](values []T) []float64 {
	return convert(values, func(v T) float64 { return float64(v) })
}

func convert[T, U any](values []T, f func(T) U) []U {
	x := make([]U, len(values))
	for i, v := range values {
		x[i] = f(v)
	}
	return x
}
