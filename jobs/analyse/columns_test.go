package analyse_test

import (
	"context"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity/estimate"
)

// says marks the fields of rows that hold something in some row.
func says[T any](t *testing.T, said map[string]bool, file string, read func(string, *result.Manifest) ([]T, map[string]string, error), folder string, m *result.Manifest) {
	t.Helper()
	rows, _, err := read(folder, m)
	if err != nil {
		t.Fatal(err)
	}
	of := reflect.TypeFor[T]()
	for i := range of.NumField() {
		key := file + " " + of.Field(i).Name
		said[key] = said[key] || false
		for r := range rows {
			v := reflect.ValueOf(rows[r]).Field(i)
			empty := v.IsZero() || v.Kind() == reflect.Float64 && v.Float() != v.Float()
			said[key] = said[key] || !empty
		}
	}
}

// Every column of every table is filled by what writes it, and every word is of its
// list: of these studies together each says something in some row. A field that a
// writer forgets would be nothing everywhere.
func TestEveryColumnIsFilled(t *testing.T) {
	said := map[string]bool{}
	for path, rows := range map[string]int{"../../testdata/studies/everything.yaml": 0, "../../testdata/studies/heron.yaml": 2048, "testdata/formulas.yaml": 0, "testdata/measured.yaml": 0} {
		folder := filepath.Join(t.TempDir(), "result")
		if _, err := jobs.Run(context.Background(), path, jobs.Options{Study: study.Options{Rows: rows}, Out: folder, Workers: 2}); err != nil {
			t.Fatal(err)
		}
		m, err := result.ReadManifest(folder)
		if err != nil {
			t.Fatal(err)
		}
		says(t, said, result.SummaryTable, result.Summary.Read, folder, m)
		says(t, said, result.ClaimsTable, result.Claims.Read, folder, m)
		says(t, said, result.IndicesTable, result.Indices.Read, folder, m)
		says(t, said, result.TornadoTable, result.Tornado.Read, folder, m)
		says(t, said, result.CurvesTable, result.Curves.Read, folder, m)
		says(t, said, result.RegionsTable, result.Regions.Read, folder, m)
		if strings.HasSuffix(path, "measured.yaml") {
			says(t, said, result.EvidenceTable, result.Evidence.Read, folder, m)
		}
	}
	for column, filled := range said {
		if !filled && !strings.HasSuffix(column, " Choice") && !strings.HasSuffix(column, " Account") { // 0 and empty as long as there are no choices or accounts
			t.Errorf("%s is empty in every row", column)
		}
	}
}

// The words for intervals are those of the room that makes them.
func TestWordsOfIntervals(t *testing.T) {
	check := func(found []result.Term, want ...string) {
		var words []string
		for _, term := range found {
			words = append(words, term.Word)
		}
		if !reflect.DeepEqual(words, want) {
			t.Errorf("words %v, want %v", words, want)
		}
	}
	check(result.ChanceMethod("").Terms(), estimate.MethodReplicates, estimate.MethodWilson, estimate.MethodClopperPearson, string(result.WeightedChance), string(result.RareChance), estimate.MethodNone)
	check(result.IntervalMethod("").Terms(), estimate.MethodReplicates, estimate.MethodOrder, estimate.MethodIndependent, estimate.MethodNone)
}
