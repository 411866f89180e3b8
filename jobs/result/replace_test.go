package result

import (
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/files"
)

// second makes a whole result that differs beside the one at f: another study, one slice
// less, one table less, another used file.
func second(t *testing.T, f *Folder) (*Folder, map[string]string) {
	t.Helper()
	next, err := f.Next(func(*Manifest) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	m := manifest()
	must := func(d Digest, err error) Digest {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, name := range []string{StudyFile, "given/other.csv"} {
		m.Given[name] = must(next.WriteGiven(name, []byte("second "+name)))
	}
	name := SliceName(SampleKind, 0, 0)
	d := must(newSlices(t, 2).Write(next, name, &Slice{Columns: values(2, 7, 16)}))
	m.Rounds = []Round{{Kind: SampleKind, Rows: 16, Slices: []SliceFile{{File: name, Rows: 16, Digest: d}}}}
	m.Tables[SummaryTable] = must(next.WriteTable(SummaryTable, sample()))
	m.Finished = true
	if err := next.WriteManifest(m); err != nil {
		t.Fatal(err)
	}
	return next, tree(t, next.path)
}

var foreign = []string{"notes.txt", "given/mine.csv", "samples/0000/slice-1.parquet", "work/index/readme"}

func putForeign(t *testing.T, f *Folder) {
	t.Helper()
	for _, name := range foreign {
		if err := os.WriteFile(f.Path(name), []byte("mine"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// Wherever a swap is stopped, the old result is whole or the next Settle makes the new one
// so; what is somebody else's stays.
func TestSettleStopped(t *testing.T) {
	var want map[string]string
	prepare := func(f *Folder) error {
		whole, m := filled(t)
		if err := os.Remove(f.path); err != nil {
			return err
		}
		if err := os.Rename(whole.path, f.path); err != nil {
			return err
		}
		if err := f.WriteManifest(m); err != nil {
			return err
		}
		putForeign(t, f)
		_, want = second(t, f)
		for _, name := range foreign {
			want[name] = "mine"
		}
		return nil
	}
	eachFault(t, true, prepare, (*Folder).Settle, func(f *Folder, k int, _ error) {
		if err := Settle(files.Disk{}, f.path); err != nil {
			t.Fatalf("stopped at operation %d, Settle again says %v", k, err)
		}
		if got := tree(t, f.path); !maps.Equal(got, want) {
			t.Errorf("stopped at operation %d: %v, want %v", k, slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)))
		}
		if err := Verify(f.path); err != nil {
			t.Errorf("stopped at operation %d: %v", k, err)
		}
	})
}

// What is not finished beside a result changes nothing of it, and goes on only for the same
// study.
func TestUnfinishedNextIsNoResult(t *testing.T) {
	f, _ := filled(t)
	want := tree(t, f.path)
	next, err := f.Next(func(*Manifest) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	if err := next.WriteManifest(manifest()); err != nil {
		t.Fatal(err)
	}
	if err := Settle(files.Disk{}, f.path); err != nil {
		t.Fatal(err)
	}
	for _, same := range []bool{true, false} {
		if next, err = f.Next(func(*Manifest) bool { return same }); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(next.Path(manifestName)); (err == nil) != same {
			t.Errorf("same study %t: the manifest made before is there: %v", same, err)
		}
	}
	if got := tree(t, f.path); !reflect.DeepEqual(got, want) {
		t.Errorf("files %v, want %v", slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)))
	}
}

// Whatever stands in the way is said before anything is made.
func TestInTheWay(t *testing.T) {
	for _, c := range []struct {
		name string
		put  func(path string) error
	}{
		{"curves.parquet", func(path string) error { return os.Mkdir(path, 0o777) }},
		{"samples", func(path string) error { return os.Symlink(os.TempDir(), path) }},
		{"samples/0000", func(path string) error { return os.Symlink(os.TempDir(), path) }},
		{"samples/0001", func(path string) error { return os.WriteFile(path, nil, 0o666) }},
		{"samples/0000/slice-00000000.parquet", func(path string) error { return os.MkdirAll(filepath.Join(path, "a"), 0o777) }},
		{"samples/0000/slice-00000007.parquet", func(path string) error { return os.Symlink(os.TempDir(), path) }},
		{"given/new.csv", func(path string) error { return os.WriteFile(path, nil, 0o666) }},
	} {
		f, _ := filled(t)
		if err := os.RemoveAll(f.Path(c.name)); err != nil {
			t.Fatal(err)
		}
		if err := c.put(f.Path(c.name)); err != nil {
			t.Fatal(err)
		}
		err := f.InTheWay([]string{StudyFile, "given/new.csv"})
		if err == nil || !strings.Contains(err.Error(), f.Path(c.name)) || !strings.Contains(err.Error(), "move it elsewhere") {
			t.Errorf("%s in the way: %v", c.name, err)
		}
	}
}

// What stands beside slices at names of nobody's is left alone, links and folders too.
func TestNotInTheWay(t *testing.T) {
	f, _ := filled(t)
	for _, name := range []string{"samples/mine", "samples/0000/notes", "work-of-mine"} {
		if err := os.MkdirAll(f.Path(name+"/slice-00000000.parquet"), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(os.TempDir(), f.Path(name+"-link")); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.InTheWay([]string{StudyFile}); err != nil {
		t.Error(err)
	}
}

func TestTidyLeavesWhatIsWhole(t *testing.T) {
	f, _ := filled(t)
	want := tree(t, f.path)
	for _, name := range []string{temporary + "1", "samples/0000/" + temporary + "2"} {
		if err := os.WriteFile(f.Path(name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.Tidy(); err != nil {
		t.Fatal(err)
	}
	if got := tree(t, f.path); !reflect.DeepEqual(got, want) {
		t.Errorf("left %v", slices.Sorted(maps.Keys(got)))
	}
}

func TestLock(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "deep", "result")
	lock, err := LockFolder(folder)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := LockFolder(folder); err == nil || !strings.Contains(err.Error(), "another run is writing to it (process ") {
		t.Errorf("a second lock: %v", err)
	}
	lock.Release()
	host, _ := os.Hostname()
	for _, c := range []struct{ text, err string }{
		{`{"host":"` + host + `","boot":"another","pid":1,"since":"2026-01-02T03:04:05Z"}`, ""}, // before the system was started anew
		{`{"host":"` + host + `","pid":4194303,"since":"2026-01-02T03:04:05Z"}`, ""},
		{`{"host":`, ""}, // killed while it wrote
		{`{"host":"far","pid":12,"since":"2026-01-02T03:04:05Z"}`, "a run on the host far is writing to it (process 12"},
	} {
		if err := os.WriteFile(filepath.Join(folder, lockName), []byte(c.text), 0o666); err != nil {
			t.Fatal(err)
		}
		lock, err := LockFolder(folder)
		if (err == nil) != (c.err == "") || err != nil && !(strings.Contains(err.Error(), c.err) && strings.Contains(err.Error(), "remove "+filepath.Join(folder, lockName))) {
			t.Errorf("%s: %v", c.text, err)
		}
		if err == nil {
			lock.Release()
		}
	}
}

// However often it is taken and released, one holds it at a time.
func TestLockIsHeldByOne(t *testing.T) {
	folder := t.TempDir()
	inside := make(chan bool, 1)
	done := make(chan int)
	for range 4 {
		go func() {
			got := 0
			for range 300 {
				lock, err := LockFolder(folder)
				if err != nil {
					continue
				}
				select {
				case inside <- true:
				default:
					t.Error("two hold the lock")
				}
				<-inside
				lock.Release()
				got++
			}
			done <- got
		}()
	}
	taken := 0
	for range 4 {
		taken += <-done
	}
	if taken == 0 {
		t.Error("nobody got it")
	}
	if entries, _ := os.ReadDir(folder); len(entries) > 0 {
		t.Errorf("left %v", entries)
	}
}

func TestLockOfAFolderThatCannotBe(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(file, "below")
	if _, err := LockFolder(folder); err == nil || err.Error() != folder+" cannot be written to: not a directory" {
		t.Errorf("error %v", err)
	}
}
