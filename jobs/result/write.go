package result

import (
	"crypto/sha256"
	"encoding/hex"

	"proofmass/jobs/files"
)

// Digest is what a file's content must be.
type Digest struct {
	SHA256 string `json:"sha256"` // lower-case hexadecimal
	Bytes  int64  `json:"bytes"`
}

func digestOf(data []byte) Digest {
	sum := sha256.Sum256(data)
	return Digest{SHA256: hex.EncodeToString(sum[:]), Bytes: int64(len(data))}
}

func writeDigested(fs files.System, path string, data []byte) (Digest, error) {
	if err := files.WriteWhole(fs, path, data); err != nil {
		return Digest{}, err
	}
	return digestOf(data), nil
}
