package inspect

import (
	"encoding/csv"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs"
	"proofmass/jobs/result"
)

// samplesTable is what CSV calls the draws, which lie in many files.
const samplesTable = "samples"

// CSV writes a table of a finished result folder of which every file is whole as CSV (RFC
// 4180: a header line, lines end in CR LF, a value with a comma, quote or line end is
// quoted). A header is the column's name, and behind it in brackets the unit where the whole
// column has one. Numbers have all their digits; null is empty.
func CSV(folder, table string, out io.Writer) error {
	m, err := manifestOf(folder)
	if err != nil {
		return err
	}
	if err := result.Verify(folder); err != nil {
		return err
	}
	if !m.Finished {
		return &jobs.UsageError{Err: fmt.Errorf("%s: not finished; tables come with the end of the run", m.Study)}
	}
	files, err := filesOf(folder, m, table)
	if err != nil {
		return err
	}
	w := csv.NewWriter(out)
	w.UseCRLF = true
	for i, name := range files {
		t, err := result.ReadTable(filepath.Join(folder, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		if i == 0 {
			if err := w.Write(csvHead(t)); err != nil {
				return err
			}
		}
		if err := writeRows(w, t); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// filesOf are the files in which the rows of a table stand.
func filesOf(folder string, m *result.Manifest, table string) ([]string, error) {
	if err := result.LoadSlices(folder, m); err != nil {
		return nil, err
	}
	var slicesOf, known []string
	for _, r := range m.Rounds {
		if r.Kind == result.SampleKind {
			for _, s := range r.Slices {
				slicesOf = append(slicesOf, s.File)
			}
		}
	}
	if len(slicesOf) > 0 {
		known = append(known, samplesTable)
	}
	for _, d := range result.Describe() {
		if _, there := m.Tables[d.File]; there {
			known = append(known, strings.TrimSuffix(d.File, ".parquet"))
		}
	}
	name := strings.TrimSuffix(table, ".parquet")
	if !slices.Contains(known, name) {
		return nil, &jobs.UsageError{Err: fmt.Errorf("--csv: found %q; this result has %s", table, strings.Join(known, ", "))}
	}
	if name == samplesTable {
		return slicesOf, nil
	}
	return []string{name + ".parquet"}, nil
}

func csvHead(t *result.Table) []string {
	var head []string
	for _, c := range t.Columns {
		name := c.Name
		if c.Unit != "" && c.Unit != "1" && !strings.HasSuffix(c.Unit, "of the row") {
			name += " (" + c.Unit + ")"
		}
		head = append(head, name)
	}
	return head
}

func writeRows(w *csv.Writer, t *result.Table) error {
	cells := make([]string, len(t.Columns))
	for row := range t.Rows() {
		for i := range t.Columns {
			cells[i] = cell(&t.Columns[i], row)
		}
		if err := w.Write(cells); err != nil {
			return err
		}
	}
	return nil
}

// cell is a value with all its digits.
func cell(c *result.Column, row int) string {
	switch {
	case c.Texts != nil:
		return c.Texts[row]
	case c.Ints != nil:
		return strconv.FormatInt(c.Ints[row], 10)
	case c.Bools != nil:
		return strconv.FormatBool(c.Bools[row])
	case c.Floats[row] != c.Floats[row]:
		return ""
	}
	return strconv.FormatFloat(c.Floats[row], 'g', -1, 64)
}
