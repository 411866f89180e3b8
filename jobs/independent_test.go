package jobs_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"testing"

	"github.com/parquet-go/parquet-go"

	"proofmass/jobs"
	"proofmass/jobs/result"
)

// Every table and slice of studies that have claims, infeasible draws and texts is read by a second reader, the library's own,
// which shares neither the finding of pages nor the making of columns with ours: columns, kinds, values, nulls and their
// counts in the statistics, units and texts are the same.
func TestIndependentReading(t *testing.T) {
	for _, name := range []string{"drum-cell.yaml", "everything.yaml", "product.yaml"} {
		o := quick(t, 256)
		mustRun(t, studies+name, o)
		nulls := int64(0)
		files := jobs.TablesOf(t, o.Out)
		for file, data := range files {
			table, err := result.ReadTable(filepath.Join(o.Out, file))
			if err != nil {
				t.Fatal(err)
			}
			n, err := sameTable(data, table)
			if err != nil {
				t.Errorf("%s: %s: %v", name, file, err)
			}
			nulls += n
		}
		if len(files) < 4 || nulls == 0 {
			t.Errorf("%s: %d files with %d nulls prove little", name, len(files), nulls)
		}
	}
}

// sameTable reads the file by the library and compares it with a table. It returns the number of nulls.
func sameTable(data []byte, table *result.Table) (nulls int64, err error) {
	f, err := parquet.OpenFile(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return 0, err
	}
	if int(f.NumRows()) != table.Rows() || len(f.Root().Columns()) != len(table.Columns) {
		return 0, fmt.Errorf("%d rows of %d columns", f.NumRows(), len(f.Root().Columns()))
	}
	for key, want := range table.Meta {
		if got, ok := f.Lookup(key); !ok || got != want {
			return 0, fmt.Errorf("metadata %s: %q, not %q", key, got, want)
		}
	}
	for i := range table.Columns {
		c := &table.Columns[i]
		var values []parquet.Value
		stated := int64(0)
		for _, g := range f.RowGroups() {
			chunk := g.ColumnChunks()[i].(*parquet.FileColumnChunk)
			stated += chunk.NullCount()
			if values, err = appendValues(values, chunk); err != nil {
				return 0, fmt.Errorf("%s: %w", c.Name, err)
			}
		}
		found, err := sameColumn(f, i, c, values)
		if err == nil && found != stated {
			err = fmt.Errorf("%d nulls, the statistics state %d", found, stated)
		}
		if err != nil {
			return 0, fmt.Errorf("%s: %w", c.Name, err)
		}
		nulls += found
	}
	return nulls, nil
}

func appendValues(values []parquet.Value, chunk parquet.ColumnChunk) ([]parquet.Value, error) {
	pages := chunk.Pages()
	defer pages.Close()
	for {
		page, err := pages.ReadPage()
		if errors.Is(err, io.EOF) {
			return values, nil
		}
		if err != nil {
			return nil, err
		}
		some := make([]parquet.Value, page.NumValues())
		if n, err := page.Values().ReadValues(some); n < len(some) || err != nil && !errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("%d of %d values: %w", n, len(some), err)
		}
		values = append(values, some...)
	}
}

func sameColumn(f *parquet.File, i int, c *result.Column, values []parquet.Value) (nulls int64, err error) {
	node := f.Root().Columns()[i]
	if node.Name() != c.Name || node.Optional() != c.Nullable {
		return 0, fmt.Errorf("is %s, optional %t", node.Name(), node.Optional())
	}
	for fact, want := range map[string]string{"unit": c.Unit, "meaning": c.Meaning, "source": c.Source} {
		if got, _ := f.Lookup("column." + c.Name + "." + fact); got != want {
			return 0, fmt.Errorf("%s is %q, not %q", fact, got, want)
		}
	}
	if len(values) != len(c.Floats)+len(c.Ints)+len(c.Texts)+len(c.Bools) {
		return 0, fmt.Errorf("%d values", len(values))
	}
	for row, v := range values {
		same := false
		switch {
		case v.IsNull():
			nulls++
			same = c.Nullable && math.IsNaN(c.Floats[row])
		case c.Floats != nil:
			same = v.Kind() == parquet.Double && math.Float64bits(v.Double()) == math.Float64bits(c.Floats[row])
		case c.Ints != nil && v.Kind() == parquet.Int32:
			same = int64(v.Int32()) == c.Ints[row]
		case c.Ints != nil:
			same = v.Kind() == parquet.Int64 && v.Int64() == c.Ints[row]
		case c.Texts != nil:
			same = v.Kind() == parquet.ByteArray && string(v.ByteArray()) == c.Texts[row]
		default:
			same = v.Kind() == parquet.Boolean && v.Boolean() == c.Bools[row]
		}
		if !same {
			return 0, fmt.Errorf("row %d is %v", row, v)
		}
	}
	return nulls, nil
}
