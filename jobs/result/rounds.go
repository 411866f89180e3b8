package result

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"

	"proofmass/jobs/files"
	"proofmass/jobs/regular"
)

// Round is a round that was joined. Its slices stand in a file of their own, so that a
// manifest stays short whatever the number of slices; it has no such file if they are not
// kept.
type Round struct {
	Number int         `json:"number"`
	Kind   string      `json:"kind"` // sample, rare, tornado, screen, index, shapley, pairs
	Rows   int64       `json:"rows"`
	Choice int         `json:"choice,omitempty"` // of which it is alone; 0: of all that were compared, or without choices
	List   *Digest     `json:"slices,omitempty"` // of the file that lists them
	Slices []SliceFile `json:"-"`                // as it lists them; LoadSlices reads it
}

// SliceFile is one slice on the disk.
type SliceFile struct {
	File     string `json:"file"` // as SliceName gives it
	Choice   int32  `json:"choice"`
	FirstRow int64  `json:"first_row"`
	Rows     int64  `json:"rows"`
	Digest
}

const (
	listName = "slices.json"
	maxList  = 32 << 20 // of 160,000 slices
)

// listFile is the name of the file that lists the round's slices.
func (r *Round) listFile() string { return path.Dir(SliceName(r.Kind, r.Number, 0)) + "/" + listName }

func isList(name string) bool {
	dir, base := path.Split(name)
	_, _, ok := parseSliceName(dir + "slice-00000000.parquet")
	return ok && base == listName
}

// Drop forgets the slices, which are not kept.
func (r *Round) Drop() { r.List, r.Slices = nil, nil }

// writeLists writes the lists of all rounds whose slices are known, and notes their digests.
func (f *Folder) writeLists(m *Manifest) error {
	seen := map[string]bool{}
	for i := range m.Rounds {
		r := &m.Rounds[i]
		if len(r.Slices) == 0 {
			continue
		}
		if err := r.validateSlices(seen, m.Finished); err != nil {
			return err
		}
		data, err := encodeList(r.Slices)
		if err != nil {
			return err
		}
		if len(data) > maxList {
			return fmt.Errorf("%d slices in a round: their list takes %d bytes, at most %d are read", len(r.Slices), len(data), maxList)
		}
		if d := digestOf(data); r.List != nil && *r.List == d && f.HasSlice(r.listFile(), d) {
			continue
		}
		if err := files.EnsureFolder(f.fs, path.Dir(f.Path(r.listFile()))); err != nil {
			return err
		}
		d, err := writeDigested(f.fs, f.Path(r.listFile()), data)
		if err != nil {
			return err
		}
		r.List = &d
	}
	return nil
}

// encodeList has a line a slice.
func encodeList(all []SliceFile) ([]byte, error) {
	var b bytes.Buffer
	for i, s := range all {
		line, err := json.Marshal(s)
		if err != nil {
			return nil, err
		}
		b.WriteString([]string{"[", ","}[min(i, 1)])
		b.Write(line)
		b.WriteByte('\n')
	}
	b.WriteString("]\n")
	return b.Bytes(), nil
}

// LoadSlices reads which files each round of a manifest has.
func LoadSlices(folder string, m *Manifest) error {
	return (&Folder{path: folder, fs: files.Disk{}}).loadSlices(m, nil)
}

// loadSlices reads the lists here or, if not nil, first in another folder.
func (f *Folder) loadSlices(m *Manifest, first *Folder) error {
	seen := map[string]bool{}
	for i := range m.Rounds {
		r := &m.Rounds[i]
		if r.List == nil || r.Slices != nil {
			continue
		}
		var err error
		if first != nil {
			r.Slices, err = readList(first.Path(r.listFile()), *r.List)
		}
		if first == nil || err != nil {
			r.Slices, err = readList(f.Path(r.listFile()), *r.List)
		}
		if err == nil {
			err = r.validateSlices(seen, m.Finished)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func readList(path string, want Digest) ([]SliceFile, error) {
	if err := verifyFile(path, want); err != nil {
		return nil, err
	}
	file, _, err := regular.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, min(want.Bytes, maxList)))
	if err != nil {
		return nil, err
	}
	if dense(data) {
		return nil, fmt.Errorf("%s: %w", path, damaged("it is no list of slices"))
	}
	var all []SliceFile
	if err := json.Unmarshal(data, &all); err != nil {
		return nil, fmt.Errorf("%s: %w", path, damaged("%v", err))
	}
	return all, nil
}

func (r *Round) validate() error {
	if r.Number < 0 || r.Rows < 0 {
		return fmt.Errorf("round %d with %d rows", r.Number, r.Rows)
	}
	if r.List != nil && (!r.List.valid() || r.List.Bytes > maxList || !isList(r.listFile())) {
		return fmt.Errorf("round %d of kind %q: its list of slices", r.Number, r.Kind)
	}
	return nil
}

func (r *Round) validateSlices(seen map[string]bool, finished bool) error {
	sum := int64(0)
	for _, s := range r.Slices {
		kind, round, ok := parseSliceName(s.File)
		if !ok || kind != r.Kind || round != r.Number || seen[s.File] {
			return fmt.Errorf("round %d: slice file %q", r.Number, s.File)
		}
		if s.FirstRow < 0 || s.Rows < 0 || s.Rows > maxRows || !s.valid() {
			return fmt.Errorf("%s: rows or digest", s.File)
		}
		seen[s.File] = true
		sum += s.Rows
	}
	if sum > r.Rows || finished && sum != r.Rows {
		return fmt.Errorf("round %d: %d rows in %d slices, it should have %d", r.Number, sum, len(r.Slices), r.Rows)
	}
	return nil
}

type listed struct {
	name   string
	digest Digest
}

// files lists what the manifest lists; the slices are loaded.
func (m *Manifest) files() []listed {
	var all []listed
	for _, name := range slices.Sorted(maps.Keys(m.Given)) {
		all = append(all, listed{name, m.Given[name]})
	}
	for i := range m.Rounds {
		r := &m.Rounds[i]
		if r.List != nil {
			all = append(all, listed{r.listFile(), *r.List})
		}
		for _, s := range r.Slices {
			all = append(all, listed{s.File, s.Digest})
		}
	}
	for _, name := range slices.Sorted(maps.Keys(m.Tables)) {
		all = append(all, listed{name, m.Tables[name]})
	}
	return all
}
