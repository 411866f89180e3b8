//go:build unix

package regular

import (
	"errors"
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// A pipe that nobody writes to is refused at once, also through a link; so is a socket.
func TestOpenDoesNotWait(t *testing.T) {
	folder := t.TempDir()
	pipe, link, socket := filepath.Join(folder, "pipe"), filepath.Join(folder, "link"), filepath.Join(folder, "s")
	if err := errors.Join(syscall.Mkfifo(pipe, 0o600), os.Symlink("pipe", link)); err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	for path, want := range map[string]string{
		pipe:   pipe + ": is a pipe, not a regular file",
		link:   link + ": is a pipe, not a regular file",
		socket: socket + ": is a socket, not a regular file",
	} {
		done := make(chan error, 1)
		go func() { _, _, err := Open(path); done <- err }()
		select {
		case err := <-done:
			if err == nil || err.Error() != want {
				t.Errorf("%s: error %v", path, err)
			}
		case <-time.After(time.Minute):
			t.Fatalf("%s is waited for", path)
		}
	}
}

// What was exchanged for a pipe after it was looked at is opened without waiting, and refused.
func TestOpenedPipeIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x")
	stop := make(chan struct{})
	done := make(chan struct{})
	go func() {
		defer close(done)
		for {
			select {
			case <-stop:
				return
			default:
			}
			_ = os.WriteFile(path+"-file", nil, 0o600)
			_ = os.Rename(path+"-file", path)
			_ = syscall.Mkfifo(path+"-pipe", 0o600)
			_ = os.Rename(path+"-pipe", path)
		}
	}()
	for range 2000 {
		if f, _, err := Open(path); err == nil {
			info, err := f.Stat()
			if err != nil || !info.Mode().IsRegular() {
				t.Errorf("%v, %v", info, err)
			}
			_ = f.Close()
		}
	}
	close(stop)
	<-done
}
