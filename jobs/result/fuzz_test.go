package result

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"proofmass/jobs/internal/cost"
)

// bounded fails a test whose f allocates more than that many bytes or takes far longer than anything bounded does.
func bounded(t *testing.T, most uint64, f func()) {
	t.Helper()
	if used, took := cost.Of(f); used > most || took > 10*time.Second {
		t.Errorf("%d MB allocated in %v", used>>20, took)
	}
}

// FuzzManifest reads a manifest as it is and with the digest that it should state, which random bytes would never have.
func FuzzManifest(f *testing.F) {
	whole, err := manifest().encode()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(whole)
	f.Add([]byte(`{"format":"proofmass result","schema_version":1,"rounds":[{"slices":[{"file":"a"}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, data := range [][]byte{data, withDigest(data)} {
			bounded(t, 10<<20+100*uint64(len(data)), func() {
				m, err := parseManifest(data)
				if err != nil {
					return
				}
				if again, err := m.encode(); err != nil || !bytes.Equal(again, data) {
					t.Errorf("%q came back as %q, %v", data, again, err)
				}
			})
		}
	})
}

// withDigest puts the right digest where a manifest states it.
func withDigest(data []byte) []byte {
	const before = `"check": "`
	at := bytes.Index(data, []byte(before)) + len(before)
	if at < len(before) || at+64 >= len(data) {
		return data
	}
	plain := append(bytes.Clone(data[:at]), data[at+64:len(data)-1]...)
	return append(append(append(bytes.Clone(data[:at]), digestOf(plain).SHA256...), data[at+64:len(data)-1]...), data[len(data)-1])
}

// FuzzSlice reads a column of a slice.
func FuzzSlice(f *testing.F) {
	w := newSlices(f, 1)
	image, err := w.encode(&Slice{Columns: values(1, 0, 20)})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(bytes.Clone(image))
	f.Fuzz(func(t *testing.T, data []byte) {
		path := filepath.Join(t.TempDir(), "s.parquet")
		if err := os.WriteFile(path, data, 0o666); err != nil {
			t.Fatal(err)
		}
		bounded(t, 10<<20+64*uint64(len(data)), func() {
			s, err := OpenSlices([]string{path})
			if err != nil {
				return
			}
			for _, name := range s.Names() {
				if x, err := s.Read(name, nil); err == nil && len(x) != s.Rows() {
					t.Errorf("%s: %d values of %d rows", name, len(x), s.Rows())
				}
			}
		})
	})
}
