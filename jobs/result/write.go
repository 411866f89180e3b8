package result

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// Digest is what a file's content must be.
type Digest struct {
	SHA256 string `json:"sha256"` // lower-case hexadecimal
	Bytes  int64  `json:"bytes"`
}

func digestOf(data []byte) Digest {
	sum := sha256.Sum256(data)
	return Digest{SHA256: hex.EncodeToString(sum[:]), Bytes: int64(len(data))}
}

// fileSystem is every change this package makes to a disk, so that a test can let each of them fail.
type fileSystem interface {
	Mkdir(path string) error
	Create(path string) (file, error) // must not exist yet
	Rename(from, to string) error
	Remove(path string) error
	SyncFolder(path string) error
}

type file interface {
	io.Writer
	Sync() error
	Close() error
}

const temporaryPrefix = ".proofmass-tmp-"

func isTemporary(name string) bool { return strings.HasPrefix(name, temporaryPrefix) }

// writeWhole writes a file that appears whole or not at all, and is flushed to the disk.
func writeWhole(fs fileSystem, path string, data []byte) error {
	if err := writeNamed(fs, path, data, true); err != nil {
		return err
	}
	if err := fs.SyncFolder(filepath.Dir(path)); err != nil {
		return fmt.Errorf("cannot flush the folder of %s: %w", path, err)
	}
	return nil
}

// writeNamed writes under another name first and renames.
func writeNamed(fs fileSystem, path string, data []byte, flush bool) error {
	folder := filepath.Dir(path)
	temporary := filepath.Join(folder, fmt.Sprintf("%s%016x", temporaryPrefix, rand.Uint64()))
	if err := writeFile(fs, temporary, data, flush); err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	if err := fs.Rename(temporary, path); err != nil {
		_ = fs.Remove(temporary)
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	return nil
}

func writeDigested(fs fileSystem, path string, data []byte) (Digest, error) {
	if err := writeWhole(fs, path, data); err != nil {
		return Digest{}, err
	}
	return digestOf(data), nil
}

// writeFile leaves nothing behind after an error, unless the removal fails too; such a leftover is ignored and cleared later.
func writeFile(fs fileSystem, path string, data []byte, flush bool) error {
	f, err := fs.Create(path)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil && flush {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		_ = fs.Remove(path)
	}
	return err
}

// ensureFolder makes the folder and those above it, each flushed into its parent.
func ensureFolder(fs fileSystem, path string) error {
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
	if err := ensureFolder(fs, parent); err != nil {
		return err
	}
	if err := fs.Mkdir(path); err != nil && !errors.Is(err, os.ErrExist) {
		return err
	}
	return fs.SyncFolder(parent)
}

// disk is the real file system.
type disk struct{}

func (disk) Mkdir(path string) error      { return os.Mkdir(path, 0o777) }
func (disk) Rename(from, to string) error { return os.Rename(from, to) }
func (disk) Remove(path string) error     { return os.Remove(path) }

func (disk) Create(path string) (file, error) {
	return os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
}

func (disk) SyncFolder(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	if closed := f.Close(); err == nil {
		err = closed
	}
	// Some network file systems cannot flush a folder; there the rename itself is all that can be had.
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		return nil
	}
	return err
}
