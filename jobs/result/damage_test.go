package result

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"proofmass/jobs/parquet"
)

func TestDamagedColumn(t *testing.T) {
	f, w := newFolder(t), newSlices(t, 2)
	var paths []string
	for i := range 3 {
		name := SliceName(SampleKind, 0, i)
		if _, err := w.Write(f, name, &Slice{FirstRow: int64(8 * i), Columns: values(2, 8*i, 8)}); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, f.Path(name))
	}
	s, err := OpenSlices(paths)
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(paths[1])
	if err != nil {
		t.Fatal(err)
	}
	last := bytes.Index(data, binary.LittleEndian.AppendUint64(nil, math.Float64bits(known(15, 1)))) // in the page, not what is said of it
	data[last] ^= 1
	if err := os.WriteFile(paths[1], data, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Read("car.quantity_00", nil); err != nil {
		t.Errorf("the other column: %v", err)
	}
	got, err := s.Read("car.quantity_01", []float64{1})
	if !errors.Is(err, parquet.ErrDamaged) || len(got) != 1 || !strings.HasPrefix(err.Error(), paths[1]+": column car.quantity_01: ") {
		t.Errorf("read %v, error %v", got, err)
	}
	if err := os.Truncate(paths[1], 10); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Read("car.quantity_00", nil); err == nil {
		t.Error("a truncated slice was read")
	}
}

func TestDamagedManifest(t *testing.T) {
	m := manifest()
	m.Tables[SummaryTable] = digestOf(nil)
	whole, err := m.encode()
	if err != nil {
		t.Fatal(err)
	}
	for i := range whole {
		for _, flip := range []byte{0x01, 0x80, 0xff} {
			bad := bytes.Clone(whole)
			bad[i] ^= flip
			if _, err := parseManifest(bad); err == nil {
				t.Errorf("flip %#x at %d of %q was read", flip, i, whole[max(0, i-20):i+1])
			}
		}
		if _, err := parseManifest(whole[:i]); err == nil {
			t.Errorf("cut at %d was read", i)
		}
	}
	if _, err := parseManifest(append(whole, ' ')); err == nil {
		t.Error("a byte more was read")
	}
	newer := bytes.Replace(whole, []byte(`"schema_version": 2`), []byte(`"schema_version": 3`), 1)
	if _, err := parseManifest(newer); err == nil || !strings.Contains(err.Error(), "schema version 3, this program knows 2") {
		t.Errorf("newer: %v", err)
	}
}

func TestManifestRefuses(t *testing.T) {
	slice := func(change func(s *SliceFile)) []Round {
		s := SliceFile{File: SliceName(SampleKind, 0, 0), Rows: 32, Digest: digestOf(nil)}
		change(&s)
		return []Round{{Kind: SampleKind, Rows: 32, Slices: []SliceFile{s}}}
	}
	for want, change := range map[string]func(m *Manifest){
		"study_digest":       func(m *Manifest) { m.StudyDigest = "00" },
		"rows is -1":         func(m *Manifest) { m.Rows = -1 },
		`given: "../a"`:      func(m *Manifest) { m.Given["../a"] = digestOf(nil) },
		`tables: "claims.p"`: func(m *Manifest) { m.Tables["claims.p"] = digestOf(nil) },
		`tables: "summary`:   func(m *Manifest) { m.Tables[SummaryTable] = Digest{SHA256: strings.Repeat("A", 64)} },
		`slice file "../a"`:  func(m *Manifest) { m.Rounds = slice(func(s *SliceFile) { s.File = "../a" }) },
		"slice file \"samp":  func(m *Manifest) { m.Rounds = slice(func(s *SliceFile) { s.File = SliceName(SampleKind, 1, 0) }) },
		"rows or digest":     func(m *Manifest) { m.Rounds = slice(func(s *SliceFile) { s.Digest = Digest{} }) },
		"31 rows in 1":       func(m *Manifest) { m.Rounds, m.Finished = slice(func(s *SliceFile) { s.Rows = 31 }), true },
		"33 rows in 1":       func(m *Manifest) { m.Rounds = slice(func(s *SliceFile) { s.Rows = 33 }) },
		"64 rows in 2":       func(m *Manifest) { m.Rounds = twice(SliceName(SampleKind, 0, 1)) },
		"slice file":         func(m *Manifest) { m.Rounds = twice(SliceName(SampleKind, 0, 0)) },
		"unsupported value":  func(m *Manifest) { m.Timings["model"] = nan },
	} {
		m := manifest()
		change(m)
		if err := newFolder(t).WriteManifest(m); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v", want, err)
		}
	}
}

func twice(second string) []Round {
	a := SliceFile{File: SliceName(SampleKind, 0, 0), Rows: 32, Digest: digestOf(nil)}
	b := a
	b.File = second
	return []Round{{Kind: SampleKind, Rows: 32, Slices: []SliceFile{a, b}}}
}

func TestVerify(t *testing.T) {
	f, m := filled(t)
	if err := Verify(f.path); err != nil {
		t.Fatal(err)
	}
	if n := len(m.files()); n < 14 {
		t.Fatalf("only %d files", n) // given, lists, slices, tables
	}
	for _, file := range m.files() {
		path := f.Path(file.name)
		whole, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		flipped := bytes.Clone(whole)
		flipped[len(whole)/2] ^= 1
		for what, spoil := range map[string]func() error{
			"no such file":             func() error { return os.Remove(path) },
			"differs from the digest":  func() error { return os.WriteFile(path, flipped, 0o666) },
			"bytes, it has more":       func() error { return os.WriteFile(path, append(whole, 0), 0o666) },
			"damaged, or not written ": func() error { return os.WriteFile(path, whole[1:], 0o666) },
		} {
			if err := spoil(); err != nil {
				t.Fatal(err)
			}
			if err := Verify(f.path); err == nil || !strings.Contains(err.Error(), what) || !strings.Contains(err.Error(), path) {
				t.Errorf("%s: error %v", what, err)
			}
		}
		if err := os.WriteFile(path, whole, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := Verify(t.TempDir()); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("an empty folder: %v", err)
	}
}

func TestStudyDigestSeparatesParts(t *testing.T) {
	b := func(s string) []byte { return []byte(s) }
	all := map[string]string{}
	for name, d := range map[string]string{
		"plain":      StudyDigest(b("ab"), nil, nil),
		"other":      StudyDigest(b("ac"), nil, nil),
		"given":      StudyDigest(b("ab"), map[string][]byte{"x": b("y")}, nil),
		"overridden": StudyDigest(b("ab"), nil, map[string]string{"x": "y"}),
		"moved":      StudyDigest(b("ab"), map[string][]byte{"xy": b("")}, nil),
		"both":       StudyDigest(b("ab"), map[string][]byte{"x": b("y"), "a": b("")}, nil),
	} {
		if !isHexDigest(d) || all[d] != "" {
			t.Errorf("%s: %s, which %q has too", name, d, all[d])
		}
		all[d] = name
	}
}

// Whatever byte of a slice is changed, the manifest's digest finds it.
func TestEachFlippedByteIsFound(t *testing.T) {
	f, m := filled(t)
	path := f.Path(m.Rounds[0].Slices[1].File)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i := range whole {
		bad := bytes.Clone(whole)
		bad[i] ^= 1 << (i % 8)
		if err := os.WriteFile(path, bad, 0o666); err != nil {
			t.Fatal(err)
		}
		if err := verifyFile(path, m.Rounds[0].Slices[1].Digest); !errors.Is(err, parquet.ErrDamaged) || !strings.Contains(err.Error(), "differs from the digest") {
			t.Errorf("byte %d of %d: error %v", i, len(whole), err)
		}
	}
	if err := Verify(f.path); !errors.Is(err, parquet.ErrDamaged) || !strings.Contains(err.Error(), path) {
		t.Errorf("the folder: error %v", err)
	}
}
