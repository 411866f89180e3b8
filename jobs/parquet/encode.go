package parquet

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
	kind     Kind
	nullable bool
}

var physical = map[Kind]format.Type{
	Float: format.Double,
	Int64: format.Int64,
	Int32: format.Int32,
	Text:  format.ByteArray,
	Bool:  format.Boolean,
}

const (
	magic = "PAR1"
	// A fixed text, not the build's: the same table gives the same bytes with every build that writes this layout.
	createdBy = "proofmass version 1.1.0 (build 1)" // 1.0.0 had no statistics
)

// Writer builds the image of one file after another of one schema in one buffer, which it keeps from file to file; it allocates
// nothing a row. After Begin it takes the columns in the schema's order, each by the method of its kind, then Finish. One
// goroutine at a time.
//
//	PAR1 | header and body of the one page of each column | page index | footer checksum | footer | footer length | PAR1
//
// The footer checksum (4 bytes, CRC-32 of the footer) is ours: Parquet has none, and readers skip bytes that nothing refers to.
type Writer struct {
	fields []field
	meta   []format.KeyValue
	schema []format.SchemaElement
	orders []format.ColumnOrder // of the statistics: each column by its type

	image  bytes.Buffer
	body   []byte // of the page in hand
	chunks []format.ColumnChunk
	rows   int
	groups []format.RowGroup // of a Stream; nil: the rows in hand are the only one
	before int64             // bytes of the file before the image, of a Stream

	sorted []format.SortingColumn
	packed bool // pages of the file in hand are packed
	packer packer
}

// NewWriter takes the schema; of a column only Name, Unit, Meaning, Source and Nullable are read, kinds says what each holds.
// Meta goes into every file.
func NewWriter(columns []Column, kinds []Kind, meta map[string]string) (*Writer, error) {
	next := -1
	fields, err := fieldsOf(columns, func(*Column) (Kind, error) { next++; return kinds[next], nil })
	if err != nil {
		return nil, err
	}
	values, err := keyValues(columns, meta)
	if err != nil {
		return nil, err
	}
	return newWriter(fields, values), nil
}

// SortedBy says in every file by which columns its rows are sorted, in ascending order, the first counting most.
func (w *Writer) SortedBy(columns ...string) error {
	w.sorted = nil
	for _, name := range columns {
		i := slices.IndexFunc(w.fields, func(f field) bool { return f.name == name })
		if i < 0 {
			return fmt.Errorf("it is said to be sorted by %s, which is no column", name)
		}
		w.sorted = append(w.sorted, format.SortingColumn{ColumnIdx: int32(i)})
	}
	return nil
}

func newWriter(fields []field, meta map[string]string) *Writer {
	w := &Writer{fields: fields}
	for _, k := range slices.Sorted(maps.Keys(meta)) {
		w.meta = append(w.meta, format.KeyValue{Key: k, Value: meta[k]})
	}
	root := format.SchemaElement{Name: "table", NumChildren: thrift.New(int32(len(fields)))}
	w.schema = append(w.schema, root)
	for _, f := range fields {
		w.schema = append(w.schema, f.element())
		w.orders = append(w.orders, format.ColumnOrder{Value: new(format.TypeDefinedOrder)})
	}
	return w
}

func (f field) element() format.SchemaElement {
	s := format.SchemaElement{Name: f.name, Type: thrift.New(physical[f.kind]), RepetitionType: thrift.New(format.Required)}
	if f.nullable {
		s.RepetitionType = thrift.New(format.Optional)
	}
	if f.kind == Text {
		s.ConvertedType = thrift.New(deprecated.UTF8)
		s.LogicalType = format.LogicalType{Value: new(format.StringType)}
	}
	return s
}

// Begin starts a file of that many rows, at most 2^24.
func (w *Writer) Begin(rows int) error { return w.begin(rows, false) }

// BeginPacked starts a file of numbers whose pages are packed with zstd, floats by byte stream split before. Of more than
// 2^14 rows they are not: a reader could not tell how much a few bytes may become.
func (w *Writer) BeginPacked(rows int) error { return w.begin(rows, rows <= maxPackedRows) }

func (w *Writer) begin(rows int, packed bool) error {
	if rows > MaxRows {
		return fmt.Errorf("%d rows, a file holds at most %d", rows, MaxRows)
	}
	w.rows, w.packed = rows, packed
	w.chunks = w.chunks[:0]
	w.image.Reset()
	w.image.Grow((8*rows + 512) * len(w.fields)) // the file's size or a little more, so that the buffer is not doubled
	w.image.WriteString(magic)
	return nil
}

func (w *Writer) column(c *Column) error {
	if c.len() != w.rows {
		return fmt.Errorf("%d rows, the first column has %d", c.len(), w.rows)
	}
	switch w.fields[len(w.chunks)].kind {
	case Int64:
		w.ints(c.Ints)
	case Text:
		return w.texts(c.Texts)
	case Bool:
		w.Bools(c.Bools)
	default:
		return w.Floats(c.Floats)
	}
	return nil
}

// Floats writes the values that are not null; a nullable column has levels before them: 1 for a value, 0 for null.
func (w *Writer) Floats(values []float64) error {
	nulls := 0
	for _, v := range values {
		if v != v {
			nulls++
		}
	}
	w.body = slices.Grow(w.body[:0], 8*len(values)+len(values)/8+32)
	if w.fields[len(w.chunks)].nullable {
		w.levels(values, nulls)
	} else if nulls > 0 {
		return fmt.Errorf("%d values are NaN, but the column is not nullable", nulls)
	}
	at := len(w.body)
	w.body = w.body[:at+8*(len(values)-nulls)+8] // 8 to spare: nulls are written there and overwritten
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		binary.LittleEndian.PutUint64(w.body[at:], math.Float64bits(v))
		if v == v {
			at += 8
		}
		if v < low {
			low = v
		}
		if v > high {
			high = v
		}
	}
	if w.body = w.body[:at]; w.packed {
		w.packer.split(w.body[at-8*(len(values)-nulls):])
	}
	w.page(floatStatistics(low, high, nulls, len(values)))
	return nil
}

// levels writes the definition levels in Parquet's hybrid encoding, 1 bit wide, after their length: one run where all are
// equal, else one packed run.
func (w *Writer) levels(values []float64, nulls int) {
	at := len(w.body)
	w.body = append(w.body, 0, 0, 0, 0)
	switch nulls {
	case 0, len(values):
		w.body = binary.AppendUvarint(w.body, uint64(len(values))<<1)
		level := byte(1)
		if nulls > 0 {
			level = 0
		}
		w.body = append(w.body, level)
	default:
		w.body = binary.AppendUvarint(w.body, uint64((len(values)+7)/8)<<1|1)
		for i := 0; i < len(values); i += 8 {
			b := byte(0)
			for j, v := range values[i:min(i+8, len(values))] {
				if v == v {
					b |= 1 << j
				}
			}
			w.body = append(w.body, b)
		}
	}
	binary.LittleEndian.PutUint32(w.body[at:], uint32(len(w.body)-at-4))
}

// ints writes a column of int64.
func (w *Writer) ints(values []int64) {
	w.body = w.body[:0]
	for _, v := range values {
		w.body = binary.LittleEndian.AppendUint64(w.body, uint64(v))
	}
	w.page(statisticsOf(values, 8))
}

// Sequence writes a column of int64 that holds first, first+1, ...
func (w *Writer) Sequence(first int64) {
	w.body = w.body[:0]
	for i := range w.rows {
		w.body = binary.LittleEndian.AppendUint64(w.body, uint64(first+int64(i)))
	}
	w.page(statisticsOf([]int64{first, first + int64(max(w.rows, 1)-1)}, 8))
}

// Repeat writes a column of int32 that holds one value in every row.
func (w *Writer) Repeat(value int32) {
	w.body = w.body[:0]
	for range w.rows {
		w.body = binary.LittleEndian.AppendUint32(w.body, uint32(value))
	}
	w.page(statisticsOf([]int32{value}, 4))
}

// Int32s writes a column of int32.
func (w *Writer) Int32s(values []int32) {
	w.body = w.body[:0]
	for _, v := range values {
		w.body = binary.LittleEndian.AppendUint32(w.body, uint32(v))
	}
	w.page(statisticsOf(values, 4))
}

// Bools writes a column of bool.
func (w *Writer) Bools(values []bool) {
	w.body = w.body[:0]
	for i := 0; i < len(values); i += 8 {
		b := byte(0)
		for j, v := range values[i:min(i+8, len(values))] {
			if v {
				b |= 1 << j
			}
		}
		w.body = append(w.body, b)
	}
	w.page(boolStatistics(values))
}

// texts writes a column of UTF-8 texts.
func (w *Writer) texts(values []string) error {
	w.body = w.body[:0]
	for i, v := range values {
		if !utf8.ValidString(v) {
			return fmt.Errorf("row %d: text is not UTF-8", i)
		}
		if len(w.body)+4+len(v) > maxPageBytes {
			return fmt.Errorf("row %d: the texts are longer than %d bytes together", i, maxPageBytes)
		}
		w.body = binary.LittleEndian.AppendUint32(w.body, uint32(len(v)))
		w.body = append(w.body, v...)
	}
	w.page(textStatistics(values))
	return nil
}

// page appends the body in hand as the next column's only page. A table without rows has no pages.
func (w *Writer) page(statistics format.Statistics) {
	f := w.fields[len(w.chunks)]
	start, unpacked := w.image.Len(), 0
	codec, encoding := format.Uncompressed, format.Plain
	if w.rows > 0 {
		body := w.body
		if w.packed {
			codec, body = format.Zstd, w.packer.pack(w.body)
			if f.kind == Float {
				encoding = format.ByteStreamSplit
			}
		}
		header := format.PageHeader{
			Type:                 format.DataPage,
			UncompressedPageSize: int32(len(w.body)),
			CompressedPageSize:   int32(len(body)),
			CRC:                  int32(crc32.ChecksumIEEE(body)),
			DataPageHeader: thrift.New(format.DataPageHeader{
				NumValues:               int32(w.rows),
				Encoding:                encoding,
				DefinitionLevelEncoding: format.RLE,
				RepetitionLevelEncoding: format.RLE,
				Statistics:              format.Statistics{NullCount: statistics.NullCount},
			}),
		}
		w.encode(&header)
		w.image.Write(body)
		unpacked = w.image.Len() - start + len(w.body) - len(body)
	}
	w.chunks = append(w.chunks, format.ColumnChunk{MetaData: format.ColumnMetaData{
		Type:                  physical[f.kind],
		Encoding:              []format.Encoding{encoding, format.RLE},
		PathInSchema:          []string{f.name},
		Codec:                 codec,
		NumValues:             int64(w.rows),
		TotalUncompressedSize: int64(unpacked),
		TotalCompressedSize:   int64(w.image.Len() - start),
		DataPageOffset:        int64(start),
		Statistics:            statistics,
	}})
}

// encode cannot fail: the image takes every byte and the structures are the format's own.
func (w *Writer) encode(v any) {
	if err := thrift.NewEncoder(new(thrift.CompactProtocol).NewWriter(&w.image)).Encode(v); err != nil {
		panic("parquet: cannot encode a Parquet structure: " + err.Error())
	}
}

// Finish returns the whole file, valid until the next Begin.
func (w *Writer) Finish() ([]byte, error) {
	groups := w.groups
	if groups == nil && w.rows > 0 {
		groups = []format.RowGroup{w.group(int64(len(magic)))}
	}
	w.index(groups)
	at := w.image.Len()
	w.image.Write([]byte{0, 0, 0, 0})
	w.encode(w.footer(groups))
	footer := w.image.Bytes()[at+4:]
	if len(footer) > maxFooterBytes {
		return nil, fmt.Errorf("%d columns with their texts take %d bytes, at most %d can be described in one file", len(w.fields), len(footer), maxFooterBytes)
	}
	tail := make([]byte, 4, 8)
	binary.LittleEndian.PutUint32(tail, uint32(len(footer)))
	binary.LittleEndian.PutUint32(w.image.Bytes()[at:], crc32.ChecksumIEEE(footer))
	w.image.Write(append(tail, magic...))
	return w.image.Bytes(), nil
}

// group is the row group of the chunks in hand, which begins at that byte of the file.
func (w *Writer) group(offset int64) format.RowGroup {
	g := format.RowGroup{Columns: w.chunks, NumRows: int64(w.rows), FileOffset: offset, SortingColumns: w.sorted}
	for i := range w.chunks {
		g.TotalByteSize += w.chunks[i].MetaData.TotalUncompressedSize
		g.TotalCompressedSize += w.chunks[i].MetaData.TotalCompressedSize
	}
	return g
}

func (w *Writer) footer(groups []format.RowGroup) *format.FileMetaData {
	m := &format.FileMetaData{
		Version:          1,
		Schema:           w.schema,
		NumRows:          int64(w.rows),
		RowGroups:        groups,
		KeyValueMetadata: w.meta,
		CreatedBy:        createdBy,
		ColumnOrders:     w.orders,
	}
	if m.RowGroups == nil {
		m.RowGroups = []format.RowGroup{}
	}
	if w.packed {
		m.Version = 2 // of which byte stream split is
	}
	return m
}
