package result

import (
	"bytes"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"github.com/parquet-go/parquet-go"
)

// BenchmarkSlice writes a slice of 60 nullable columns. The ratio compares, in one run, making the bytes here with making
// them by the library's writer, column by column from Values, its fastest way for columns that may be null.
func BenchmarkSlice(b *testing.B) {
	const columns = 60
	for _, rows := range []int{1024, 8192, 16384} {
		s := &Slice{Columns: values(columns, 0, rows)}
		whole := &Slice{Columns: values(columns, 0, rows)}
		for _, c := range whole.Columns {
			for i := range c {
				c[i] = float64(i)
			}
		}
		w := newSlices(b, columns)
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
		own := 0.0
		b.Run(fmt.Sprintf("do=encode/rows=%d", rows), func(b *testing.B) {
			own = perRow(b, func() error { _, err := w.encode(s); return err })
		})
		b.Run(fmt.Sprintf("do=encode-no-null/rows=%d", rows), func(b *testing.B) {
			perRow(b, func() error { _, err := w.encode(whole); return err })
		})
		b.Run(fmt.Sprintf("do=library/rows=%d", rows), func(b *testing.B) {
			l := newLibraryWriter(columns)
			ns := perRow(b, func() error { return l.write(s.Columns) })
			b.ReportMetric(ns/own, "ratio")
		})
		b.Run(fmt.Sprintf("do=digest/rows=%d", rows), func(b *testing.B) {
			image, err := w.encode(s)
			if err != nil {
				b.Fatal(err)
			}
			perRow(b, func() error { _ = digestOf(image); return nil })
		})
		b.Run(fmt.Sprintf("do=all/rows=%d", rows), func(b *testing.B) {
			f := &Folder{b.TempDir(), disk{}}
			perRow(b, func() error { _, err := w.Write(f, SliceName(SampleKind, 0, 0), s); return err })
		})
	}
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

// BenchmarkReadColumn joins one column of 60 over 16 slices of 8192 rows; files are in the page cache.
func BenchmarkReadColumn(b *testing.B) {
	const slices, rows = 16, 8192
	f := &Folder{b.TempDir(), disk{}}
	w := newSlices(b, 60)
	var paths []string
	for i := range slices {
		name := SliceName(SampleKind, 0, i)
		if _, err := w.Write(f, name, &Slice{FirstRow: int64(i * rows), Columns: values(60, i*rows, rows)}); err != nil {
			b.Fatal(err)
		}
		paths = append(paths, filepath.Join(f.path, name))
	}
	var dst []float64
	perValue := func(b *testing.B, run func() error) {
		for b.Loop() {
			if err := run(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*slices*rows), "ns/value")
	}
	b.Run("do=open", func(b *testing.B) {
		perValue(b, func() error { _, err := OpenSlices(paths); return err })
	})
	s, err := OpenSlices(paths)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("do=read", func(b *testing.B) {
		perValue(b, func() error { dst, err = s.Read("car.quantity_30", dst[:0]); return err })
	})
}
