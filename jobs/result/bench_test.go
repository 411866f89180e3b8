package result

import (
	"path/filepath"
	"testing"

	"proofmass/jobs/files"
)

// BenchmarkSlice writes slices of 60 nullable columns: their bytes, those with their digest and the file.
func BenchmarkSlice(b *testing.B) {
	const rows = 8192
	w, f, s := newSlices(b, 60), &Folder{path: b.TempDir(), fs: files.Disk{}}, &Slice{Columns: values(60, 0, rows)}
	for _, do := range []struct {
		name string
		run  func() error
	}{
		{"encode", func() error { _, err := w.encode(s); return err }},
		{"all", func() error { _, err := w.Write(f, SliceName(SampleKind, 0, 0), s); return err }},
	} {
		b.Run("do="+do.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := do.run(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
		})
	}
}

// BenchmarkReadColumn joins one column of 60 over 16 slices of 8192 rows; files are in the page cache.
func BenchmarkReadColumn(b *testing.B) {
	const slices, rows = 16, 8192
	f := &Folder{path: b.TempDir(), fs: files.Disk{}}
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
