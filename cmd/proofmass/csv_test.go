package main

import (
	"encoding/csv"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	tables "proofmass/jobs/result"
)

// TestCSVIsTheTable: every value of every table comes back from the CSV as it is in the
// file, the hostile text of a source too.
func TestCSVIsTheTable(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	nasty := "a \"quoted\", comma'd\nand broken \u202e<b>=1+1</b>"
	study := strings.Replace(small, "y: {normal:", "y: {source: "+strconv.Quote(nasty)+", normal:", 1)
	if got := proof("run", write(t, study), "--out", out); got.code != exitDone {
		t.Fatal(got.err)
	}
	m, err := tables.ReadManifest(out)
	if err != nil {
		t.Fatal(err)
	}
	seen := false
	for name := range m.Tables {
		table, err := tables.ReadTable(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		got := proof("show", out, "--csv", strings.TrimSuffix(name, ".parquet"))
		if strings.Count(got.out, "\r\n") < table.Rows()+1 {
			t.Errorf("%s: lines do not end in CR LF", name)
		}
		r := csv.NewReader(strings.NewReader(got.out))
		rows, err := r.ReadAll()
		if err != nil || got.code != exitDone || len(rows) != table.Rows()+1 {
			t.Fatalf("%s: exit %d, %d lines for %d rows, %v", name, got.code, len(rows), table.Rows(), err)
		}
		for i, c := range table.Columns {
			if head, _, _ := strings.Cut(rows[0][i], " ("); head != c.Name {
				t.Errorf("%s: head %q, want %s", name, rows[0][i], c.Name)
			}
			for row, cells := range rows[1:] {
				switch x := cells[i]; {
				case c.Texts != nil:
					seen = seen || c.Texts[row] == nasty
					if x != c.Texts[row] {
						t.Errorf("%s, %s, row %d: %q, want %q", name, c.Name, row, x, c.Texts[row])
					}
				case c.Ints != nil:
					if x != strconv.FormatInt(c.Ints[row], 10) {
						t.Errorf("%s, %s, row %d: %q, want %d", name, c.Name, row, x, c.Ints[row])
					}
				case c.Floats != nil && c.Floats[row] != c.Floats[row]:
					if x != "" {
						t.Errorf("%s, %s, row %d: %q, want nothing", name, c.Name, row, x)
					}
				case c.Floats != nil:
					if y, err := strconv.ParseFloat(x, 64); err != nil || y != c.Floats[row] {
						t.Errorf("%s, %s, row %d: %q, want %v", name, c.Name, row, x, c.Floats[row])
					}
				}
			}
		}
	}
	if !seen {
		t.Error("the hostile source stands in no table")
	}
}

func TestCSVOfSamples(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	proof("run", write(t, small), "--out", out)
	got := proof("show", out, "--csv", "samples")
	rows, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
	if err != nil || len(rows) != 1025 || !strings.Contains(strings.Join(rows[0], ";"), "area (m2)") {
		t.Fatalf("%d lines, %v, head %v", len(rows), err, rows[:1])
	}
	for i, row := range rows[1:] {
		if row[0] != strconv.Itoa(i) {
			t.Fatalf("row %d is told as %s", i, row[0])
		}
	}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"--csv", "clams"}, `found "clams"; this result has samples, claims, summary`},
		{[]string{"--csv", ""}, "this result has samples"},
		{[]string{"--csv", "claims", "--json"}, "takes no other option"},
		{[]string{"--csv", "claims", "--row", "3"}, "takes no other option"},
	} {
		if got := proof(append([]string{"show", out}, c.args...)...); got.code != exitWrong || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%v: exit %d, %q; want %q", c.args, got.code, got.err, c.says)
		}
	}
}
