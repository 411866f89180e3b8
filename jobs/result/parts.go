package result

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"

	"proofmass/jobs/files"
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

// name is that of the part's file. The number alone tells the slices of a round apart, but
// those of rounds that one choice has alone.
func (k PartKey) name() string {
	if k.Choice > 0 && k.Kind != SampleKind {
		return fmt.Sprintf("%s/%s/%04d-%08d/slice-%08d.part", workFolder, k.Kind, k.Round, k.Choice, k.Number)
	}
	return fmt.Sprintf("%s/%s/%04d/slice-%08d.part", workFolder, k.Kind, k.Round, k.Number)
}

var partName = regexp.MustCompile(`^work/[a-z]+/[0-9]{4,}(?:-[0-9]{8})?/slice-[0-9]{8}\.part$`)

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

// BeginPart writes a part, which is stored once it is committed.
func (f *Folder) BeginPart(k PartKey, by Maker, data []byte) (*files.Pending, error) {
	head, err := json.Marshal(partHead{partFormat, k, by, digestOf(data)})
	if err != nil {
		return nil, err
	}
	path := f.Path(k.name())
	if err := files.EnsureFolder(f.fs, filepath.Dir(path)); err != nil {
		return nil, fmt.Errorf("cannot write %s: %w", path, err)
	}
	return files.Begin(f.fs, path, append(append(head, '\n'), data...))
}

// ReadPart reads a part back: nil where there is none, or none that is whole and of this
// study and program.
func (f *Folder) ReadPart(k PartKey, by Maker) []byte {
	head, data, err := readPart(f.Path(k.name()))
	if err != nil || head.PartKey != k || head.Maker != by {
		return nil
	}
	return data
}

// CheckPart reports whether the file of a part is as it was written.
func CheckPart(path string) error {
	_, _, err := readPart(path)
	return err
}

func readPart(path string) (head partHead, data []byte, err error) {
	whole, err := regular.Read(path, maxPart)
	if err != nil {
		return head, nil, err
	}
	first, data, _ := bytes.Cut(whole, []byte("\n"))
	if json.Unmarshal(first, &head) != nil || head.Format != partFormat || head.Digest != digestOf(data) {
		return head, nil, fmt.Errorf("%s: %w", path, damaged("its content differs from its digest"))
	}
	if again, err := json.Marshal(head); err != nil || !bytes.Equal(again, first) {
		return head, nil, fmt.Errorf("%s: %w", path, damaged("its first line was changed"))
	}
	return head, data, nil
}

// HasParts reports whether a run has left parts here.
func (f *Folder) HasParts() bool {
	_, err := os.Lstat(f.Path(workFolder))
	return err == nil
}

// HasSlice reports whether a file of the sample is there as it was written.
func (f *Folder) HasSlice(name string, d Digest) bool { return verifyFile(f.Path(name), d) == nil }

// SeesPart reports whether a part has its name in the folder, whole or not.
func (f *Folder) SeesPart(k PartKey) bool {
	_, err := os.Lstat(f.Path(k.name()))
	return err == nil
}

// LastRound is the highest round of a kind that has parts, -1 without any.
func (f *Folder) LastRound(kind string) int {
	last := -1
	entries, _ := os.ReadDir(f.Path(workFolder + "/" + kind))
	for _, e := range entries {
		if n, err := strconv.Atoi(e.Name()); err == nil && f.SeesPart(PartKey{Kind: kind, Round: n}) {
			last = max(last, n)
		}
	}
	return last
}

// DropSlice removes a file of the sample that is needed no more.
func (f *Folder) DropSlice(name string) error { return f.remove(name) }
