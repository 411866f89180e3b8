package parquet

import (
	"encoding/binary"
	"math"

	"github.com/parquet-go/parquet-go/format"
)

// What a file says of the values of a column, so that a reader may pass over what it does not look for: least and greatest
// value and how many are null, in the footer and in the page index.

// floatStatistics takes the least and greatest value that is not null.
func floatStatistics(low, high float64, nulls, rows int) format.Statistics {
	s := format.Statistics{NullCount: int64(nulls)}
	if nulls == rows {
		return s
	}
	if low == 0 { // the format wants -0 as the least zero, +0 as the greatest
		low = math.Copysign(0, -1)
	}
	if high == 0 {
		high = 0
	}
	both := make([]byte, 0, 16)
	both = binary.LittleEndian.AppendUint64(both, math.Float64bits(low))
	both = binary.LittleEndian.AppendUint64(both, math.Float64bits(high))
	s.MinValue, s.MaxValue = both[:8:8], both[8:]
	return s
}

// statisticsOf takes integers of that many bytes.
func statisticsOf[T int32 | int64](values []T, bytes int) (s format.Statistics) {
	if len(values) == 0 {
		return s
	}
	low, high := values[0], values[0]
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	s.MinValue = binary.LittleEndian.AppendUint64(nil, uint64(low))[:bytes:bytes]
	s.MaxValue = binary.LittleEndian.AppendUint64(nil, uint64(high))[:bytes:bytes]
	return s
}

func boolStatistics(values []bool) (s format.Statistics) {
	if len(values) == 0 {
		return s
	}
	low, high := byte(1), byte(0)
	for _, v := range values {
		if v {
			high = 1
		} else {
			low = 0
		}
	}
	s.MinValue, s.MaxValue = []byte{low}, []byte{high}
	return s
}

// longestBound is of how many bytes a text may be to be told as the least or greatest: what is longer would fill the footer.
const longestBound = 64

func textStatistics(values []string) (s format.Statistics) {
	if len(values) == 0 {
		return s
	}
	low, high := values[0], values[0]
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	if max(len(low), len(high)) <= longestBound {
		s.MinValue, s.MaxValue = []byte(low), []byte(high)
	}
	return s
}

// index appends the page index: for each column of each group what its one page holds and where it lies. A column of texts
// too long to be told has the second alone.
func (w *Writer) index(groups []format.RowGroup) {
	for g := range groups {
		for i := range groups[g].Columns {
			c := &groups[g].Columns[i]
			s := &c.MetaData.Statistics
			empty := s.NullCount == c.MetaData.NumValues
			if s.MaxValue == nil && !empty {
				continue
			}
			c.ColumnIndexOffset, c.ColumnIndexLength = w.encodeAt(&format.ColumnIndex{NullPages: []bool{empty},
				MinValues: [][]byte{s.MinValue}, MaxValues: [][]byte{s.MaxValue}, NullCounts: []int64{s.NullCount}})
		}
	}
	for g := range groups {
		for i := range groups[g].Columns {
			c := &groups[g].Columns[i]
			c.OffsetIndexOffset, c.OffsetIndexLength = w.encodeAt(&format.OffsetIndex{PageLocations: []format.PageLocation{{
				Offset: c.MetaData.DataPageOffset, CompressedPageSize: int32(c.MetaData.TotalCompressedSize)}}})
		}
	}
}

// encodeAt appends a structure and says where it lies in the file.
func (w *Writer) encodeAt(v any) (offset int64, length int32) {
	at := w.image.Len()
	w.encode(v)
	return w.before + int64(at), int32(w.image.Len() - at)
}
