package uncertain

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
	"proofmass/sampling/marginal"
)

// Bounds on the values that one number and all numbers of a study may take from files: a file of 200 bytes can hold a million,
// and any number of inputs may take them.
const (
	maxValues    = 1_000_000
	maxAllValues = 4_000_000
)

// values reads {file, column}: numbers as they were observed.
func (r *item) values(v source.Field) bool {
	const shape = "values are {file: x.csv, column: y}"
	var name, column string
	ok := true
	words := source.Handlers{
		"file":   func(f source.Field) { name, _ = f.Text("the name of a CSV or Parquet file is expected") },
		"column": func(f source.Field) { column, _ = f.Text("the name of a column is expected") },
	}
	before := v.Errors().Count()
	words.Read(v, "values")
	if v.Errors().Count() > before {
		return false
	}
	if name == "" || column == "" {
		v.Err("file or column is missing", shape)
		return false
	}
	data, err := r.c.context.open(name)
	if err != nil {
		v.Err(source.Quote(name)+": "+err.Error(), "a CSV or Parquet file in the study's folder, or in one that --read FOLDER allows")
		return false
	}
	x, err := Column(name, data, column)
	if err != nil {
		v.Err(source.Quote(name)+": "+err.Error(), "a column of finite numbers, one a row")
		return false
	}
	if r.c.context.values += len(x); r.c.context.values > maxAllValues {
		v.Err(fmt.Sprintf("more than %d values in all", maxAllValues), "the numbers of a study together may take as many from files")
		return false
	}
	u, ok := r.unitOfColumn(v)
	if !ok {
		return false
	}
	for i := range x {
		x[i] = u.ToSI(x[i])
	}
	text := fmt.Sprintf("%d values of %s in %s", len(x), source.Printable(column, 40), source.Printable(name, 60))
	f, smooth := r.parts["smooth"]
	if !smooth {
		m, err := marginal.Resampled(x)
		return r.uncertain(v, m, err, text)
	}
	bandwidth, ok := r.c.Difference(f)
	if !ok {
		return false
	}
	m, err := marginal.Smoothed(x, bandwidth)
	return r.uncertain(v, m, err, text+", smoothed by "+r.written(f))
}

// open reads a file of values where the study has any.
func (x *Context) open(name string) ([]byte, error) {
	if x.Open == nil {
		return nil, errors.New("no files of values are read here")
	}
	return x.Open(name)
}

// unitOfColumn is that of `unit:`, which a quantity with a dimension needs.
func (r *item) unitOfColumn(v source.Field) (unit.Unit, bool) {
	switch {
	case r.c.bare != nil:
		return *r.c.bare, true
	case r.c.known && r.c.display.Dimension() != unit.One:
		v.Err("the numbers of a file have no unit", r.c.name+" has "+r.c.display.Dimension().String()+": say unit: "+r.c.display.String()+" beside values")
		return unit.Unit{}, false
	}
	r.c.known = true
	return unit.SI(unit.One), true
}

// Column returns the numbers of a column of a CSV or Parquet file; the name says of what
// kind it is. The error says what is wrong, and on which line.
func Column(name string, data []byte, column string) ([]float64, error) {
	if strings.EqualFold(filepath.Ext(name), ".parquet") {
		return parquetColumn(data, column)
	}
	return csvColumn(data, column)
}
