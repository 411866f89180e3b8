package result

import (
	"bytes"
	"testing"
)

func FuzzManifest(f *testing.F) {
	whole, err := manifest().encode()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(whole)
	f.Add([]byte(`{"format":"proofmass result","schema_version":1,"rounds":[{"slices":[{"file":"a"}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := parseManifest(data)
		if err != nil {
			return
		}
		if again, err := m.encode(); err != nil || !bytes.Equal(again, data) {
			t.Errorf("%q came back as %q, %v", data, again, err)
		}
	})
}
