package run

import (
	"fmt"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
)

// A Copier writes files of a sample again, with what a plan says of their columns. One
// goroutine at a time.
type Copier struct {
	names  []string
	writer *result.SliceWriter
}

// NewCopier returns a Copier; meta goes into every file, as in a Runner.
func NewCopier(p *plan.Plan, meta map[string]string) (*Copier, error) {
	c := &Copier{}
	var columns []result.Column
	for _, s := range p.StoredColumns() {
		columns = append(columns, column(s))
		c.names = append(c.names, s.Name)
	}
	var err error
	c.writer, err = result.NewSliceWriter(columns, meta)
	return c, err
}

// Copy writes the rows of the file at path into the folder, under a slice's name.
func (c *Copier) Copy(path string, folder *result.Folder, name string) (result.Digest, error) {
	t, err := result.ReadTable(path)
	if err != nil {
		return result.Digest{}, err
	}
	out := &result.Slice{}
	for _, name := range c.names {
		column := t.Column(name)
		if column == nil {
			return result.Digest{}, fmt.Errorf("%s: there is no column %q", path, name)
		}
		out.Columns = append(out.Columns, column.Floats)
	}
	weight, feasible := t.Column("weight"), t.Column("feasible")
	if weight == nil || feasible == nil {
		return result.Digest{}, fmt.Errorf("%s: there is no column weight or feasible", path)
	}
	out.Weight, out.Feasible = weight.Floats, feasible.Bools
	for _, first := range []struct {
		name string
		to   func(int64)
	}{
		{"row", func(v int64) { out.FirstRow = v }}, {"choice", func(v int64) { out.Choice = int32(v) }}, {"replicate", func(v int64) { out.Replicate = int32(v) }},
	} {
		column := t.Column(first.name)
		if column == nil || len(column.Ints) == 0 {
			return result.Digest{}, fmt.Errorf("%s: there is no column %q", path, first.name)
		}
		first.to(column.Ints[0])
		if last := len(column.Ints) - 1; first.name == "replicate" && column.Ints[last] != column.Ints[0] { // of a choice's slice
			for _, v := range column.Ints {
				out.Replicates = append(out.Replicates, int32(v))
			}
		}
	}
	return c.writer.Write(folder, name, out)
}
