package result

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"proofmass/jobs/regular"
)

// PartKey names what one slice of a round gave among all of a study, whatever the kind of
// the round.
type PartKey struct {
	Kind    string `json:"kind"` // a lower-case word
	Round   int    `json:"round"`
	Choice  int    `json:"choice"`
	Account int    `json:"account"`
	Number  int    `json:"number"` // of the slice in its round
}

// name is that of the part's file. The number alone tells the slices of a round apart.
func (k PartKey) name() string {
	return fmt.Sprintf("%s/%s/%04d/slice-%08d.part", workFolder, k.Kind, k.Round, k.Number)
}

var partName = regexp.MustCompile(`^work/[a-z]+/[0-9]{4,}/slice-[0-9]{8}\.part$`)

// A Maker is what a part rests on beside its key: parts of another study or of another
// version of the program are of no use.
type Maker struct {
	Study   string `json:"study_digest"`
	Program string `json:"program_version"`
}

// partHead is the first line of a part's file: whoever reads it needs nothing else.
type partHead struct {
	Format string `json:"format"`
	PartKey
	Maker
	Digest
}

const (
	partFormat = "proofmass part"
	maxPart    = 64 << 20 // of a file that is read back; a part beyond it is made again
)

// WritePart stores a part, whole under its name or not at all. It is not flushed to the
// disk, which would take longer than making it: of a file that a power cut left broken,
// its own digest tells.
func (f *Folder) WritePart(k PartKey, by Maker, data []byte) error {
	head, err := json.Marshal(partHead{partFormat, k, by, digestOf(data)})
	if err != nil {
		return err
	}
	path := f.Path(k.name())
	if err := ensureFolder(f.fs, filepath.Dir(path)); err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	return writeNamed(f.fs, path, append(append(head, '\n'), data...), false)
}

// ReadPart reads a part back: nil where there is none, or none that is whole and of this
// study and program.
func (f *Folder) ReadPart(k PartKey, by Maker) []byte {
	path := f.Path(k.name())
	whole, err := regular.Read(path, maxPart)
	if err != nil {
		return nil
	}
	first, data, _ := bytes.Cut(whole, []byte("\n"))
	var head partHead
	if json.Unmarshal(first, &head) != nil || head != (partHead{partFormat, k, by, digestOf(data)}) {
		return nil
	}
	return data
}

// HasParts reports whether a run has left parts here.
func (f *Folder) HasParts() bool {
	_, err := os.Lstat(f.Path(workFolder))
	return err == nil
}

// HasSlice reports whether a file of the sample is there as it was written.
func (f *Folder) HasSlice(name string, d Digest) bool { return verifyFile(f.Path(name), d) == nil }

// DropParts removes all parts, once their round is in the tables.
func (f *Folder) DropParts() error {
	var folders []string
	err := filepath.WalkDir(f.Path(workFolder), func(path string, e fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil
		case err != nil:
			return err
		case e.IsDir():
			folders = append(folders, path)
			return nil
		}
		if name, err := filepath.Rel(f.path, path); err == nil && partName.MatchString(filepath.ToSlash(name)) {
			return f.fs.Remove(path)
		}
		return nil
	})
	for i := len(folders) - 1; i >= 0 && err == nil; i-- {
		_ = f.fs.Remove(folders[i]) // but one that holds something of somebody else's
	}
	return err
}
