package parquet

import (
	"io"
	"math"
	"testing"

	"github.com/parquet-go/parquet-go"
)

// The general-purpose library must read what the encoder wrote, value by value: github.com/parquet-go/parquet-go v0.32.0,
// whose reader shares the format's structures with us, but no encoding. DuckDB 1.5.6 and hyparquet 1.31.5 were asked by hand
// when this layout was made.
func TestLibraryReadsTable(t *testing.T) {
	table := sample()
	data := image(t, table)
	p, err := parquet.OpenFile(data, data.Size())
	if err != nil {
		t.Fatal(err)
	}
	if p.NumRows() != 19 || len(p.RowGroups()) != 1 {
		t.Fatalf("%d rows in %d groups", p.NumRows(), len(p.RowGroups()))
	}
	if unit, _ := p.Lookup("column.bonded.kerb_mass.unit"); unit != "kg" {
		t.Errorf("unit %q", unit)
	}
	for i, chunk := range p.RowGroups()[0].ColumnChunks() {
		c := &table.Columns[i]
		if name := p.Root().Columns()[i].Name(); name != c.Name {
			t.Errorf("column %d is %q, want %q", i, name, c.Name)
		}
		for row, v := range libraryValues(t, chunk) {
			if !sameValue(c, row, v) {
				t.Errorf("%s, row %d: %v", c.Name, row, v)
			}
		}
	}
}

func libraryValues(t *testing.T, chunk parquet.ColumnChunk) []parquet.Value {
	t.Helper()
	var all []parquet.Value
	pages := chunk.Pages()
	defer pages.Close()
	for {
		page, err := pages.ReadPage()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		values := make([]parquet.Value, page.NumValues())
		if n, err := page.Values().ReadValues(values); n != len(values) || err != nil && err != io.EOF {
			t.Fatalf("%d of %d values, %v", n, len(values), err)
		}
		all = append(all, values...)
	}
	if len(all) != 19 {
		t.Fatalf("%d values, want 19", len(all))
	}
	return all
}

func sameValue(c *Column, row int, v parquet.Value) bool {
	switch {
	case c.Ints != nil:
		return v.Int64() == c.Ints[row]
	case c.Texts != nil:
		return string(v.ByteArray()) == c.Texts[row]
	case c.Bools != nil:
		return v.Boolean() == c.Bools[row]
	}
	x := c.Floats[row]
	if x != x {
		return v.IsNull()
	}
	return !v.IsNull() && math.Float64bits(v.Double()) == math.Float64bits(x)
}
