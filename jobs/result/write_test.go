package result

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"proofmass/jobs/files"
	"proofmass/jobs/files/faulty"
)

// eachFault runs action on a new folder with operation 0, then 1, ... failing, until it succeeds, and hands every outcome to
// check.
func eachFault(t *testing.T, dead bool, prepare, action func(f *Folder) error, check func(f *Folder, k int, err error)) *faulty.Disk {
	t.Helper()
	for k := range 200 {
		f := newFolder(t)
		if err := prepare(f); err != nil {
			t.Fatal(err)
		}
		fs := &faulty.Disk{K: k, Dead: dead}
		f.fs = fs
		err := action(f)
		f.fs = files.Disk{}
		if len(fs.Log()) > k && err == nil || err != nil && !errors.Is(err, faulty.Err) {
			t.Fatalf("operation %d of %v failed, error %v", k, fs.Log(), err)
		}
		check(f, k, err)
		if err == nil {
			return fs
		}
	}
	t.Fatal("no run without a fault in 200")
	return nil
}

func leftovers(t *testing.T, folder string) (temporary, others []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if files.IsTemporary(e.Name()) {
			temporary = append(temporary, e.Name())
		} else {
			others = append(others, e.Name())
		}
	}
	return temporary, others
}

// A table is there whole or not at all, whichever operation fails, whether it replaces an older one or not; a temporary file
// stays only where the disk is dead for its removal too.
func TestTableIsWholeOrNot(t *testing.T) {
	older := &Table{Columns: []Column{{Name: "a", Floats: []float64{1}}}, Meta: map[string]string{}}
	for _, dead := range []bool{false, true} {
		for _, replaces := range []bool{false, true} {
			prepare := func(f *Folder) error {
				if !replaces {
					return nil
				}
				_, err := f.WriteTable(SummaryTable, older)
				return err
			}
			action := func(f *Folder) error { _, err := f.WriteTable(SummaryTable, sample()); return err }
			fs := eachFault(t, dead, prepare, action, func(f *Folder, k int, err error) {
				got, readErr := ReadTable(f.Path(SummaryTable))
				switch {
				case readErr == nil && (got.Rows() == 19 || replaces && got.Rows() == 1 && err != nil):
				case errors.Is(readErr, os.ErrNotExist) && !replaces && err != nil:
				default:
					t.Errorf("dead %t, replaces %t, operation %d: read error %v after %v", dead, replaces, k, readErr, err)
				}
				if temporary, _ := leftovers(t, f.path); len(temporary) > 0 && !dead {
					t.Errorf("operation %d left %v", k, temporary)
				}
			})
			if want := []string{"create", "write", "sync", "close", "rename", "sync folder"}; !reflect.DeepEqual(fs.Log(), want) {
				t.Errorf("operations %v, want %v", fs.Log(), want)
			}
		}
	}
}

func TestSliceIsWholeOrNot(t *testing.T) {
	w, name := newSlices(t, 2), SliceName(SampleKind, 1, 0)
	action := func(f *Folder) error {
		_, err := w.Write(f, name, &Slice{Columns: values(2, 0, 10)})
		return err
	}
	none := func(*Folder) error { return nil }
	fs := eachFault(t, true, none, action, func(f *Folder, k int, err error) {
		got, readErr := ReadTable(f.Path(name))
		if readErr == nil && got.Rows() != 10 || readErr != nil && (!errors.Is(readErr, os.ErrNotExist) || err == nil) {
			t.Errorf("operation %d: read error %v after %v", k, readErr, err)
		}
		if err := action(f); err != nil {
			t.Errorf("operation %d: a second try fails: %v", k, err)
		}
	})
	want := "mkdir sync folder mkdir sync folder create write sync close rename sync folder"
	if got := strings.Join(fs.Log(), " "); got != want {
		t.Errorf("operations %s, want %s", got, want)
	}
}

func TestWriteWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.txt")
	for i := range 2 {
		text := fmt.Sprintf("version %d", i)
		if err := files.WriteWhole(files.Disk{}, path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != text {
			t.Errorf("read %q, %v", got, err)
		}
	}
	if err := files.WriteWhole(files.Disk{}, filepath.Join(path, "b"), nil); err == nil || !strings.Contains(err.Error(), "cannot write") {
		t.Errorf("into a file as folder: error %v", err)
	}
	if temporary, others := leftovers(t, filepath.Dir(path)); len(temporary) > 0 || len(others) != 1 {
		t.Errorf("left %v %v", temporary, others)
	}
}
