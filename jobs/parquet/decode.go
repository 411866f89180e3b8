package parquet

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"

	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"
)

// File is what the footer of a file of this package says, checked against the file's size: the schema and where the pages lie.
// It does not hold the file open; who reads a column hands over the bytes again.
type File struct {
	fields []field
	chunks []chunk // empty where there are no rows
	rows   int
	meta   map[string]string
	groups []*File // of a file of several row groups, each with its rows alone; else nil
}

// chunk is where a column's page, header included, lies, and whether it is packed.
type chunk struct {
	offset, size int64
	packed       bool
}

// ErrDamaged is wrapped by every error about the bytes of a file.
var ErrDamaged = errors.New("damaged, or not written by this program")

// damage is an ErrDamaged that says what is damaged.
type damage struct{ what string }

func (d *damage) Error() string { return ErrDamaged.Error() + ": " + d.what }
func (d *damage) Unwrap() error { return ErrDamaged }

func damaged(what string, args ...any) error { return &damage{fmt.Sprintf(what, args...)} }

// Open reads the footer of a file of that many bytes.
func Open(r io.ReaderAt, size int64) (*File, error) {
	head := make([]byte, len(magic))
	if _, err := r.ReadAt(head, 0); err != nil && err != io.EOF {
		return nil, err
	}
	if string(head) != magic {
		return nil, damaged("it does not begin as a Parquet file does")
	}
	footer, end, err := readFooter(r, size)
	if err != nil {
		return nil, err
	}
	return parseFooter(footer, end)
}

// readFooter returns the footer and the offset where pages must end.
func readFooter(r io.ReaderAt, size int64) (footer []byte, end int64, err error) {
	tail := make([]byte, 8)
	if size < int64(2*len(magic)+8) {
		return nil, 0, damaged("%d bytes are too short", size)
	}
	if _, err := r.ReadAt(tail, size-8); err != nil {
		return nil, 0, err
	}
	n := int64(binary.LittleEndian.Uint32(tail))
	end = size - 8 - n - 4
	if string(tail[4:]) != magic || n > maxFooterBytes || end < int64(len(magic)) {
		return nil, 0, damaged("it does not end as a Parquet file does")
	}
	footer = make([]byte, n+4)
	if _, err := r.ReadAt(footer, end); err != nil {
		return nil, 0, err
	}
	if binary.LittleEndian.Uint32(footer) != crc32.ChecksumIEEE(footer[4:]) {
		return nil, 0, damaged("the footer does not match its checksum")
	}
	return footer[4:], end, nil
}

func parseFooter(footer []byte, end int64) (*File, error) {
	m, err := parseMetadata(footer)
	if err != nil {
		return nil, err
	}
	if m.NumRows < 0 || m.NumRows > MaxRows || len(m.Schema) < 2 || (m.NumRows > 0) != (len(m.RowGroups) > 0) {
		return nil, damaged("footer: %d rows in %d groups of %d columns", m.NumRows, len(m.RowGroups), len(m.Schema)-1)
	}
	f := &File{rows: int(m.NumRows), meta: make(map[string]string, len(m.KeyValueMetadata))}
	for _, kv := range m.KeyValueMetadata {
		f.meta[kv.Key] = kv.Value
	}
	for i := range m.Schema[1:] {
		column, err := fieldOf(&m.Schema[1+i])
		if err != nil {
			return nil, err
		}
		f.fields = append(f.fields, column)
	}
	switch {
	case len(m.RowGroups) == 1:
		return f, f.place(&m.RowGroups[0], end)
	case f.rows > 0:
		return f, f.placeGroups(m.RowGroups, end)
	}
	return f, nil
}

// placeGroups takes over several groups. They follow one another, so that a file's rows take
// no more bytes than it has.
func (f *File) placeGroups(groups []format.RowGroup, end int64) error {
	rows, from := int64(0), int64(len(magic))
	for i := range groups {
		g := &groups[i]
		if g.NumRows <= 0 || g.NumRows > int64(f.rows)-rows {
			return damaged("footer: a group of %d rows", g.NumRows)
		}
		part := &File{fields: f.fields, rows: int(g.NumRows)}
		if err := part.place(g, end); err != nil {
			return err
		}
		for _, c := range part.chunks {
			if c.offset < from || c.packed {
				return damaged("footer: groups overlap, or are packed")
			}
		}
		last := part.chunks[len(part.chunks)-1]
		rows, from = rows+g.NumRows, last.offset+last.size
		f.groups = append(f.groups, part)
	}
	if rows != int64(f.rows) {
		return damaged("footer: %d rows in groups of %d", f.rows, rows)
	}
	return nil
}

// parseMetadata decodes the footer of any Parquet file.
func parseMetadata(footer []byte) (*format.FileMetaData, error) {
	n, err := structureSize(footer)
	if err == nil && n != len(footer) {
		err = damaged("%d bytes after the footer's end", len(footer)-n)
	}
	if err != nil {
		return nil, err
	}
	m := new(format.FileMetaData)
	if err := thrift.Unmarshal(new(thrift.CompactProtocol), footer, m); err != nil {
		return nil, damaged("footer: %v", err)
	}
	return m, nil
}

func fieldOf(s *format.SchemaElement) (field, error) {
	for k, t := range physical {
		if s.Type.Valid && s.Type.V == t {
			return field{name: s.Name, kind: k, nullable: s.RepetitionType.V == format.Optional}, nil
		}
	}
	return field{}, damaged("footer: column %s has a type that this program does not write", s.Name)
}

// leastBytes is what eight values take at least.
var leastBytes = map[Kind]int64{Float: 64, Int64: 64, Int32: 32, Text: 32, Bool: 1}

// place takes over where the pages lie.
func (f *File) place(g *format.RowGroup, end int64) error {
	if len(g.Columns) != len(f.fields) || g.NumRows != int64(f.rows) {
		return damaged("footer: schema and columns differ")
	}
	for i := range g.Columns {
		c := &g.Columns[i].MetaData
		least := leastBytes[f.fields[i].kind] * int64(f.rows)
		packed := c.Codec == format.Zstd && f.fields[i].kind != Text && f.rows <= maxPackedRows
		if f.fields[i].nullable || packed {
			least = 0
		}
		inside := c.DataPageOffset >= int64(len(magic)) && c.TotalCompressedSize > 0 && c.TotalCompressedSize <= end-c.DataPageOffset
		if c.Codec != format.Uncompressed && !packed || c.NumValues != g.NumRows || !inside || c.TotalCompressedSize < least/8 {
			return damaged("footer: column %s", f.fields[i].name)
		}
		f.chunks = append(f.chunks, chunk{offset: c.DataPageOffset, size: c.TotalCompressedSize, packed: packed})
	}
	return nil
}

// Packed reports whether the pages of a file are packed: then its bytes say little of its rows, which are at most 2^14.
func (f *File) Packed() bool { return len(f.chunks) > 0 && f.chunks[0].packed }

// page reads column i's page into buffer (grown if need be), checks it and returns the body, unpacked, which is part of the
// buffer.
func (f *File) page(r io.ReaderAt, i int, buffer *[]byte) ([]byte, error) {
	c := f.chunks[i]
	need, encoding := c.size, format.Plain
	if c.packed {
		need += 2 * int64(mostUnpacked(f.rows))
		if f.fields[i].kind == Float {
			encoding = format.ByteStreamSplit
		}
	}
	if int64(cap(*buffer)) < need {
		*buffer = make([]byte, need)
	}
	raw := (*buffer)[:c.size]
	if _, err := r.ReadAt(raw, c.offset); err != nil {
		return nil, err
	}
	h, body, rest, err := pageAt(raw)
	if err != nil {
		return nil, err
	}
	if d := h.DataPageHeader.V; h.Type != format.DataPage || d.Encoding != encoding || int(d.NumValues) != f.rows || len(rest) > 0 {
		return nil, damaged("page header does not match the footer")
	}
	if h.CRC == 0 && len(body) > 0 && crc32.ChecksumIEEE(body) != 0 {
		return nil, damaged("page has no checksum")
	}
	if !c.packed {
		return body, nil
	}
	if size := int(h.UncompressedPageSize); size <= mostUnpacked(f.rows) {
		return f.fields[i].unpack(body, (*buffer)[c.size:need], size)
	}
	return nil, errPage
}
