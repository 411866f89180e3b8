package parquet

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"testing"
	"time"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"

	"proofmass/jobs/internal/cost"
)

// fuzzTime is far more than any input takes on a busy machine, and far less than what a file that is not bounded takes.
const fuzzTime = 10 * time.Second

// bounded fails a test whose f allocates more than that many bytes or takes too long.
func bounded(t *testing.T, most uint64, f func()) {
	t.Helper()
	if used, took := cost.Of(f); used > most || took > fuzzTime {
		t.Errorf("%d MB allocated in %v", used>>20, took)
	}
}

// FuzzForeign reads a values file of any program.
func FuzzForeign(f *testing.F) {
	values, _ := valuesOf(parquet.Double)
	for _, codec := range []parquet.Node{
		parquet.Leaf(parquet.DoubleType),
		parquet.Compressed(parquet.Optional(parquet.Leaf(parquet.DoubleType)), &parquet.Zstd),
		parquet.Compressed(parquet.Encoded(parquet.Leaf(parquet.DoubleType), &parquet.RLEDictionary), &parquet.Snappy),
	} {
		f.Add(foreign(f, codec, values[:40]))
		f.Add(foreign(f, codec, values[:40], parquet.DataPageVersion(1)))
	}
	for _, data := range hostile(f) {
		if len(data) < 4096 {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		bounded(t, hostileBytes, func() {
			names, err := ForeignColumns(data)
			if err != nil {
				return
			}
			for _, name := range append(names[:min(len(names), 3)], "x") {
				if x, err := ForeignNumbers(data, name, hostileValues); err == nil && len(x) > hostileValues {
					t.Errorf("%d numbers", len(x))
				}
			}
		})
	})
}

// FuzzForeignPages gives the pages of a column, behind a footer that is right.
func FuzzForeignPages(f *testing.F) {
	kinds := []format.Type{format.Double, format.Float, format.Int32, format.Int64}
	for _, data := range hostile(f) {
		if m, end, err := foreignFooter(data); err == nil && len(data) < 20_000 && len(m.RowGroups) == 1 {
			c := m.RowGroups[0].Columns[0].MetaData
			f.Add(data[4:end], uint8(c.Type), uint8(c.Codec), c.NumValues, m.Schema[1].RepetitionType.V == format.Optional)
		}
	}
	f.Fuzz(func(t *testing.T, pages []byte, kind, codec uint8, values int64, nulls bool) {
		c := crafted{pages: pages, kind: kinds[int(kind)%len(kinds)], codec: format.CompressionCodec(codec % 8), values: values, nulls: nulls}
		data := c.file()
		bounded(t, hostileBytes, func() {
			if x, err := ForeignNumbers(data, "x", hostileValues); err == nil && int64(len(x)) != values {
				t.Errorf("%d numbers, the column has %d", len(x), values)
			}
		})
	})
}

// FuzzTable reads a table of ours, whose footer is given a right checksum, which random bytes would never have.
func FuzzTable(f *testing.F) {
	for _, t := range []*Table{sample(), {Columns: []Column{{Name: "a", Texts: []string{}}}}} {
		image, err := Encode(t)
		if err != nil {
			f.Fatal(err)
		}
		n := int(binary.LittleEndian.Uint32(image[len(image)-8:]))
		f.Add(image[4:len(image)-8-n-4], image[len(image)-8-n:len(image)-8])
	}
	f.Add([]byte{}, bytes.Repeat([]byte{0x1c}, 1000)) // structures in structures
	f.Add([]byte{}, []byte{0x29, 0xfc, 0xff, 0xff, 0xff, 0x07})
	f.Fuzz(func(t *testing.T, pages, footer []byte) {
		data := append([]byte(magic), pages...)
		data = append(binary.LittleEndian.AppendUint32(data, crc32.ChecksumIEEE(footer)), footer...)
		data = append(binary.LittleEndian.AppendUint32(data, uint32(len(footer))), magic...)
		r := bytes.NewReader(data)
		bounded(t, 20<<20+64*uint64(len(data)), func() {
			table, err := ReadTable(r, r.Size())
			file, openErr := Open(r, r.Size())
			if err == nil && (openErr != nil || table.Rows() != file.Rows() || len(table.Columns) != len(file.Names())) {
				t.Errorf("%+v and %+v, %v", table, file, openErr)
			}
		})
	})
}

// FuzzPage reads a page's body behind the checksums.
func FuzzPage(f *testing.F) {
	image, err := Encode(sample())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(image[4:200], uint16(19), uint8(0), true)
	f.Add([]byte{2, 0, 0, 0, 38, 0}, uint16(19), uint8(0), true)
	f.Add([]byte{1, 0, 0, 0, 65}, uint16(1), uint8(3), false)
	f.Fuzz(func(t *testing.T, body []byte, rows uint16, k uint8, nullable bool) {
		l := &File{fields: []field{{kind: Kind(k % 5), nullable: nullable}}, rows: int(rows)}
		bounded(t, 10<<20+64*uint64(len(body)), func() {
			if got, err := l.appendNumbers(nil, 0, body); err == nil && len(got) != int(rows) {
				t.Errorf("%d values for %d rows", len(got), rows)
			}
			if got, err := parseTexts(body, int(rows)); err == nil && len(got) != int(rows) {
				t.Errorf("%d texts for %d rows", len(got), rows)
			}
			var buffer []byte
			for _, packed := range []bool{false, true} {
				l.chunks = []chunk{{0, int64(len(body)), packed}}
				_, _ = l.page(bytes.NewReader(body), 0, &buffer)
			}
		})
	})
}
