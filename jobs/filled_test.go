package jobs_test

import (
	"path/filepath"
	"slices"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
)

// everyTable is a small study of choices with tables of what decides.
const everyTable = `format: 1
study: tables-of-choices
model: formulas
inputs: {x: {normal: {mean: 2, sd: 1}}, z: {between: [0, 1]}}
choices: {a: [1, 2, 3]}
outputs: {y: a * x + z}
claims: {much: {of: y, announced: 4, sense: at_least}}
sample: {rows: 8192, seed: 5}
indices: {half_width: 0.1, at_most: 20_000}
`

// TestRowsKnowTheirChoice: in each table of what decides, rows are of each choice.
func TestRowsKnowTheirChoice(t *testing.T) {
	o := quick(t, 0)
	mustRun(t, write(t, everyTable), o)
	for _, name := range []string{result.TornadoTable, result.CurvesTable, result.RegionsTable, result.IndicesTable, result.MeasureTable} {
		table, err := result.ReadTable(filepath.Join(o.Out, name))
		if err != nil {
			t.Fatal(err)
		}
		found := slices.Compact(slices.Clone(table.Column("choice").Ints))
		if !slices.Equal(found, []int64{1, 2, 3}) {
			t.Errorf("%s: rows of choices %v", name, found)
		}
	}
}

// TestEveryColumnIsFilled: each column of tables has a value that is no zero, somewhere, but
// for those of what these studies have none of: infeasible draws, pairs, facts, a source.
func TestEveryColumnIsFilled(t *testing.T) {
	filled := map[string]bool{}
	for _, study := range []string{studies + "heron.yaml", write(t, everyTable)} {
		o := jobs.Options{Out: filepath.Join(t.TempDir(), "out")}
		if study == studies+"heron.yaml" {
			o = quick(t, 4096)
		}
		mustRun(t, study, o)
		for _, name := range []string{result.ClaimsTable, result.SummaryTable, result.TornadoTable, result.CurvesTable, result.RegionsTable, result.IndicesTable} {
			table, err := result.ReadTable(filepath.Join(o.Out, name))
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range table.Columns {
				is := slices.ContainsFunc(c.Floats, func(v float64) bool { return v == v && v != 0 }) ||
					slices.ContainsFunc(c.Ints, func(v int64) bool { return v != 0 }) || slices.ContainsFunc(c.Texts, func(v string) bool { return v != "" })
				filled[name+" "+c.Name] = filled[name+" "+c.Name] || is
			}
		}
	}
	none := []string{"claims.parquet infeasible", "claims.parquet source", "indices.parquet dropped", "indices.parquet evidence", "indices.parquet other", "summary.parquet infeasible"}
	for column, is := range filled {
		if !is && !slices.Contains(none, column) {
			t.Errorf("%s: nothing in it", column)
		}
	}
}
