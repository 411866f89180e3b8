package result

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"proofmass/jobs/files"
)

func manifest() *Manifest {
	half := 0.019
	return &Manifest{
		Study: "heron <é>", StudyDigest: StudyDigest([]byte("study"), nil, nil), Numbers: StudyDigest(nil, nil, nil), Seed: 1<<64 - 1, Rows: 32,
		Overrides: map[string]string{"--rows": "32"},
		Program:   "0.1", Go: "go1.26.8", Host: Host{OS: "linux", Arch: "amd64", CPUs: 2},
		Started: time.Date(2026, 11, 25, 12, 0, 0, 123, time.FixedZone("", 3600)),
		Given:   map[string]Digest{}, Tables: map[string]Digest{},
		HalfWidth: &half, Timings: map[string]float64{"model": 0.1},
	}
}

// filled is a folder with a whole small result.
func filled(t *testing.T) (*Folder, *Manifest) {
	t.Helper()
	f, m := newFolder(t), manifest()
	check := func(d Digest, err error) Digest {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, name := range []string{StudyFile, "given/road.csv"} {
		m.Given[name] = check(f.WriteGiven(name, []byte("text of "+name)))
	}
	for _, kind := range []string{SampleKind, "index"} {
		r := Round{Kind: kind, Rows: 32}
		w := newSlices(t, 2)
		for i := range 2 {
			name := SliceName(kind, 0, i)
			d := check(w.Write(f, name, &Slice{FirstRow: int64(16 * i), Columns: values(2, 16*i, 16)}))
			r.Slices = append(r.Slices, SliceFile{File: name, FirstRow: int64(16 * i), Rows: 16, Digest: d})
		}
		m.Rounds = append(m.Rounds, r)
	}
	for _, name := range tables() {
		m.Tables[name] = check(f.WriteTable(name, sample()))
	}
	m.Finished, m.Ended = true, m.Started.Add(time.Minute)
	if err := f.WriteManifest(m); err != nil {
		t.Fatal(err)
	}
	return f, m
}

func TestManifestComesBack(t *testing.T) {
	f, want := filled(t)
	got, err := ReadManifest(f.path)
	if err != nil {
		t.Fatal(err)
	}
	if got.Rounds[0].Slices != nil {
		t.Error("the slices are read before they are asked for")
	}
	if err := LoadSlices(f.path, got); err != nil {
		t.Fatal(err)
	}
	if !got.Started.Equal(want.Started) || !got.Ended.Equal(want.Ended) {
		t.Errorf("times %v %v", got.Started, got.Ended)
	}
	got.Started, got.Ended, got.Format, got.SchemaVersion, got.Check = want.Started, want.Ended, "", 0, ""
	if !reflect.DeepEqual(got, want) {
		t.Errorf("read %+v\nwrote %+v", got, want)
	}
}

// The manifest of a round of ten thousand choices is short and quickly read; its list is
// read when the slices are asked for, and holds every one.
func TestManifestOfManySlices(t *testing.T) {
	f, m := newFolder(t), manifest()
	r := Round{Kind: SampleKind, Rows: 160_000}
	for i := range 10_000 {
		r.Slices = append(r.Slices, SliceFile{File: SliceName(SampleKind, 0, i), Choice: int32(i), FirstRow: int64(16 * i), Rows: 16, Digest: digestOf([]byte{byte(i)})})
	}
	m.Rounds = []Round{r}
	if err := f.WriteManifest(m); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(f.Path(manifestName)); err != nil || info.Size() > 4096 {
		t.Errorf("%v; the manifest has %d bytes", err, info.Size())
	}
	got, err := ReadManifest(f.path)
	if err != nil {
		t.Fatal(err)
	}
	if err := LoadSlices(f.path, got); err != nil || !reflect.DeepEqual(got.Rounds[0].Slices, r.Slices) {
		t.Errorf("%v; the slices differ", err)
	}
}

func TestStates(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, name := range []string{"bare", "photos", "leftover", "partial", "damaged", "later", "locked", "locked/" + nextFolder, "broken", "othermanifest", "cut", "empty"} {
		if err := os.Mkdir(at(name), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	put := func(name, text string) {
		if err := os.WriteFile(at(name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	put("photos/a.jpg", "x")
	put("leftover/"+temporary+"0123", "x")
	put("damaged/manifest.json", `{"format":"proofmass result","schema_version":1,`)
	put("later/manifest.json", `{"format":"proofmass result","schema_version":99}`)
	put("locked/"+lockName, "x")
	put("locked/"+nextFolder+"/study.yaml", "x")
	put("broken/manifest.json", `{"name":`)
	put("cut/manifest.json", "{\n  \"format\": \"proofm")
	put("empty/manifest.json", "")
	put("othermanifest/manifest.json", `{"name":"an app"}`)
	put("file", "x")
	partial := manifest()
	if err := (&Folder{path: at("partial"), fs: files.Disk{}}).WriteManifest(partial); err != nil {
		t.Fatal(err)
	}
	whole, _ := filled(t)
	for _, c := range []struct {
		path  string
		state State
		err   string
	}{
		{at("missing"), Empty, ""},
		{at("missing/deep"), Empty, ""},
		{at("bare"), Empty, ""},
		{at("leftover"), Empty, ""},
		{at("partial"), Partial, ""},
		{whole.path, Finished, ""},
		{at("photos"), Foreign, "holds a.jpg and no manifest.json: it is no result folder"},
		{at("damaged"), Unreadable, "manifest.json: damaged"},
		{at("cut"), Unreadable, "manifest.json: damaged"},
		{at("empty"), Unreadable, "manifest.json: damaged"},
		{at("later"), Unreadable, "schema version 99"},
		{at("locked"), Empty, ""},
		{at("broken"), Foreign, "not a manifest of this program"},
		{at("othermanifest"), Foreign, `its format is "", not "proofmass result"`},
		{at("file"), Foreign, "not a directory"},
	} {
		state, m, err := Inspect(c.path)
		if state != c.state || (m != nil) != (state == Partial || state == Finished) || (err != nil) != (state == Foreign || state == Unreadable) ||
			err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s: %v, manifest %t, error %v", c.path, state, m != nil, err)
		}
		_, createErr := Create(c.path)
		if (createErr == nil) != (state == Empty) {
			t.Errorf("%s is %v: Create says %v", c.path, state, createErr)
		}
		if state == Empty {
			continue // Create has made it
		}
		if _, _, openErr := Open(c.path); (openErr == nil) != (m != nil) {
			t.Errorf("%s is %v: Open says %v", c.path, state, openErr)
		}
	}
	if _, _, err := Open(at("bare")); err == nil || !strings.Contains(err.Error(), "holds no result") {
		t.Errorf("Open of an empty folder says %v", err)
	}
}

// tree lists every file with its content.
func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := make(map[string]string)
	err := filepath.WalkDir(folder, func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		all[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestForeignFolderIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a.jpg", StudyFile, SummaryTable} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(name), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	before := tree(t, dir)
	if _, err := Create(dir); err == nil {
		t.Error("Create took a foreign folder")
	}
	if after := tree(t, dir); !reflect.DeepEqual(before, after) {
		t.Errorf("before %v, after %v", before, after)
	}
}

func TestNames(t *testing.T) {
	for name, want := range map[string]bool{
		StudyFile: true, "given/a.csv": true, "given/": false, "given/../a": false, "given/a/b": false, `given/a\b`: false,
		"given/.hidden": false, "study.yml": false, "": false, "given/c:a": false,
	} {
		if _, err := newFolder(t).WriteGiven(name, nil); (err == nil) != want {
			t.Errorf("WriteGiven(%q): %v", name, err)
		}
	}
	for _, name := range []string{"report.html", "../summary.parquet", ""} {
		if _, err := newFolder(t).WriteTable(name, sample()); err == nil {
			t.Errorf("WriteTable(%q) was taken", name)
		}
	}
	for name, want := range map[string]string{
		SliceName(SampleKind, 12, 345):                "samples/0012/slice-00000345.parquet",
		SliceName("evidence", 0, 0):                   "work/evidence/0000/slice-00000000.parquet",
		"samples/0000/slice-00000000.parquet.bak":     "",
		"work/sample/0000/slice-00000000.parquet":     "",
		"work/../0000/slice-00000000.parquet":         "",
		"../samples/0000/slice-00000000.parquet":      "",
		"samples/0000/slice-00000000.parquet\n":       "",
		"samples/0000/slice-0000000a.parquet":         "",
		"/tmp/samples/0000/slice-00000000.parquet":    "",
		"work/index/samples/0/slice-00000000.parquet": "",
	} {
		if _, _, ok := parseSliceName(name); ok != (name == want) {
			t.Errorf("parseSliceName(%q) = %t", name, ok)
		}
	}
}

// temporary begins the names of files that are being written.
const temporary = ".proofmass-tmp-"
