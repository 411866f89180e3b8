//go:build unix

package result

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// What stands at the lock's name and is no file is refused at once: a pipe is not waited for, and what a link leads to is
// left as it is.
func TestLockIsAFile(t *testing.T) {
	victim := filepath.Join(t.TempDir(), "victim")
	if err := os.WriteFile(victim, []byte("precious"), 0o666); err != nil {
		t.Fatal(err)
	}
	for name, put := range map[string]func(path string) error{
		"pipe":          func(path string) error { return syscall.Mkfifo(path, 0o600) },
		"folder":        func(path string) error { return os.Mkdir(path, 0o777) },
		"link":          func(path string) error { return os.Symlink(victim, path) },
		"dangling link": func(path string) error { return os.Symlink("nowhere", path) },
	} {
		folder := t.TempDir()
		if err := put(filepath.Join(folder, lockName)); err != nil {
			t.Fatal(err)
		}
		done := make(chan error, 1)
		go func() { _, err := LockFolder(folder); done <- err }()
		select {
		case err := <-done:
			if err == nil || !strings.Contains(err.Error(), "is in the way") {
				t.Errorf("%s: error %v", name, err)
			}
		case <-time.After(time.Minute):
			t.Fatalf("%s: waited for", name)
		}
		if _, err := os.Stat(filepath.Join(folder, "nowhere")); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s: what the link leads to was made", name)
		}
	}
	if text, err := os.ReadFile(victim); err != nil || string(text) != "precious" {
		t.Errorf("the link's target holds %q, %v", text, err)
	}
}
