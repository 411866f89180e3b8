package jobs_test

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"proofmass/jobs/result"
)

// everythingDigest is the SHA-256 over the bits of every sampled and computed column
// of testdata/studies/everything.yaml, on any machine. It changes only when a
// draw, a default or a relation is meant to change; say which in the commit.
const everythingDigest = "b69979d12cc19d99ab77310a7570819a9ce4f4cb7ea0ab88cccf238300ae5dff"

func TestSameBitsOnEveryMachine(t *testing.T) {
	o := quick(t, 0)
	mustRun(t, studies+"everything.yaml", o)
	samples, err := result.OpenSlices(slicePaths(t, o.Out))
	if err != nil {
		t.Fatal(err)
	}
	hash, columns := sha256.New(), 0
	for _, name := range slices.Sorted(slices.Values(samples.Names())) {
		x, err := samples.Read(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		columns++
		hash.Write([]byte(name))
		for _, v := range x {
			_ = binary.Write(hash, binary.LittleEndian, math.Float64bits(v))
		}
	}
	if columns < 300 {
		t.Errorf("only %d columns, want at least 300: the digest would prove little", columns)
	}
	if got := hex.EncodeToString(hash.Sum(nil)); got != everythingDigest {
		t.Errorf("digest of %d columns is %s, want %s", columns, got, everythingDigest)
	}
}

// slicePaths are the sample files in the order of their names, which is theirs.
func slicePaths(t *testing.T, folder string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(folder, "samples", "0000", "*.parquet"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no samples in %s: %v", folder, err)
	}
	return paths
}
