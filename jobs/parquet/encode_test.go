package parquet

import "testing"

// The buffers that a writer keeps are the size of a file, not a power of two above it.
func TestWriterKeepsLittle(t *testing.T) {
	w := numbersWriter(t, 60)
	for range 2 {
		if _, err := encodeNumbers(w, numbers(60, 8192)); err != nil {
			t.Fatal(err)
		}
	}
	if kept, data := w.image.Cap()+cap(w.body), 60*8*8192; kept > data*12/10 {
		t.Errorf("the writer keeps %d bytes for %d bytes of data", kept, data)
	}
}
