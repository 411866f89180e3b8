package result

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"maps"
	"math"
	"slices"
	"unicode/utf8"

	"github.com/parquet-go/parquet-go/deprecated"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"
)

// field is a column of the schema.
type field struct {
	name     string
	kind     kind
	nullable bool
}

var physical = map[kind]format.Type{
	kindFloat: format.Double,
	kindInt64: format.Int64,
	kindInt32: format.Int32,
	kindText:  format.ByteArray,
	kindBool:  format.Boolean,
}

const (
	magic = "PAR1"
	// A fixed text, not the build's: the same table gives the same bytes with every build that writes this layout.
	createdBy = "proofmass version 1.0.0 (build 1)"
)

// encoder builds the image of one file after another in one buffer:
//
//	PAR1 | header and body of the one page of each column | footer checksum | footer | footer length | PAR1
//
// The footer checksum (4 bytes, CRC-32 of the footer) is ours: Parquet has none, and readers skip bytes that nothing refers to.
type encoder struct {
	fields []field
	meta   []format.KeyValue
	schema []format.SchemaElement

	image  bytes.Buffer
	body   []byte // of the page in hand
	chunks []format.ColumnChunk
	rows   int
}

func newEncoder(fields []field, meta map[string]string) *encoder {
	e := &encoder{fields: fields}
	for _, k := range slices.Sorted(maps.Keys(meta)) {
		e.meta = append(e.meta, format.KeyValue{Key: k, Value: meta[k]})
	}
	root := format.SchemaElement{Name: "table", NumChildren: thrift.New(int32(len(fields)))}
	e.schema = append(e.schema, root)
	for _, f := range fields {
		e.schema = append(e.schema, f.element())
	}
	return e
}

func (f field) element() format.SchemaElement {
	s := format.SchemaElement{Name: f.name, Type: thrift.New(physical[f.kind]), RepetitionType: thrift.New(format.Required)}
	if f.nullable {
		s.RepetitionType = thrift.New(format.Optional)
	}
	if f.kind == kindText {
		s.ConvertedType = thrift.New(deprecated.UTF8)
		s.LogicalType = format.LogicalType{Value: new(format.StringType)}
	}
	return s
}

// begin starts a file of that many rows.
func (e *encoder) begin(rows int) error {
	if rows > maxRows {
		return fmt.Errorf("%d rows, a file holds at most %d", rows, maxRows)
	}
	e.rows = rows
	e.chunks = e.chunks[:0]
	e.image.Reset()
	e.image.Grow((8*rows + 512) * len(e.fields)) // the file's size or a little more, so that the buffer is not doubled
	e.image.WriteString(magic)
	return nil
}

func (e *encoder) column(c *Column) error {
	if c.len() != e.rows {
		return fmt.Errorf("%d rows, the first column has %d", c.len(), e.rows)
	}
	switch e.fields[len(e.chunks)].kind {
	case kindInt64:
		e.ints(c.Ints)
	case kindText:
		return e.texts(c.Texts)
	case kindBool:
		e.bools(c.Bools)
	default:
		return e.floats(c.Floats)
	}
	return nil
}

// floats writes the values of a row that are not null; a nullable column has levels before them: 1 for a value, 0 for null.
func (e *encoder) floats(values []float64) error {
	nulls := 0
	for _, v := range values {
		if v != v {
			nulls++
		}
	}
	e.body = slices.Grow(e.body[:0], 8*len(values)+len(values)/8+32)
	if e.fields[len(e.chunks)].nullable {
		e.levels(values, nulls)
	} else if nulls > 0 {
		return fmt.Errorf("%d values are NaN, but the column is not nullable", nulls)
	}
	at := len(e.body)
	e.body = e.body[:at+8*(len(values)-nulls)+8] // 8 to spare: nulls are written there and overwritten
	for _, v := range values {
		binary.LittleEndian.PutUint64(e.body[at:], math.Float64bits(v))
		if v == v {
			at += 8
		}
	}
	e.body = e.body[:at]
	e.page(nulls)
	return nil
}

// levels writes the definition levels in Parquet's hybrid encoding, 1 bit wide, after their length: one run where all are
// equal, else one packed run.
func (e *encoder) levels(values []float64, nulls int) {
	at := len(e.body)
	e.body = append(e.body, 0, 0, 0, 0)
	switch nulls {
	case 0, len(values):
		e.body = binary.AppendUvarint(e.body, uint64(len(values))<<1)
		level := byte(1)
		if nulls > 0 {
			level = 0
		}
		e.body = append(e.body, level)
	default:
		e.body = binary.AppendUvarint(e.body, uint64((len(values)+7)/8)<<1|1)
		for i := 0; i < len(values); i += 8 {
			b := byte(0)
			for j, v := range values[i:min(i+8, len(values))] {
				if v == v {
					b |= 1 << j
				}
			}
			e.body = append(e.body, b)
		}
	}
	binary.LittleEndian.PutUint32(e.body[at:], uint32(len(e.body)-at-4))
}

func (e *encoder) ints(values []int64) {
	e.body = e.body[:0]
	for _, v := range values {
		e.body = binary.LittleEndian.AppendUint64(e.body, uint64(v))
	}
	e.page(0)
}

// sequence is a column of first, first+1, ...
func (e *encoder) sequence(first int64) {
	e.body = e.body[:0]
	for i := range e.rows {
		e.body = binary.LittleEndian.AppendUint64(e.body, uint64(first+int64(i)))
	}
	e.page(0)
}

// repeated is a column that holds one value in every row.
func (e *encoder) repeated(value int32) {
	e.body = e.body[:0]
	for range e.rows {
		e.body = binary.LittleEndian.AppendUint32(e.body, uint32(value))
	}
	e.page(0)
}

func (e *encoder) bools(values []bool) {
	e.body = e.body[:0]
	for i := 0; i < len(values); i += 8 {
		b := byte(0)
		for j, v := range values[i:min(i+8, len(values))] {
			if v {
				b |= 1 << j
			}
		}
		e.body = append(e.body, b)
	}
	e.page(0)
}

func (e *encoder) texts(values []string) error {
	e.body = e.body[:0]
	for i, v := range values {
		if !utf8.ValidString(v) {
			return fmt.Errorf("row %d: text is not UTF-8", i)
		}
		if len(e.body)+4+len(v) > maxPageBytes {
			return fmt.Errorf("row %d: the texts are longer than %d bytes together", i, maxPageBytes)
		}
		e.body = binary.LittleEndian.AppendUint32(e.body, uint32(len(v)))
		e.body = append(e.body, v...)
	}
	e.page(0)
	return nil
}

// page appends the body in hand as the next column's only page. A table without rows has no pages.
func (e *encoder) page(nulls int) {
	f := e.fields[len(e.chunks)]
	statistics := format.Statistics{NullCount: int64(nulls)}
	start := e.image.Len()
	if e.rows > 0 {
		header := format.PageHeader{
			Type:                 format.DataPage,
			UncompressedPageSize: int32(len(e.body)),
			CompressedPageSize:   int32(len(e.body)),
			CRC:                  int32(crc32.ChecksumIEEE(e.body)),
			DataPageHeader: thrift.New(format.DataPageHeader{
				NumValues:               int32(e.rows),
				Encoding:                format.Plain,
				DefinitionLevelEncoding: format.RLE,
				RepetitionLevelEncoding: format.RLE,
				Statistics:              statistics,
			}),
		}
		e.encode(&header)
		e.image.Write(e.body)
	}
	size := int64(e.image.Len() - start)
	e.chunks = append(e.chunks, format.ColumnChunk{MetaData: format.ColumnMetaData{
		Type:                  physical[f.kind],
		Encoding:              []format.Encoding{format.Plain, format.RLE},
		PathInSchema:          []string{f.name},
		Codec:                 format.Uncompressed,
		NumValues:             int64(e.rows),
		TotalUncompressedSize: size,
		TotalCompressedSize:   size,
		DataPageOffset:        int64(start),
		Statistics:            statistics,
	}})
}

// encode cannot fail: the image takes every byte and the structures are the format's own.
func (e *encoder) encode(v any) {
	if err := thrift.NewEncoder(new(thrift.CompactProtocol).NewWriter(&e.image)).Encode(v); err != nil {
		panic("result: cannot encode a Parquet structure: " + err.Error())
	}
}

// finish returns the whole file, valid until the next begin.
func (e *encoder) finish() ([]byte, error) {
	at := e.image.Len()
	e.image.Write([]byte{0, 0, 0, 0})
	e.encode(e.footer(int64(at - len(magic))))
	footer := e.image.Bytes()[at+4:]
	if len(footer) > maxFooterBytes {
		return nil, fmt.Errorf("%d columns with their texts take %d bytes, at most %d can be described in one file", len(e.fields), len(footer), maxFooterBytes)
	}
	tail := make([]byte, 4, 8)
	binary.LittleEndian.PutUint32(tail, uint32(len(footer)))
	binary.LittleEndian.PutUint32(e.image.Bytes()[at:], crc32.ChecksumIEEE(footer))
	e.image.Write(append(tail, magic...))
	return e.image.Bytes(), nil
}

func (e *encoder) footer(pageBytes int64) *format.FileMetaData {
	m := &format.FileMetaData{
		Version:          1,
		Schema:           e.schema,
		NumRows:          int64(e.rows),
		RowGroups:        []format.RowGroup{},
		KeyValueMetadata: e.meta,
		CreatedBy:        createdBy,
	}
	if e.rows > 0 {
		m.RowGroups = []format.RowGroup{{
			Columns:             e.chunks,
			TotalByteSize:       pageBytes,
			TotalCompressedSize: pageBytes,
			NumRows:             int64(e.rows),
			FileOffset:          int64(len(magic)),
		}}
	}
	return m
}
