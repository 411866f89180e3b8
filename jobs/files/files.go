// Package files makes every change of the program to a disk. A file is written under a
// temporary name, flushed, renamed, and its folder flushed: so it is there whole or not at
// all, after a kill and after a power cut. It imports nothing of the program.
package files

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// A System is what can be done to a disk, so that a test can let each of it fail. Many
// goroutines may use one.
type System interface {
	Mkdir(path string) error
	Create(path string) (File, error) // must not exist yet
	Rename(from, to string) error
	Remove(path string) error // a file, or an empty folder
	SyncFolder(path string) error
}

// A File is one that is being written.
type File interface {
	io.Writer
	Sync() error
	Close() error
}

// ErrWrite marks the error of a file that could not be written.
var ErrWrite = errors.New("cannot write")

const temporaryPrefix = ".proofmass-tmp-"

// IsTemporary reports whether a name is one that a file has while it is written. One that
// was left so is nobody's.
func IsTemporary(name string) bool { return strings.HasPrefix(name, temporaryPrefix) }

// A Pending file stands under its temporary name, written and still open.
type Pending struct {
	system    System
	file      File
	temporary string
	path      string
}

// Begin writes a file under a temporary name beside path.
func Begin(system System, path string, data []byte) (*Pending, error) {
	p := &Pending{system: system, path: path, temporary: filepath.Join(filepath.Dir(path), fmt.Sprintf("%s%016x", temporaryPrefix, rand.Uint64()))}
	var err error
	if p.file, err = system.Create(p.temporary); err != nil {
		return nil, p.failed(err)
	}
	if _, err = p.file.Write(data); err != nil {
		p.Drop()
		return nil, p.failed(err)
	}
	return p, nil
}

// failed leaves out the name of a temporary file and of the system's call.
func (p *Pending) failed(err error) error {
	if call := new(os.PathError); errors.As(err, &call) {
		err = call.Err
	}
	if link := new(os.LinkError); errors.As(err, &link) {
		err = link.Err
	}
	return fmt.Errorf("%w %s: %w", ErrWrite, p.path, err)
}

// Drop removes the temporary file, unless that fails too: such a leftover is ignored and
// cleared later.
func (p *Pending) Drop() {
	_ = p.file.Close()
	_ = p.system.Remove(p.temporary)
}

// Write writes more of the file.
func (p *Pending) Write(data []byte) (int, error) {
	n, err := p.file.Write(data)
	if err != nil {
		err = p.failed(err)
	}
	return n, err
}

// Commit flushes the file, gives it its name, and flushes the folder.
func (p *Pending) Commit() error {
	if err := p.file.Sync(); err != nil {
		p.Drop()
		return p.failed(err)
	}
	if err := p.Show(); err != nil {
		return err
	}
	if err := p.system.SyncFolder(filepath.Dir(p.path)); err != nil {
		return fmt.Errorf("cannot flush the folder of %s: %w", p.path, err)
	}
	return nil
}

// Show gives the file its name and flushes nothing: a kill loses nothing of it, a power cut
// may leave it broken. Only for what carries its digest and can be made again.
func (p *Pending) Show() error {
	err := p.file.Close()
	if err == nil {
		err = p.system.Rename(p.temporary, p.path)
	}
	if err != nil {
		_ = p.system.Remove(p.temporary)
		return p.failed(err)
	}
	return nil
}

// WriteWhole writes a file that appears whole or not at all, and is flushed to the disk.
func WriteWhole(system System, path string, data []byte) error {
	p, err := Begin(system, path, data)
	if err != nil {
		return err
	}
	return p.Commit()
}

// EnsureFolder makes the folder and those above it, each flushed into its parent.
func EnsureFolder(system System, path string) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return nil
	case err == nil:
		return fmt.Errorf("%s is not a folder", path)
	case !errors.Is(err, os.ErrNotExist):
		return err
	}
	parent := filepath.Dir(path)
	if err := EnsureFolder(system, parent); err != nil {
		return err
	}
	if err := system.Mkdir(path); err != nil && !errors.Is(err, os.ErrExist) {
		return err
	}
	return system.SyncFolder(parent)
}

// RemoveAll removes a file, or a folder with all that is in it; one that is not there is
// no error. Symbolic links are not followed.
func RemoveAll(system System, path string) error {
	entries, err := os.ReadDir(path)
	if err != nil && !errors.Is(err, os.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR) {
		return err
	}
	if info, err := os.Lstat(path); errors.Is(err, os.ErrNotExist) {
		return nil
	} else if err == nil && info.Mode()&os.ModeSymlink != 0 {
		entries = nil
	}
	for _, e := range entries {
		if err := RemoveAll(system, filepath.Join(path, e.Name())); err != nil {
			return err
		}
	}
	if err := system.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return nil
}

// Disk is the real file system.
type Disk struct{}

// Mkdir makes a folder.
func (Disk) Mkdir(path string) error { return os.Mkdir(path, 0o777) }

// Rename renames a file; one of the new name is replaced.
func (Disk) Rename(from, to string) error { return os.Rename(from, to) }

// Remove removes a file or an empty folder.
func (Disk) Remove(path string) error { return os.Remove(path) }

// Create makes a file that must not exist yet.
func (Disk) Create(path string) (File, error) {
	return os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
}

// SyncFolder flushes the names in a folder. Some network file systems cannot; there the
// rename itself is all that can be had.
func (Disk) SyncFolder(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	if closed := f.Close(); err == nil {
		err = closed
	}
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		return nil
	}
	return err
}
