package result

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"proofmass/jobs/files"
)

// A Lock keeps a second program from writing to a result folder. It is a file in the
// folder that says who holds it, and the operating system's own lock on that file,
// which ends with its process: so one left by a dead process of this host is taken over.
type Lock struct {
	path string
	file *os.File
	fs   files.System
}

const lockName = ".proofmass-lock"

// holder is what the file says.
type holder struct {
	Host  string    `json:"host"`
	Boot  string    `json:"boot,omitempty"` // the system's own name for the time since it was started
	PID   int       `json:"pid"`
	Since time.Time `json:"since"`
}

func self() holder {
	host, boot := Here()
	return holder{host, boot, os.Getpid(), time.Now().UTC().Truncate(time.Second)}
}

// Here names this host, and the time since it was started where the system names that.
func Here() (host, boot string) {
	host, _ = os.Hostname()
	id, _ := os.ReadFile("/proc/sys/kernel/random/boot_id") // Linux; elsewhere the lock of the file is all there is
	return host, strings.TrimSpace(string(id))
}

// Gone reports whether a process is one of this host, since it was started last, that runs no more. Of another host's it knows
// nothing.
func Gone(host, boot string, pid int) bool {
	here, now := Here()
	return host == here && boot == now && !alive(pid)
}

// LockFolder takes the lock of a folder, making the folder if need be. A lock that another
// process holds is an error that says whose it is and what can be done.
func LockFolder(folder string) (*Lock, error) { return LockOn(files.Disk{}, folder) }

// LockOn is LockFolder with whatever changes the disk.
func LockOn(system files.System, folder string) (*Lock, error) {
	if err := files.EnsureFolder(system, folder); err != nil {
		return nil, unwritable(folder, err)
	}
	l := &Lock{path: filepath.Join(folder, lockName), fs: system}
	for {
		// A pipe would be waited for, and a link would have its target overwritten.
		if info, err := os.Lstat(l.path); err == nil && !info.Mode().IsRegular() {
			return nil, fmt.Errorf("%s is in the way: it is no lock of this program; remove it", l.path)
		}
		var err error
		if l.file, err = os.OpenFile(l.path, os.O_RDWR|os.O_CREATE, 0o666); err != nil {
			return nil, unwritable(folder, err)
		}
		if err = l.take(folder); err == nil {
			return l, nil
		}
		_ = l.file.Close()
		if !errors.Is(err, errLockGone) {
			return nil, err
		}
	}
}

// errLockGone: the file was removed by its holder between opening and locking it.
var errLockGone = errors.New("the lock was released meanwhile")

// take locks the file that is open and writes who holds it.
func (l *Lock) take(folder string) error {
	locked := lockFile(l.file)
	if locked == nil && !l.stillThere() {
		return errLockGone
	}
	other, known := heldBy(l.file)
	if err := held(folder, locked, other, known); err != nil {
		return err
	}
	data, err := json.Marshal(self())
	if err == nil {
		err = l.file.Truncate(0)
	}
	if err == nil {
		_, err = l.file.WriteAt(append(data, '\n'), 0)
	}
	if err != nil {
		_ = os.Remove(l.path) // it is ours and says nothing
		return unwritable(folder, err)
	}
	return nil
}

// heldBy reads who holds a lock.
func heldBy(f *os.File) (other holder, known bool) {
	text, err := io.ReadAll(io.LimitReader(f, 4096))
	return other, err == nil && json.Unmarshal(text, &other) == nil && other.PID > 0
}

// held is an error where the lock is another's: the system says so, or it is that of another
// host, or the file system knows no locks and its process is alive.
func held(folder string, locked error, other holder, known bool) error {
	me := self()
	switch {
	case errors.Is(locked, errHeld), known && other.Host != me.Host, known && locked != nil && other.Boot == me.Boot && alive(other.PID):
		return busy(folder, other, known, me.Host)
	}
	return nil
}

// unwritable says why nothing can be written to a folder, without the system's call.
func unwritable(folder string, err error) error {
	if call := new(fs.PathError); errors.As(err, &call) {
		err = call.Err
	}
	return fmt.Errorf("%s cannot be written to: %w", folder, err)
}

// stillThere reports whether the path still names the file that is open.
func (l *Lock) stillThere() bool {
	open, err := l.file.Stat()
	if err != nil {
		return false
	}
	named, err := os.Lstat(l.path)
	return err == nil && os.SameFile(open, named)
}

func busy(folder string, other holder, known bool, host string) error {
	if !known {
		return fmt.Errorf("%s: another run is writing to it; wait for its end, or give another folder", folder)
	}
	who := fmt.Sprintf("process %d, since %s", other.PID, other.Since.Local().Format("2 Jan 15:04:05"))
	if other.Host == host {
		return fmt.Errorf("%s: another run is writing to it (%s); wait for its end, or give another folder", folder, who)
	}
	return fmt.Errorf("%s: a run on the host %s is writing to it (%s); wait for its end, or give another folder; if that run is gone, remove %s and run again: what is done is kept",
		folder, other.Host, who, filepath.Join(folder, lockName))
}

// Busy is the error of LockFolder where another process holds the lock. It takes none.
func Busy(folder string) error {
	path := filepath.Join(folder, lockName)
	if info, err := os.Lstat(path); err != nil || !info.Mode().IsRegular() {
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil // it was given free
	}
	defer f.Close()
	locked := shareFile(f)
	other, known := heldBy(f)
	return held(folder, locked, other, known)
}

// Folder is the folder that is locked, whatever it holds.
func (l *Lock) Folder() *Folder { return &Folder{path: filepath.Dir(l.path), fs: l.fs} }

// Release gives the folder free.
func (l *Lock) Release() {
	_ = os.Remove(l.path) // before the lock ends, so that nobody's new lock is removed
	_ = l.file.Close()
}
