package result

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"path/filepath"

	"proofmass/jobs/files"
	"proofmass/jobs/parquet"
	"proofmass/jobs/regular"
)

// groupRows is how many rows of a table that is written piece by piece make one group.
const groupRows = 1 << 15

// A Growing is a table that is written while its rows are made: few of them are in memory.
type Growing[T any] struct {
	of      *Typed[T]
	rows    []T
	pending *files.Pending
	digest  hash.Hash
	bytes   int64
	stream  *parquet.Stream
}

// Grow begins the table in the folder; it is there once it is closed.
func (t *Typed[T]) Grow(f *Folder) (*Growing[T], error) {
	pending, err := files.Begin(f.fs, f.Path(t.File), nil)
	if err != nil {
		return nil, err
	}
	g := &Growing[T]{of: t, pending: pending, digest: sha256.New()}
	if g.stream, err = parquet.NewStream(g, t.Make(nil, nil)); err != nil {
		pending.Drop()
		return nil, fmt.Errorf("%s: %w", t.File, err)
	}
	return g, nil
}

// Write is for the stream of pages.
func (g *Growing[T]) Write(data []byte) (int, error) {
	g.digest.Write(data)
	g.bytes += int64(len(data))
	return g.pending.Write(data)
}

// Add adds rows.
func (g *Growing[T]) Add(rows ...T) error {
	g.rows = append(g.rows, rows...)
	if len(g.rows) < groupRows {
		return nil
	}
	return g.flush()
}

func (g *Growing[T]) flush() error {
	err := g.stream.Add(g.of.Make(g.rows, nil))
	g.rows = g.rows[:0]
	return err
}

// Close writes what is left and the metadata.
func (g *Growing[T]) Close(meta map[string]string) (Digest, error) {
	err := g.flush()
	if err == nil {
		err = g.stream.Close(withVersion(meta))
	}
	if err != nil {
		g.Drop()
		return Digest{}, fmt.Errorf("%s: %w", g.of.File, err)
	}
	return Digest{SHA256: hex.EncodeToString(g.digest.Sum(nil)), Bytes: g.bytes}, g.pending.Commit()
}

// Drop forgets the table.
func (g *Growing[T]) Drop() { g.pending.Drop() }

// ReadWhere is Read for the rows that are wanted: no more of the others is in memory than a
// group of rows.
func (t *Typed[T]) ReadWhere(folder string, m *Manifest, wanted func(*T) bool) (kept []T, meta map[string]string, err error) {
	if _, there := m.Tables[t.File]; !there {
		return nil, nil, nil
	}
	path := filepath.Join(folder, t.File)
	f, size, err := regular.Open(path)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	meta, err = parquet.ReadGroups(f, size, func(table *Table) error {
		rows, err := t.rows(table)
		for i := range rows {
			if wanted(&rows[i]) {
				kept = append(kept, rows[i])
			}
		}
		return err
	})
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	return kept, meta, nil
}
