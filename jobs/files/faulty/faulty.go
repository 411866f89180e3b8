// Package faulty is a disk whose operations fail when a test wants it.
package faulty

import (
	"errors"
	"sync"

	"proofmass/jobs/files"
)

// Err is what an operation that fails gives.
var Err = errors.New("injected fault")

// A Disk is the real one with a fault: operation number K (from 0) fails, and so do all
// later ones if it is then Dead. A failing write stores half of its bytes, as a full disk
// does; a file whose close fails is closed.
type Disk struct {
	files.Disk
	K    int
	Dead bool

	lock sync.Mutex
	log  []string
}

// Log are the operations so far, by their names.
func (d *Disk) Log() []string {
	d.lock.Lock()
	defer d.lock.Unlock()
	return d.log
}

func (d *Disk) fails(op string) bool {
	d.lock.Lock()
	defer d.lock.Unlock()
	n := len(d.log)
	d.log = append(d.log, op)
	return n == d.K || d.Dead && n > d.K
}

// Mkdir makes a folder, or fails.
func (d *Disk) Mkdir(path string) error {
	if d.fails("mkdir") {
		return Err
	}
	return d.Disk.Mkdir(path)
}

// Rename renames a file, or fails.
func (d *Disk) Rename(from, to string) error {
	if d.fails("rename") {
		return Err
	}
	return d.Disk.Rename(from, to)
}

// Remove removes a file, or fails.
func (d *Disk) Remove(path string) error {
	if d.fails("remove") {
		return Err
	}
	return d.Disk.Remove(path)
}

// SyncFolder flushes a folder, or fails.
func (d *Disk) SyncFolder(path string) error {
	if d.fails("sync folder") {
		return Err
	}
	return d.Disk.SyncFolder(path)
}

// Create makes a file, or fails.
func (d *Disk) Create(path string) (files.File, error) {
	if d.fails("create") {
		return nil, Err
	}
	f, err := d.Disk.Create(path)
	return file{f, d}, err
}

type file struct {
	files.File
	disk *Disk
}

func (f file) Write(p []byte) (int, error) {
	if f.disk.fails("write") {
		n, _ := f.File.Write(p[:len(p)/2])
		return n, Err
	}
	return f.File.Write(p)
}

func (f file) Sync() error {
	if f.disk.fails("sync") {
		return Err
	}
	return f.File.Sync()
}

func (f file) Close() error {
	err := f.File.Close()
	if f.disk.fails("close") {
		return Err
	}
	return err
}
