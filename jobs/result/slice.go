package result

import (
	"fmt"
	"path/filepath"
	"slices"

	"proofmass/jobs/files"
	"proofmass/jobs/parquet"
)

// Slice is one slice of a round: rows FirstRow, FirstRow+1, ... of one choice and one replicate, and a value a row in each
// column. The writer does not keep or change any of it.
type Slice struct {
	FirstRow          int64
	Choice, Replicate int32
	Replicates        []int32     // of each row, where a slice holds several; else nil
	Weight            []float64   // nil: 1 for every row
	Feasible          []bool      // nil: a row is feasible if none of its columns is null
	Columns           [][]float64 // in the order given to NewSliceWriter, in display units; NaN is null
}

// SliceWriter writes many slices of one schema: row (int64), choice and replicate (int32), weight (float64), feasible (bool),
// then nullable float64 columns. It keeps one buffer, the size of a slice's file, from slice to slice and allocates nothing a
// row. One goroutine at a time: one writer a worker.
type SliceWriter struct {
	parquet  *parquet.Writer
	columns  []string
	feasible []bool
	weight   []float64
	packed   bool
}

// The fixed columns of a sample file.
var sampleColumns = []Column{
	{Name: "row", Meaning: "number of the draw, from 0"},
	{Name: "choice", Meaning: "number of the choice, 0 without choices"},
	{Name: "replicate", Meaning: "replicate of the design, from 0"},
	{Name: "weight", Unit: "1", Meaning: "weight of the row"},
	{Name: "feasible", Meaning: "every stored output of the row is feasible"},
}

var sampleKinds = []parquet.Kind{parquet.Int64, parquet.Int32, parquet.Int32, parquet.Float, parquet.Bool}

// NewSliceWriter takes the float columns that follow the fixed ones; only Name, Unit, Meaning and Source are read. Meta goes
// into every file and must not hold what differs from run to run, else the same study gives other bytes.
func NewSliceWriter(columns []Column, meta map[string]string) (*SliceWriter, error) {
	all, kinds := slices.Clone(sampleColumns), slices.Clone(sampleKinds)
	names := make([]string, len(columns))
	for i, c := range columns {
		all = append(all, Column{Name: c.Name, Unit: c.Unit, Meaning: c.Meaning, Source: c.Source, Nullable: true})
		kinds = append(kinds, parquet.Float)
		names[i] = c.Name
	}
	w, err := parquet.NewWriter(all, kinds, withVersion(meta))
	if err == nil {
		err = w.SortedBy("choice", "row")
	}
	if err != nil {
		return nil, fmt.Errorf("sample slice: %w", err)
	}
	return &SliceWriter{parquet: w, columns: names}, nil
}

// Write writes a slice into the folder under the name that SliceName gives, making the round's folder if need be.
func (w *SliceWriter) Write(f *Folder, name string, s *Slice) (Digest, error) {
	digest, pending, err := w.Begin(f, name, s)
	if err == nil {
		err = pending.Commit()
	}
	return digest, err
}

// Begin is Write as far as it needs the writer: what it returns is to be committed.
func (w *SliceWriter) Begin(f *Folder, name string, s *Slice) (Digest, *files.Pending, error) {
	path := f.Path(name)
	w.packed = f.packed
	image, err := w.encode(s)
	if err != nil {
		return Digest{}, nil, fmt.Errorf("%s: %w", path, err)
	}
	if err := files.EnsureFolder(f.fs, filepath.Dir(path)); err != nil {
		return Digest{}, nil, fmt.Errorf("cannot write %s: %w", path, err)
	}
	pending, err := files.Begin(f.fs, path, image)
	return digestOf(image), pending, err
}

// encode returns the file's bytes, valid until the next call.
func (w *SliceWriter) encode(s *Slice) ([]byte, error) {
	rows, err := w.rows(s)
	if err != nil {
		return nil, err
	}
	begin := w.parquet.Begin
	if w.packed {
		begin = w.parquet.BeginPacked
	}
	if err := begin(rows); err != nil {
		return nil, err
	}
	w.parquet.Sequence(s.FirstRow)
	w.parquet.Repeat(s.Choice)
	if len(s.Replicates) > 0 {
		w.parquet.Int32s(s.Replicates)
	} else {
		w.parquet.Repeat(s.Replicate)
	}
	if err := w.parquet.Floats(w.weights(s, rows)); err != nil {
		return nil, fmt.Errorf("column weight: %w", err)
	}
	w.parquet.Bools(w.feasibles(s, rows))
	for i, c := range s.Columns {
		if err := w.parquet.Floats(c); err != nil {
			return nil, fmt.Errorf("column %s: %w", w.columns[i], err)
		}
	}
	return w.parquet.Finish()
}

// rows checks that all columns have one length.
func (w *SliceWriter) rows(s *Slice) (int, error) {
	if len(s.Columns) != len(w.columns) {
		return 0, fmt.Errorf("%d columns given, the writer was made for %d", len(s.Columns), len(w.columns))
	}
	rows := max(len(s.Weight), len(s.Feasible), len(s.Replicates))
	if len(s.Columns) > 0 {
		rows = len(s.Columns[0])
	}
	for i, c := range s.Columns {
		if len(c) != rows {
			return 0, fmt.Errorf("column %s has %d rows, the slice has %d", w.columns[i], len(c), rows)
		}
	}
	if len(s.Replicates) > 0 && len(s.Replicates) != rows {
		return 0, fmt.Errorf("%d replicates of rows, the slice has %d", len(s.Replicates), rows)
	}
	if s.Weight != nil && len(s.Weight) != rows || s.Feasible != nil && len(s.Feasible) != rows {
		return 0, fmt.Errorf("weight has %d rows and feasible %d, the slice has %d", len(s.Weight), len(s.Feasible), rows)
	}
	return rows, nil
}

func (w *SliceWriter) weights(s *Slice, rows int) []float64 {
	if s.Weight != nil {
		return s.Weight
	}
	for len(w.weight) < rows {
		w.weight = append(w.weight, 1)
	}
	return w.weight[:rows]
}

func (w *SliceWriter) feasibles(s *Slice, rows int) []bool {
	if s.Feasible != nil {
		return s.Feasible
	}
	w.feasible = w.feasible[:0]
	for range rows {
		w.feasible = append(w.feasible, true)
	}
	for _, c := range s.Columns {
		for i, v := range c {
			if v != v {
				w.feasible[i] = false
			}
		}
	}
	return w.feasible
}
