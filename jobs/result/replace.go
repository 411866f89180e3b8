package result

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"proofmass/jobs/files"
)

// nextFolder is where a result is made that is to replace another: inside its folder, so
// that nothing is written elsewhere and every file of it can be renamed into place.
const nextFolder = ".proofmass-next"

// Next returns the folder in which the result that replaces the one at f is made: with what
// an earlier run for the same study left there, else empty.
func (f *Folder) Next(same func(*Manifest) bool) (*Folder, error) {
	next := &Folder{path: f.Path(nextFolder), fs: f.fs}
	if state, m, _ := Inspect(next.path); state == Partial && same(m) {
		return next, nil
	}
	if err := files.RemoveAll(f.fs, next.path); err != nil {
		return nil, err
	}
	return next, files.EnsureFolder(f.fs, next.path)
}

// InTheWay looks for what is somebody else's where a file or a folder of a new result goes,
// which is an error. given are the files that the result will hold beside its tables.
func (f *Folder) InTheWay(given []string) error {
	old, _ := ReadManifest(f.path) // of a damaged one nothing is known
	for _, name := range []string{samplesFolder, workFolder, givenFolder} {
		if info, err := os.Lstat(f.Path(name)); err == nil && !info.IsDir() {
			return f.notFolder(name)
		}
	}
	for _, name := range slices.Concat(given, tables()) {
		info, err := os.Lstat(f.Path(name))
		if err != nil {
			continue
		}
		if info.IsDir() {
			return f.notFile(name)
		}
		if _, listed := old.given()[name]; old != nil && !listed && name != StudyFile && !isTable(name) {
			return fmt.Errorf("%s is in the way: it is none of the result's files, and the new result has one of that name; move it elsewhere", f.Path(name))
		}
	}
	if err := f.amongSlices(samplesFolder); err != nil {
		return err
	}
	return f.amongSlices(workFolder)
}

// amongSlices looks for folders and links at the names of slices, and for what is no folder at
// the names of theirs. It names the first.
func (f *Folder) amongSlices(top string) error {
	return fs.WalkDir(os.DirFS(f.path), top, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return nil // nothing is there, or what is wrong is said when it is written to
		case isOurFolder(name) && !e.IsDir():
			return f.notFolder(name)
		case isOurs(name, nil) && !e.Type().IsRegular():
			return f.notFile(name)
		case e.IsDir() && !isOurFolder(name):
			return fs.SkipDir
		}
		return nil
	})
}

func (f *Folder) notFolder(name string) error {
	return fmt.Errorf("%s is in the way: a result has a folder of that name; move it elsewhere", f.Path(name))
}

func (f *Folder) notFile(name string) error {
	return fmt.Errorf("%s is in the way: a result has a file of that name; move it elsewhere", f.Path(name))
}

// GoesOn reports whether what stands beside a result can be gone on with; f is as Next gave it.
func (f *Folder) GoesOn() bool {
	state, _, _ := Inspect(f.path)
	return state == Partial
}

// Discard removes what was made beside a result; f is as Next gave it.
func (f *Folder) Discard() error { return files.RemoveAll(f.fs, f.path) }

func (m *Manifest) given() map[string]Digest {
	if m == nil {
		return nil
	}
	return m.Given
}

// Settle puts a finished result that was made beside another into its place, also one whose
// run was ended while it did so. Until the last step, the rename of the manifest, the new
// result's files stand in one of the two places and Settle, called again, goes on.
func (f *Folder) Settle() error {
	next := &Folder{path: f.Path(nextFolder), fs: f.fs}
	m, err := ReadManifest(next.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return files.RemoveAll(f.fs, next.path) // what is left of a swap that was done
	case err != nil:
		return err
	case !m.Finished:
		return nil
	}
	if err := f.loadSlices(m, next); err != nil {
		return err
	}
	old, _ := ReadManifest(f.path)
	kept := map[string]bool{}
	for _, file := range m.files() {
		kept[file.name] = true
		if err := f.take(next, file.name); err != nil {
			return fmt.Errorf("the new result is whole, but cannot be put in place of the old one: %w", err)
		}
	}
	if err := f.dropUnless(kept, old); err != nil {
		return err
	}
	if err := f.fs.Rename(next.Path(manifestName), f.Path(manifestName)); err != nil {
		return err
	}
	if err := f.fs.SyncFolder(f.path); err != nil {
		return err
	}
	return files.RemoveAll(f.fs, next.path)
}

// Tidy removes what a run that was killed left half written.
func (f *Folder) Tidy() error {
	for _, name := range f.ours(nil) {
		if files.IsTemporary(path.Base(name)) {
			if err := f.remove(name); err != nil {
				return err
			}
		}
	}
	return nil
}

// take renames a file of the next result into its place, unless that is done.
func (f *Folder) take(next *Folder, name string) error {
	if _, err := os.Lstat(next.Path(name)); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	folder := filepath.Dir(f.Path(name))
	if err := files.EnsureFolder(f.fs, folder); err != nil {
		return err
	}
	if err := f.fs.Rename(next.Path(name), f.Path(name)); err != nil {
		return err
	}
	return nil
}

// dropUnless removes the files of the old result that the new one does not have, and folders
// that are empty then. All folders are flushed.
func (f *Folder) dropUnless(kept map[string]bool, old *Manifest) error {
	for _, name := range f.ours(old) {
		if !kept[name] {
			if err := f.remove(name); err != nil {
				return err
			}
		}
	}
	folders := map[string]bool{}
	for name := range kept {
		folders[path.Dir(name)] = true
	}
	for _, folder := range slices.Sorted(maps.Keys(folders)) {
		if err := f.fs.SyncFolder(f.Path(folder)); err != nil {
			return err
		}
	}
	return nil
}

// Settle puts a finished result in its place where a run was ended before it had done so
// wholly. Mostly there is nothing to do.
func Settle(system files.System, folder string) error {
	if !hasNext(folder) {
		return nil
	}
	lock, err := LockOn(system, folder)
	if err != nil {
		return err
	}
	defer lock.Release()
	return lock.Folder().Settle()
}

// hasNext reports whether a finished result waits to be put in its place.
func hasNext(folder string) bool {
	m, err := ReadManifest(filepath.Join(folder, nextFolder))
	return err == nil && m.Finished
}

// Finish removes what a finished result no longer needs where a run was ended before it had
// done so wholly; instead: also what a run of another study has begun that was to replace this
// one, and is gone. Mostly there is nothing to do.
func Finish(system files.System, folder string, instead bool) error {
	m, err := ReadManifest(folder)
	if err != nil || !m.Finished {
		return err
	}
	f := &Folder{path: folder, fs: system}
	if !f.hasLeftovers(m, instead) {
		return nil
	}
	lock, err := LockOn(system, folder)
	if err != nil {
		return err
	}
	defer lock.Release()
	if err := errors.Join(f.Settle(), f.Tidy(), LoadSlices(folder, m)); err != nil {
		return err
	}
	if instead {
		if err := files.RemoveAll(f.fs, f.Path(nextFolder)); err != nil {
			return err
		}
	}
	return f.DropUnlisted(m)
}

func (f *Folder) hasLeftovers(m *Manifest, instead bool) bool {
	if Busy(f.path) != nil {
		return false // whoever writes there tidies
	}
	entries, _ := os.ReadDir(f.path)
	for _, e := range entries {
		switch name := e.Name(); {
		case name == workFolder, name == lockName, files.IsTemporary(name):
			return true
		case name == samplesFolder && !slices.ContainsFunc(m.Rounds, func(r Round) bool { return r.List != nil }):
			return true
		case name == nextFolder:
			if _, err := ReadManifest(f.Path(name)); instead || errors.Is(err, fs.ErrNotExist) { // another study's run may go on there
				return true
			}
		}
	}
	return false
}

// DropUnlisted removes parts and files of the sample that a finished manifest does not list.
func (f *Folder) DropUnlisted(m *Manifest) error {
	kept := map[string]bool{}
	for _, file := range m.files() {
		kept[file.name] = true
	}
	for _, name := range f.ours(m) {
		top, _, _ := strings.Cut(name, "/")
		if (top == samplesFolder || top == workFolder) && !kept[name] {
			if err := f.remove(name); err != nil {
				return err
			}
		}
	}
	return nil
}
