package result

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/internal/cost"
	"proofmass/jobs/parquet"
)

// forged gives data the digest that a manifest of these bytes should state.
func forged(head, rest string) []byte {
	plain := head + `"check": "",` + rest
	return []byte(head + `"check": "` + digestOf([]byte(plain)).SHA256 + `",` + rest + "\n")
}

// A manifest beside a study is looked at whenever the study is: whatever it holds, it takes little memory to refuse.
func TestManifestOfAStranger(t *testing.T) {
	const head = `{"format": "proofmass result", "schema_version": 2, `
	long := strings.Repeat("{},", 1<<20)
	for name, data := range map[string][]byte{
		"a long list":                []byte(head + `"rounds": [` + long + `{}]}`),
		"a long list, right digest":  forged(head, `"rounds": [`+long+`{}]}`),
		"a long map, right digest":   forged(head, `"given": {`+strings.Repeat(`"a":{},`, 1<<19)+`"b":{}}}`),
		"a long text, right digest":  forged(head, `"study": "`+strings.Repeat("x", 3<<20)+`"}`),
		"deep, right digest":         forged(head, `"rounds": `+strings.Repeat("[", 9000)+strings.Repeat("]", 9000)+`}`),
		"60 MB":                      append([]byte(head), bytes.Repeat([]byte(" "), 60<<20)...),
		"60 MB of another program's": []byte(`{"name": "other", "list": [` + strings.Repeat("0,", 30<<20) + `0]}`),
	} {
		folder := t.TempDir()
		if err := os.WriteFile(filepath.Join(folder, manifestName), data, 0o666); err != nil {
			t.Fatal(err)
		}
		var err error
		used, _ := cost.Of(func() { _, err = ReadManifest(folder) })
		if err == nil || used > 200<<20 {
			t.Errorf("%s: %d MB allocated by %d, error %v", name, used>>20, len(data)>>20, err)
		}
	}
}

// The longest list that a manifest of right digest can make this program decode.
func TestManifestForgedWithCare(t *testing.T) {
	m := manifest()
	m.Rounds = make([]Round, 10_000)
	for i := range m.Rounds {
		m.Rounds[i].Kind, m.Rounds[i].Number = SampleKind, i
	}
	data, err := m.encode()
	if err != nil {
		t.Fatal(err)
	}
	used, _ := cost.Of(func() { _, err = parseManifest(data) })
	if most := 200.0 / 4 * float64(len(data)); err != nil || float64(used) > most { // 200 MB for one of maxManifest
		t.Errorf("%d kB allocated by %d, error %v", used>>10, len(data)>>10, err)
	}
	m.Study = strings.Repeat("x", maxManifest)
	if _, err := m.encode(); err == nil || !strings.Contains(err.Error(), "a manifest has at most 4194304") {
		t.Errorf("a manifest beyond what is read was written: %v", err)
	}
}

func TestForgedManifestStillHasItsDigest(t *testing.T) {
	m := forged(`{"format": "proofmass result", "schema_version": 2, `, `"rounds": []}`)
	if !json.Valid(m) || !whole(m) {
		t.Fatalf("%s", m)
	}
	if _, err := parseManifest(m); !errors.Is(err, parquet.ErrDamaged) {
		t.Errorf("a manifest without a study was read: %v", err)
	}
}

// A slice of right checksums whose rows take no bytes.
func TestSliceOfNothing(t *testing.T) {
	w, err := parquet.NewWriter([]Column{{Name: "a", Nullable: true}}, []parquet.Kind{parquet.Float}, nil)
	if err == nil {
		err = w.Begin(1 << 20)
	}
	nulls := make([]float64, 1<<20)
	for i := range nulls {
		nulls[i] = nan
	}
	if err == nil {
		err = w.Floats(nulls)
	}
	if err != nil {
		t.Fatal(err)
	}
	data, err := w.Finish()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "s.parquet")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenSlices([]string{path}); !errors.Is(err, parquet.ErrDamaged) {
		t.Errorf("error %v", err)
	}
}
