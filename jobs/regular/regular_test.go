package regular

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestRead(t *testing.T) {
	folder := t.TempDir()
	path, link := filepath.Join(folder, "a"), filepath.Join(folder, "link")
	if err := errors.Join(os.WriteFile(path, []byte("text"), 0o666), os.Symlink("a", link)); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{path, link} {
		if data, err := Read(name, 4); err != nil || string(data) != "text" {
			t.Errorf("%s: %q, %v", name, data, err)
		}
		if _, err := Read(name, 3); err == nil || err.Error() != name+": has 4 bytes, at most 3 are read" {
			t.Errorf("%s: error %v", name, err)
		}
		f, size, err := Open(name)
		if err != nil || size != 4 {
			t.Fatalf("%s: %d bytes, %v", name, size, err)
		}
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	folder := t.TempDir()
	name := func(s string) string { return filepath.Join(folder, s) }
	err := errors.Join(os.Symlink("nowhere", name("dangling")), os.Symlink("round", name("round")), os.WriteFile(name("file"), nil, 0o666))
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		name("none"):                   "there is no such file",
		name("dangling"):               `is a link to "nowhere", which does not exist`,
		name("round"):                  "is a link that leads round in a circle",
		folder:                         "is a folder, not a file",
		os.DevNull:                     "is a device, not a regular file",
		name(strings.Repeat("x", 300)): "the name is too long",
		name("a\x00b"):                 "the name holds a zero byte",
		filepath.Join(name("file"), "below a file"): "cannot be read: not a directory",
	} {
		_, _, err := Open(path)
		if e := new(Error); !errors.As(err, &e) || e.What != want || e.Path != path {
			t.Errorf("%s: error %v, want %s", path, err, want)
		}
	}
	if _, _, err := Open(name("none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v is no fs.ErrNotExist", err)
	}
}
