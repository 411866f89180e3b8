package result

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"proofmass/jobs/files"
	"proofmass/jobs/parquet"
)

// State is what a folder holds.
type State int

const (
	Empty      State = iota // it does not exist, or holds nothing but leftovers of our own
	Partial                 // a result that is not finished
	Finished                // a finished result
	Unreadable              // a result whose manifest is damaged, or of a version that this program does not know
	Foreign                 // anything else: refused, and never touched
)

func (s State) String() string {
	return [...]string{"empty", "partial", "finished", "unreadable", "foreign"}[s]
}

// Inspect says what a folder holds without changing it. The manifest is there for Partial and Finished; the error, which says
// what is in the way, exactly for Foreign: another file, a damaged manifest, or a folder that cannot be read. Beside a whole
// manifest other files may lie; they are left alone.
func Inspect(path string) (State, *Manifest, error) {
	entries, err := os.ReadDir(path)
	if errors.Is(err, os.ErrNotExist) {
		return Empty, nil, nil
	}
	if err != nil {
		return Foreign, nil, err
	}
	stranger := ""
	for _, e := range entries {
		switch {
		case e.Name() == manifestName:
			return inspectManifest(path)
		case stranger == "" && !isLeftover(e):
			stranger = e.Name()
		}
	}
	if stranger != "" {
		return Foreign, nil, fmt.Errorf("%s holds %s and no %s: it is no result folder, and is left alone", path, stranger, manifestName)
	}
	return Empty, nil, nil
}

// isLeftover reports whether an entry is one of ours that is no part of a result.
func isLeftover(e os.DirEntry) bool {
	if e.IsDir() {
		return e.Name() == nextFolder || e.Name() == LogFolder
	}
	return e.Type().IsRegular() && (files.IsTemporary(e.Name()) || e.Name() == lockName)
}

func inspectManifest(path string) (State, *Manifest, error) {
	m, err := ReadManifest(path)
	switch {
	case errors.Is(err, parquet.ErrDamaged) || errors.Is(err, errVersion):
		return Unreadable, nil, err
	case err != nil:
		return Foreign, nil, err
	case m.Finished:
		return Finished, m, nil
	}
	return Partial, m, nil
}

// Folder is a result folder that is written to. Its methods may be called by many goroutines for different files.
type Folder struct {
	path   string
	fs     files.System
	packed bool
}

// Pack says whether files of the sample are packed from now on; the tables, which are small, never are.
func (f *Folder) Pack(on bool) { f.packed = on }

// Create makes the folder for a new result, or takes over an empty one. The first thing to write is the manifest: it makes
// the folder ours.
func Create(path string) (*Folder, error) {
	state, m, err := Inspect(path)
	if err != nil {
		return nil, err
	}
	if state != Empty {
		return nil, fmt.Errorf("%s holds a %s result of study %s", path, state, m.Study)
	}
	f := &Folder{path: path, fs: files.Disk{}}
	return f, files.EnsureFolder(f.fs, path)
}

// Make makes the folder, if it is not there, whatever it holds: who calls it has looked.
func Make(system files.System, path string) (*Folder, error) {
	if err := files.EnsureFolder(system, path); err != nil {
		return nil, unwritable(path, err)
	}
	return &Folder{path: path, fs: system}, nil
}

// Open opens a folder that holds a result, finished or not.
func Open(path string) (*Folder, *Manifest, error) {
	state, m, err := Inspect(path)
	if err != nil {
		return nil, nil, err
	}
	if state == Empty {
		return nil, nil, fmt.Errorf("%s holds no result", path)
	}
	return &Folder{path: path, fs: files.Disk{}}, m, nil
}

// Path returns where a file of the folder lies; name is as in the manifest, with slashes.
func (f *Folder) Path(name string) string {
	return filepath.Join(f.path, filepath.FromSlash(name))
}

// WriteManifest writes the manifest, whole or not at all, after the checks of ReadManifest.
func (f *Folder) WriteManifest(m *Manifest) error {
	err := f.writeLists(m)
	var data []byte
	if err == nil {
		data, err = m.encode()
	}
	if err != nil {
		return fmt.Errorf("%s: %w", f.Path(manifestName), err)
	}
	return files.WriteWhole(f.fs, f.Path(manifestName), data)
}

// WriteTable writes one of the folder's tables; name is a Table constant.
func (f *Folder) WriteTable(name string, t *Table) (Digest, error) {
	if !isTable(name) {
		return Digest{}, fmt.Errorf("%s is no table of a result folder", name)
	}
	return writeTable(f.fs, f.Path(name), t)
}

// WritePage writes report.html, whole or not at all.
func (f *Folder) WritePage(data []byte) error { return files.WriteWhole(f.fs, f.Path(PageFile), data) }

// WriteFigure writes a file into figures/, whole or not at all; name has no folder.
func (f *Folder) WriteFigure(name string, data []byte) error {
	if !figureName.MatchString(figuresFolder + "/" + name) {
		return fmt.Errorf("%q is no name of a figure", name)
	}
	path := f.Path(figuresFolder + "/" + name)
	if err := files.EnsureFolder(f.fs, filepath.Dir(path)); err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	return files.WriteWhole(f.fs, path, data)
}

// DropFigures removes the figures that were written before; what else lies there stays.
func (f *Folder) DropFigures() error {
	for _, name := range f.ours(nil) {
		if figureName.MatchString(name) {
			if err := f.remove(name); err != nil {
				return err
			}
		}
	}
	return nil
}

// WriteGiven writes a file that the study was read from; name is StudyFile or "given/NAME".
func (f *Folder) WriteGiven(name string, data []byte) (Digest, error) {
	if !isGiven(name) {
		return Digest{}, fmt.Errorf("%q is neither %s nor the name of a file in given/", name, StudyFile)
	}
	path := f.Path(name)
	if err := files.EnsureFolder(f.fs, filepath.Dir(path)); err != nil {
		return Digest{}, fmt.Errorf("cannot write %s: %w", path, err)
	}
	return writeDigested(f.fs, path, data)
}
