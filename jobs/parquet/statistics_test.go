package parquet

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"
)

// What the general-purpose library reads of least and greatest values, nulls and places of pages, in the footer and in the
// page index, is what the columns hold; so it is for a file that is written group by group.
func TestLibraryReadsStatistics(t *testing.T) {
	whole, err := Encode(sample())
	if err != nil {
		t.Fatal(err)
	}
	var groups bytes.Buffer
	s, err := NewStream(&groups, sample())
	for range 2 {
		if err == nil {
			err = s.Add(sample())
		}
	}
	if err == nil {
		err = s.Close(nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	// bonded.kerb_mass holds both infinities, required 1 down to 1/19
	want := map[string][2]parquet.Value{
		"bonded.kerb_mass": {parquet.ValueOf(math.Inf(-1)), parquet.ValueOf(math.Inf(1))},
		"no_null":          {parquet.ValueOf(math.Copysign(0, -1)), parquet.ValueOf(18.0)},
		"required":         {parquet.ValueOf(1.0 / 19), parquet.ValueOf(1.0)},
		"rows":             {parquet.ValueOf(slices.Min(sample().Columns[4].Ints)), parquet.ValueOf(slices.Max(sample().Columns[4].Ints))},
		"text":             {parquet.ValueOf(""), parquet.ValueOf("µΩ 電池 \U0001f50b")},
		"holds":            {parquet.ValueOf(false), parquet.ValueOf(true)},
	}
	for _, data := range [][]byte{whole, groups.Bytes()} {
		f, err := parquet.OpenFile(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			t.Fatal(err)
		}
		n := len(f.Metadata().RowGroups) * len(sample().Columns)
		if len(f.ColumnIndexes()) != n || len(f.OffsetIndexes()) != n || len(f.Metadata().ColumnOrders) != len(sample().Columns) {
			t.Fatalf("%d column indexes, %d offset indexes, %d orders for %d chunks", len(f.ColumnIndexes()), len(f.OffsetIndexes()), len(f.Metadata().ColumnOrders), n)
		}
		for _, g := range f.RowGroups() {
			for i, chunk := range g.ColumnChunks() {
				name, index := sample().Columns[i].Name, must(chunk.ColumnIndex())
				nulls := map[string]int64{"bonded.kerb_mass": 3, "all_null": 19}[name]
				if got := index.NullCount(0); got != nulls || index.NullPage(0) != (nulls == 19) {
					t.Errorf("%s: %d nulls, want %d; a page of nulls: %v", name, got, nulls, index.NullPage(0))
				}
				if w, known := want[name]; known && (!parquet.Equal(index.MinValue(0), w[0]) || !parquet.Equal(index.MaxValue(0), w[1])) {
					t.Errorf("%s: from %v to %v, want %v to %v", name, index.MinValue(0), index.MaxValue(0), w[0], w[1])
				}
			}
		}
		at := 0
		for _, g := range f.Metadata().RowGroups {
			for _, c := range g.Columns {
				place := f.OffsetIndexes()[at].PageLocations
				if len(place) != 1 || place[0].Offset != c.MetaData.DataPageOffset || int64(place[0].CompressedPageSize) != c.MetaData.TotalCompressedSize {
					t.Errorf("%v: index says %+v, footer %d", c.MetaData.PathInSchema, place, c.MetaData.DataPageOffset)
				}
				at++
			}
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// Packed, a file has the values of one that is not, for us and for the library; its rows are said to be sorted.
func TestPackedFile(t *testing.T) {
	const rows = 3000
	columns := numbers(4, rows)
	for i := range columns[0] {
		columns[0][i], columns[1][i] = 7, nan
	}
	w := numbersWriter(t, 4)
	if err := w.SortedBy("quantity_02", "quantity_00"); err != nil {
		t.Fatal(err)
	}
	var sizes [2]int
	for k, begin := range []func(int) error{w.Begin, w.BeginPacked} {
		if err := begin(rows); err != nil {
			t.Fatal(err)
		}
		for _, c := range columns {
			if err := w.Floats(c); err != nil {
				t.Fatal(err)
			}
		}
		data := bytes.Clone(must(w.Finish()))
		sizes[k] = len(data)
		f := must(Open(bytes.NewReader(data), int64(len(data))))
		if f.Packed() != (k == 1) {
			t.Fatalf("packed: %v", f.Packed())
		}
		table := must(ReadTable(bytes.NewReader(data), int64(len(data))))
		library := must(parquet.OpenFile(bytes.NewReader(data), int64(len(data))))
		group := library.Metadata().RowGroups[0]
		if s := group.SortingColumns; len(s) != 2 || s[0] != (format.SortingColumn{ColumnIdx: 2}) || s[1] != (format.SortingColumn{}) {
			t.Errorf("sorted by %+v", s)
		}
		var buffer []byte
		for i, c := range columns {
			mine := must(f.Numbers(bytes.NewReader(data), i, nil, &buffer))
			theirs := make([]parquet.Value, rows)
			if n, _ := must(library.RowGroups()[0].ColumnChunks()[i].Pages().ReadPage()).Values().ReadValues(theirs); n != rows {
				t.Fatalf("the library reads %d values of %d", n, rows)
			}
			for r, v := range c {
				same := mine[r] == v && table.Columns[i].Floats[r] == v && theirs[r].Double() == v
				if v != v {
					same = mine[r] != mine[r] && theirs[r].IsNull()
				}
				if !same {
					t.Fatalf("column %d, row %d: %v here, %v by the library, want %v", i, r, mine[r], theirs[r], v)
				}
			}
			if got, want := group.Columns[i].MetaData.Codec == format.Zstd, k == 1; got != want {
				t.Errorf("column %d: zstd %v, want %v", i, got, want)
			}
		}
	}
	if sizes[1] >= sizes[0]/2 {
		t.Errorf("packed %d bytes, else %d", sizes[1], sizes[0])
	}
}

// A flipped byte of a packed page is found, and what a page claims to become is bounded.
func TestDamagedPackedFile(t *testing.T) {
	w := numbersWriter(t, 2)
	if err := w.BeginPacked(40); err != nil {
		t.Fatal(err)
	}
	want := numbers(2, 40)
	for _, c := range want {
		if err := w.Floats(c); err != nil {
			t.Fatal(err)
		}
	}
	whole := bytes.Clone(must(w.Finish()))
	for i := range whole {
		for _, flip := range []byte{1, 0x80} {
			bad := bytes.Clone(whole)
			bad[i] ^= flip
			got, err := ReadTable(bytes.NewReader(bad), int64(len(bad)))
			if err != nil {
				continue
			}
			for c := range want {
				for r, v := range want[c] {
					if x := got.Columns[c].Floats[r]; x != v && (x == x || v == v) {
						t.Fatalf("byte %d: column %d, row %d is %v, want %v", i, c, r, x, v)
					}
				}
			}
		}
	}
	if err := w.BeginPacked(maxPackedRows + 1); err != nil || w.packed {
		t.Errorf("packed: %v, %v; a file of so many rows is not", w.packed, err)
	}
}
