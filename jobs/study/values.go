package study

import (
	"fmt"
	"path/filepath"
	"strings"

	"proofmass/model/unit"
	"proofmass/sampling"
)

// Bounds on a file of values.
const (
	maxValuesBytes = 16 << 20
	maxValues      = 1_000_000
)

// values reads {file, column}: numbers as they were observed.
func (r *itemReader) values(v field) bool {
	const shape = "values are {file: x.csv, column: y}"
	var name, column string
	ok := true
	words := handlers{
		"file":   func(f field) { name, _ = f.text("the name of a CSV or Parquet file is expected") },
		"column": func(f field) { column, _ = f.text("the name of a column is expected") },
	}
	before := v.src.errs.count
	words.read(v, "values")
	if v.src.errs.count > before {
		return false
	}
	if name == "" || column == "" {
		v.err("file or column is missing", shape)
		return false
	}
	data, err := v.src.r.valuesFile(name)
	if err != nil {
		v.err(quote(name)+": "+err.Error(), "a CSV or Parquet file in the study's folder, or in one that --read FOLDER allows")
		return false
	}
	x, err := columnIn(name, data, column)
	if err != nil {
		v.err(quote(name)+": "+err.Error(), "a column of finite numbers, one a row")
		return false
	}
	u, ok := r.unitOfColumn(v)
	if !ok {
		return false
	}
	for i := range x {
		x[i] = u.ToSI(x[i])
	}
	text := fmt.Sprintf("%d values of %s in %s", len(x), printable(column, 40), printable(name, 60))
	f, smooth := r.parts["smooth"]
	if !smooth {
		m, err := sampling.Resampled(x)
		return r.uncertain(v, m, err, text)
	}
	bandwidth, ok := r.c.difference(f)
	if !ok {
		return false
	}
	m, err := sampling.Smoothed(x, bandwidth)
	return r.uncertain(v, m, err, text+", smoothed by "+r.written(f))
}

// unitOfColumn is that of `unit:`, which a quantity with a dimension needs.
func (r *itemReader) unitOfColumn(v field) (unit.Unit, bool) {
	switch {
	case r.c.bare != nil:
		return *r.c.bare, true
	case r.c.known && r.c.display.Dimension() != unit.One:
		v.err("the numbers of a file have no unit", r.c.name+" has "+r.c.display.Dimension().String()+": say unit: "+r.c.display.String()+" beside values")
		return unit.Unit{}, false
	}
	r.c.known = true
	return unit.SI(unit.One), true
}

// columnIn returns the numbers of a column; the name says of what kind of file.
func columnIn(name string, data []byte, column string) ([]float64, error) {
	if strings.EqualFold(filepath.Ext(name), ".parquet") {
		return parquetColumn(data, column)
	}
	return csvColumn(data, column)
}

// valuesFile reads a file once, however many inputs take a column of it.
func (r *reader) valuesFile(name string) ([]byte, error) {
	path, stored, err := r.find(name)
	if err != nil {
		return nil, err
	}
	for _, known := range r.s.Files {
		switch {
		case known.Path == path:
			return known.Data, nil
		case known.Name == stored:
			return nil, fmt.Errorf("would be kept under the same name as %s", quote(known.Path))
		}
	}
	if len(r.s.Files) > maxUsed {
		return nil, fmt.Errorf("more than %d files are read", maxUsed)
	}
	data, err := readUpTo(path, maxValuesBytes, "at most 16777216 (16 MiB) are read")
	if err != nil {
		return nil, err
	}
	r.s.Files = append(r.s.Files, file(path, stored, data))
	return data, nil
}
