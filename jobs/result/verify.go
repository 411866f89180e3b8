package result

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"proofmass/jobs/parquet"
	"proofmass/jobs/regular"
)

// Verify reads every file that the manifest lists and compares it with its digest. The error names the first that is missing
// or differs, in the manifest's order: what was given, slices, tables. A result that is not finished may lack what was given:
// it is listed before it is written.
func Verify(folder string) error {
	m, err := ReadManifest(folder)
	if err != nil {
		return err
	}
	if err := LoadSlices(folder, m); err != nil {
		return err
	}
	for _, f := range m.files() {
		err := verifyFile(filepath.Join(folder, filepath.FromSlash(f.name)), f.digest)
		if !m.Finished && isGiven(f.name) && errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// VerifyGiven is Verify of what the study was read from alone: study.yaml and given/.
func VerifyGiven(folder string, m *Manifest) error {
	for _, f := range m.files() {
		if !isGiven(f.name) {
			continue
		}
		if err := verifyFile(filepath.Join(folder, filepath.FromSlash(f.name)), f.digest); err != nil {
			return err
		}
	}
	return nil
}

func verifyFile(path string, want Digest) error {
	f, _, err := regular.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, io.LimitReader(f, want.Bytes+1))
	if err != nil {
		return err
	}
	if n != want.Bytes {
		return fmt.Errorf("%s: %w: the manifest lists %d bytes, it has %s", path, parquet.ErrDamaged, want.Bytes, sizeOf(n, want.Bytes))
	}
	if hex.EncodeToString(h.Sum(nil)) != want.SHA256 {
		return fmt.Errorf("%s: %w: its content differs from the digest in the manifest", path, parquet.ErrDamaged)
	}
	return nil
}

func sizeOf(n, want int64) string {
	if n > want {
		return "more"
	}
	return fmt.Sprint(n)
}

// A DamagedRound is what is damaged of a round of the sample.
type DamagedRound struct {
	Choices []int          // that the round has, in their order; 0 without choices
	Damaged map[int]Digest // of each slice that is missing or differs, by its number: what it must be
}

// DamagedSlices are the files of the sample that are not as a finished result lists them, by round. Where anything else that it
// lists is missing or differs, that is the error.
func DamagedSlices(folder string, m *Manifest) (map[int]*DamagedRound, error) {
	if err := LoadSlices(folder, m); err != nil {
		return nil, err
	}
	damaged, sample := map[int]*DamagedRound{}, map[string]bool{}
	for i := range m.Rounds {
		r := &m.Rounds[i]
		if r.Kind != SampleKind {
			continue
		}
		of := &DamagedRound{Damaged: map[int]Digest{}}
		for number, s := range r.Slices {
			sample[s.File] = true
			if n := len(of.Choices); n == 0 || of.Choices[n-1] != int(s.Choice) {
				of.Choices = append(of.Choices, int(s.Choice))
			}
			if s.File != SliceName(SampleKind, r.Number, number) {
				return nil, fmt.Errorf("%s: slice %d of its round has another name", s.File, number)
			}
			if verifyFile(filepath.Join(folder, filepath.FromSlash(s.File)), s.Digest) != nil {
				of.Damaged[number] = s.Digest
			}
		}
		if len(of.Damaged) > 0 {
			damaged[r.Number] = of
		}
	}
	for _, f := range m.files() {
		if sample[f.name] {
			continue
		}
		if err := verifyFile(filepath.Join(folder, filepath.FromSlash(f.name)), f.digest); err != nil {
			return nil, err
		}
	}
	return damaged, nil
}
