package parquet

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"testing"
	"time"

	"github.com/parquet-go/parquet-go"
)

// BenchmarkEncode makes the bytes of 60 nullable columns. The ratio compares, in one run, making them here with making them by
// the library's writer, column by column from Values, its fastest way for columns that may be null.
func BenchmarkEncode(b *testing.B) {
	const columns = 60
	for _, rows := range []int{1024, 8192, 16384} {
		nulls, whole := numbers(columns, rows), numbers(columns, rows)
		for _, c := range whole {
			for i := range c {
				c[i] = float64(i)
			}
		}
		perRow := func(b *testing.B, run func() error) float64 {
			b.ReportAllocs()
			start := time.Now()
			n := 0
			for b.Loop() {
				if err := run(); err != nil {
					b.Fatal(err)
				}
				n++
			}
			ns := float64(time.Since(start).Nanoseconds()) / float64(n*rows)
			b.ReportMetric(ns, "ns/row")
			return ns
		}
		w := numbersWriter(b, columns)
		own := 0.0
		b.Run(fmt.Sprintf("do=own/rows=%d", rows), func(b *testing.B) {
			own = perRow(b, func() error { _, err := encodeNumbers(w, nulls); return err })
		})
		b.Run(fmt.Sprintf("do=own-no-null/rows=%d", rows), func(b *testing.B) {
			perRow(b, func() error { _, err := encodeNumbers(w, whole); return err })
		})
		b.Run(fmt.Sprintf("do=library/rows=%d", rows), func(b *testing.B) {
			l := newLibraryWriter(columns)
			ns := perRow(b, func() error { return l.write(nulls) })
			b.ReportMetric(ns/own, "ratio")
		})
	}
}

// numbers fills columns with numbers, a null in every eleventh place.
func numbers(columns, rows int) [][]float64 {
	all := make([][]float64, columns)
	for c := range all {
		all[c] = make([]float64, rows)
		for r := range all[c] {
			if all[c][r] = float64(r) + float64(c)/64; (r+c)%11 == 0 {
				all[c][r] = nan
			}
		}
	}
	return all
}

func numbersWriter(t testing.TB, columns int) *Writer {
	t.Helper()
	all, kinds := make([]Column, columns), make([]Kind, columns)
	for i := range all {
		all[i] = Column{Name: fmt.Sprintf("quantity_%02d", i), Unit: "kg", Nullable: true}
	}
	w, err := NewWriter(all, kinds, nil)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func encodeNumbers(w *Writer, columns [][]float64) ([]byte, error) {
	if err := w.Begin(len(columns[0])); err != nil {
		return nil, err
	}
	for _, c := range columns {
		if err := w.Floats(c); err != nil {
			return nil, err
		}
	}
	return w.Finish()
}

type libraryWriter struct {
	writer *parquet.GenericWriter[any]
	out    bytes.Buffer
	values []parquet.Value
}

func newLibraryWriter(columns int) *libraryWriter {
	group := parquet.Group{}
	for i := range columns {
		group[fmt.Sprintf("quantity_%02d", i)] = parquet.Optional(parquet.Leaf(parquet.DoubleType))
	}
	l := &libraryWriter{values: make([]parquet.Value, 1024)}
	l.writer = parquet.NewGenericWriter[any](&l.out, parquet.NewSchema("table", group), parquet.DataPageVersion(1))
	return l
}

func (l *libraryWriter) write(columns [][]float64) error {
	l.out.Reset()
	l.writer.Reset(&l.out)
	for i, w := range l.writer.ColumnWriters() {
		column := columns[i]
		for len(column) > 0 {
			n := min(len(column), len(l.values))
			for k, v := range column[:n] {
				if v == v {
					l.values[k] = parquet.DoubleValue(v).Level(0, 1, i)
				} else {
					l.values[k] = parquet.NullValue().Level(0, 0, i)
				}
			}
			if _, err := w.WriteRowValues(l.values[:n]); err != nil {
				return err
			}
			column = column[n:]
		}
	}
	return l.writer.Close()
}

// BenchmarkNumbers reads one of 60 nullable columns, checksum and all. The ratio compares, in one run and in turns, our pages
// and the library's, both decoded by the library's encodings.
func BenchmarkNumbers(b *testing.B) {
	const rows = 8192
	for _, name := range []string{"nulls", "no-null"} {
		columns := numbers(60, rows)
		if name == "no-null" {
			for i := range columns[30] {
				columns[30][i] = float64(i)
			}
		}
		data, err := encodeNumbers(numbersWriter(b, 60), columns)
		if err != nil {
			b.Fatal(err)
		}
		r := bytes.NewReader(data)
		f, err := Open(r, r.Size())
		if err != nil {
			b.Fatal(err)
		}
		library, err := parquet.OpenFile(r, r.Size(), parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true))
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			var ours, theirs time.Duration
			var buffer []byte
			dst := make([]float64, 0, rows)
			for b.Loop() {
				start := time.Now()
				if dst, err = f.Numbers(r, 30, dst[:0], &buffer); err != nil {
					b.Fatal(err)
				}
				middle := time.Now()
				if dst, err = libraryNumbers(dst[:0], library.RowGroups()[0].ColumnChunks()[30]); err != nil {
					b.Fatal(err)
				}
				ours, theirs = ours+middle.Sub(start), theirs+time.Since(middle)
			}
			b.ReportMetric(float64(ours.Nanoseconds())/float64(b.N*rows), "ns/value")
			b.ReportMetric(float64(ours)/float64(theirs), "ratio")
		})
	}
}

func libraryNumbers(dst []float64, chunk parquet.ColumnChunk) ([]float64, error) {
	pages := chunk.Pages()
	defer pages.Close()
	for {
		page, err := pages.ReadPage()
		if errors.Is(err, io.EOF) {
			return dst, nil
		}
		if err != nil {
			return dst, err
		}
		held := page.Data()
		values := held.Double()
		if page.NumNulls() == 0 {
			dst = append(dst, values...)
			parquet.Release(page)
			continue
		}
		for _, level := range page.DefinitionLevels() {
			if level == 0 {
				dst = append(dst, nan)
				continue
			}
			dst, values = append(dst, values[0]), values[1:]
		}
		parquet.Release(page)
	}
}
