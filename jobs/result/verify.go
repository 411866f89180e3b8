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
