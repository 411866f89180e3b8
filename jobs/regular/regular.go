// Package regular opens files that a program is pointed at by a name: regular ones and links to them, nothing else. A pipe
// that nobody writes to, a device or a socket is refused at once instead of being waited for, and nothing is read without a
// bound. It is the one way in which the program opens a file to read it.
package regular

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"syscall"
)

// Error says in plain words what is wrong with a file: Error() is "PATH: WHAT". It unwraps to what the system said, such as
// fs.ErrNotExist.
type Error struct {
	Path, What string
	Err        error // nil where the system had nothing to object to
}

func (e *Error) Error() string { return e.Path + ": " + e.What }
func (e *Error) Unwrap() error { return e.Err }

// Open opens a regular file, or a link to one, for reading and returns its size. It never waits: what a name stands for is
// looked at before it is opened, since opening alone may wait (a pipe) or act (a device), and again once it is open, since it
// may have been exchanged in between.
func Open(path string) (*os.File, int64, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, 0, explain(path, err)
	}
	if err := check(path, info); err != nil {
		return nil, 0, err
	}
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, 0, explain(path, err)
	}
	if info, err = f.Stat(); err == nil {
		err = check(path, info)
	}
	if err != nil {
		_ = f.Close()
		return nil, 0, err
	}
	return f, info.Size(), nil
}

// Read returns the content of a file of at most that many bytes.
func Read(path string, most int64) ([]byte, error) {
	f, size, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if size > most {
		return nil, &Error{Path: path, What: fmt.Sprintf("has %d bytes, at most %d are read", size, most)}
	}
	var data bytes.Buffer
	data.Grow(int(size) + bytes.MinRead) // else the buffer doubles at the end
	n, err := data.ReadFrom(io.LimitReader(f, most+1))
	switch {
	case err != nil:
		return nil, explain(path, err)
	case n > most:
		return nil, &Error{Path: path, What: fmt.Sprintf("has more than %d bytes, which is all that is read", most)}
	}
	return data.Bytes(), nil
}

func check(path string, info fs.FileInfo) error {
	what := ""
	switch mode := info.Mode(); {
	case mode.IsRegular():
		return nil
	case mode.IsDir():
		what = "is a folder, not a file"
	case mode&fs.ModeNamedPipe != 0:
		what = "is a pipe, not a regular file"
	case mode&fs.ModeSocket != 0:
		what = "is a socket, not a regular file"
	case mode&fs.ModeDevice != 0:
		what = "is a device, not a regular file"
	default:
		what = "is not a regular file"
	}
	return &Error{Path: path, What: what}
}

// explain puts what the system said into plain words.
func explain(path string, err error) error {
	what := ""
	switch {
	case errors.Is(err, fs.ErrNotExist):
		what = "there is no such file"
		if to, linkErr := os.Readlink(path); linkErr == nil {
			what = fmt.Sprintf("is a link to %q, which does not exist", to)
		}
	case errors.Is(err, fs.ErrPermission):
		what = "may not be read (permission denied)"
	case errors.Is(err, syscall.ELOOP):
		what = "is a link that leads round in a circle"
	case errors.Is(err, syscall.ENAMETOOLONG):
		what = "the name is too long"
	case strings.ContainsRune(path, 0):
		what = "the name holds a zero byte"
	default:
		what = "cannot be read"
		if system := errors.Unwrap(err); system != nil {
			what += ": " + system.Error()
		}
	}
	return &Error{Path: path, What: what, Err: err}
}
