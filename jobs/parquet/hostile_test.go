package parquet

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"errors"
	"io"
	"slices"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/klauspost/compress/zstd"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"

	"proofmass/jobs/internal/cost"
)

// What any file may make this package allocate in all, freed or not, when a million values are asked for. The peak is below it.
const (
	hostileValues = 1_000_000
	hostileBytes  = 120 << 20
)

// crafted is a file of one column x whose pages and claims are ours to choose.
type crafted struct {
	pages  []byte
	kind   format.Type
	codec  format.CompressionCodec
	values int64
	nulls  bool
	change func(m *format.FileMetaData)
}

func (c crafted) file() []byte {
	repetition := format.Required
	if c.nulls {
		repetition = format.Optional
	}
	m := &format.FileMetaData{
		Version: 1, NumRows: c.values,
		Schema: []format.SchemaElement{
			{Name: "root", NumChildren: thrift.New[int32](1)},
			{Name: "x", Type: thrift.New(c.kind), RepetitionType: thrift.New(repetition)},
		},
		RowGroups: []format.RowGroup{{NumRows: c.values, Columns: []format.ColumnChunk{{MetaData: format.ColumnMetaData{
			Type: c.kind, Encoding: []format.Encoding{format.Plain}, PathInSchema: []string{"x"}, Codec: c.codec,
			NumValues: c.values, TotalCompressedSize: int64(len(c.pages)), DataPageOffset: 4,
		}}}}},
	}
	if c.change != nil {
		c.change(m)
	}
	footer := encoded(m)
	file := append([]byte(magic), c.pages...)
	file = append(file, footer...)
	return append(binary.LittleEndian.AppendUint32(file, uint32(len(footer))), magic...)
}

func encoded(v any) []byte {
	b, err := thrift.Marshal(new(thrift.CompactProtocol), v)
	if err != nil {
		panic(err)
	}
	return b
}

// dataPage is a page of n values that claims to unpack to size bytes.
func dataPage(encoding format.Encoding, n int32, size int, body []byte) []byte {
	return append(encoded(&format.PageHeader{
		Type: format.DataPage, UncompressedPageSize: int32(size), CompressedPageSize: int32(len(body)),
		DataPageHeader: thrift.New(format.DataPageHeader{NumValues: n, Encoding: encoding, DefinitionLevelEncoding: format.RLE, RepetitionLevelEncoding: format.RLE}),
	}), body...)
}

func dictionaryPage(n int32, body []byte) []byte {
	return append(encoded(&format.PageHeader{
		Type: format.DictionaryPage, UncompressedPageSize: int32(len(body)), CompressedPageSize: int32(len(body)),
		DictionaryPageHeader: thrift.New(format.DictionaryPageHeader{NumValues: n, Encoding: format.Plain}),
	}), body...)
}

func uvarints(values ...uint64) (b []byte) {
	for _, v := range values {
		b = binary.AppendUvarint(b, v)
	}
	return b
}

// bomb packs many zeros.
func bomb(t testing.TB, bytes int, out io.WriteCloser, packed func() []byte) []byte {
	t.Helper()
	zeros := make([]byte, 1<<20)
	for range bytes >> 20 {
		if _, err := out.Write(zeros); err != nil {
			t.Fatal(err)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return packed()
}

func bombs(t testing.TB) map[format.CompressionCodec][]byte {
	const size = 16 << 20
	var a, b, c bytes.Buffer
	z, err := zstd.NewWriter(&c)
	if err != nil {
		t.Fatal(err)
	}
	return map[format.CompressionCodec][]byte{
		format.Gzip:   bomb(t, size, gzip.NewWriter(&a), a.Bytes),
		format.Brotli: bomb(t, size, brotli.NewWriterLevel(&b, 1), b.Bytes),
		format.Zstd:   bomb(t, size, z, c.Bytes),
		format.Snappy: uvarints(1<<32-1, 0, 0, 0),
		format.Lz4Raw: {0x1f, 0, 1, 0, 255, 255, 255, 255, 255, 255, 255, 0},
	}
}

// hostile is what a small file can claim: each of these made this package, or would make the library's reader, take gigabytes
// or minutes, or touch memory that is not its own.
func hostile(t testing.TB) map[string][]byte {
	ones := bytes.Repeat([]byte{0, 0, 0, 0, 0, 0, 0xf0, 0x3f}, 8)
	run := func(count, value uint64) []byte { return append(uvarints(count<<1), byte(value)) }
	levels := func(runs []byte) []byte {
		return append(binary.LittleEndian.AppendUint32(nil, uint32(len(runs))), runs...)
	}
	page := func(e format.Encoding, n int32, body []byte) []byte { return dataPage(e, n, len(body), body) }
	dictionary := dictionaryPage(8, ones)
	files := map[string][]byte{}
	add := func(name string, c crafted) { files[name] = c.file() }

	add("levels of a run too long", crafted{kind: format.Double, values: 8, nulls: true, pages: page(format.Plain, 8, append(levels(run(1<<31-1, 1)), ones...))})
	add("levels of many runs", crafted{kind: format.Double, values: 8, nulls: true, pages: page(format.Plain, 8, append(levels(bytes.Repeat(run(1<<20, 1), 1000)), ones...))})
	add("packed levels", crafted{kind: format.Double, values: 8, nulls: true, pages: page(format.Plain, 8, append(levels(uvarints(1<<62|1)), ones...))})
	add("indices of a run too long", crafted{kind: format.Double, values: 8, pages: append(dictionary, page(format.RLEDictionary, 8, append([]byte{3}, run(1<<31-1, 1)...))...)})
	add("indices of no width", crafted{kind: format.Double, values: 8, pages: append(dictionary, page(format.RLEDictionary, 8, append([]byte{0}, uvarints(1<<31)...))...)})
	add("indices too wide", crafted{kind: format.Double, values: 8, pages: append(dictionary, page(format.RLEDictionary, 8, append([]byte{255}, uvarints(1<<31|1)...))...)})
	add("indices without a dictionary", crafted{kind: format.Double, values: 8, pages: page(format.RLEDictionary, 8, append([]byte{3}, run(8, 1)...))})
	add("indices beyond the dictionary", crafted{kind: format.Double, values: 8, pages: append(dictionaryPage(1, ones[:8]), page(format.RLEDictionary, 8, append([]byte{3}, run(8, 1)...))...)})
	add("a dictionary of billions", crafted{kind: format.Double, values: 8, pages: dictionaryPage(1<<31-1, ones)})
	add("deltas of billions", crafted{kind: format.Int64, values: 8, pages: page(format.DeltaBinaryPacked, 8, uvarints(128, 4, 1<<31-1, 0))})
	add("deltas too wide", crafted{kind: format.Int64, values: 256, pages: page(format.DeltaBinaryPacked, 256, append(uvarints(128, 4, 256, 0, 0), bytes.Repeat([]byte{255}, 4000)...))})
	add("deltas in no blocks", crafted{kind: format.Int64, values: 8, pages: page(format.DeltaBinaryPacked, 8, uvarints(128, 0, 8, 0))})
	add("deltas in great blocks", crafted{kind: format.Int64, values: 8, pages: page(format.DeltaBinaryPacked, 8, uvarints(1<<40, 1, 8, 0, 0, 64))})
	for codec, packed := range bombs(t) {
		add("bomb in "+codec.String(), crafted{kind: format.Double, codec: codec, values: 8, pages: dataPage(format.Plain, 8, 64, packed)})
		add("bomb as told in "+codec.String(), crafted{kind: format.Double, codec: codec, values: 8, pages: dataPage(format.Plain, 8, 16<<20, packed)})
		add("bomb of a full column in "+codec.String(), crafted{kind: format.Double, codec: codec, values: hostileValues, pages: dataPage(format.Plain, hostileValues, 16<<20, packed)})
	}
	add("a page longer than its file", crafted{kind: format.Double, values: 8, pages: dataPage(format.Plain, 8, 1<<31-1, ones)})
	add("values of billions", crafted{kind: format.Double, values: 1 << 62, pages: page(format.Plain, 8, ones)})
	add("a page of billions", crafted{kind: format.Double, values: hostileValues, pages: page(format.Plain, 1<<31-1, ones)})
	add("pages without values", crafted{kind: format.Double, values: 8, pages: bytes.Repeat(page(format.Plain, 0, nil), 50_000)})
	add("one chunk many times", crafted{kind: format.Double, values: 8, pages: bytes.Repeat(page(format.Plain, 0, nil), 10_000), change: func(m *format.FileMetaData) {
		for len(m.RowGroups) < 10_000 {
			m.RowGroups = append(m.RowGroups, m.RowGroups[0])
		}
	}})
	add("a schema that is deep", crafted{kind: format.Double, values: 8, pages: page(format.Plain, 8, ones), change: func(m *format.FileMetaData) {
		group := format.SchemaElement{Name: "g", NumChildren: thrift.New[int32](1)}
		m.Schema = slices.Concat(m.Schema[:1], slices.Repeat([]format.SchemaElement{group}, 50_000), m.Schema[1:])
	}})
	add("a schema with billions of columns", crafted{kind: format.Double, values: 8, pages: page(format.Plain, 8, ones), change: func(m *format.FileMetaData) {
		m.Schema[0].NumChildren = thrift.New[int32](1<<31 - 1)
	}})
	add("metadata of many texts", crafted{kind: format.Double, values: 8, pages: page(format.Plain, 8, ones), change: func(m *format.FileMetaData) {
		m.KeyValueMetadata = make([]format.KeyValue, 1_000_000)
	}})
	add("a row group of many columns", crafted{kind: format.Double, values: 8, pages: page(format.Plain, 8, ones), change: func(m *format.FileMetaData) {
		m.RowGroups[0].Columns = make([]format.ColumnChunk, 300_000)
	}})
	footer := append([]byte{0x15, 2, 0x19, 0xfc}, uvarints(4_000_000)...) // a list of structures, each of one byte
	footer = append(append(footer, make([]byte, 4_000_000)...), 0)
	file := append([]byte(magic), footer...)
	files["a schema of empty columns"] = append(binary.LittleEndian.AppendUint32(file, uint32(len(footer))), magic...)
	return files
}

// No file takes more than its share of memory, whatever it claims, and none of these gives numbers.
func TestHostileFiles(t *testing.T) {
	for name, data := range hostile(t) {
		var err error
		bytes, _ := cost.Of(func() {
			_, _ = ForeignColumns(data)
			_, err = ForeignNumbers(data, "x", hostileValues)
		})
		if err == nil {
			t.Errorf("%s: was read", name)
		}
		if bytes > hostileBytes {
			t.Errorf("%s: %d MB allocated by a file of %d bytes: %v", name, bytes>>20, len(data), err)
		}
	}
}

// A table of ours, checksums and all, that claims a great many nulls in columns that take no bytes.
func TestManyNullsAreRefused(t *testing.T) {
	columns, kinds := make([]Column, 200), make([]Kind, 200)
	for i := range columns {
		columns[i] = Column{Name: string(rune('a' + i)), Nullable: true}
	}
	w, err := NewWriter(columns, kinds, nil)
	if err != nil {
		t.Fatal(err)
	}
	nulls := make([]float64, 200_000)
	for i := range nulls {
		nulls[i] = nan
	}
	if err := w.Begin(len(nulls)); err != nil {
		t.Fatal(err)
	}
	for range columns {
		if err := w.Floats(nulls); err != nil {
			t.Fatal(err)
		}
	}
	data, err := w.Finish()
	if err != nil {
		t.Fatal(err)
	}
	used, _ := cost.Of(func() { _, err = ReadTable(bytes.NewReader(data), int64(len(data))) })
	if !errors.Is(err, ErrDamaged) || used > 10<<20 {
		t.Errorf("%d MB allocated by %d bytes, error %v", used>>20, len(data), err)
	}
}
