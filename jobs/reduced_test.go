package jobs_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/parquet"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// exactly copies a study, and what it uses, into a folder of its own, to be evaluated over
// all steps of its schedules.
func exactly(t *testing.T, name string) string {
	t.Helper()
	folder := t.TempDir()
	for _, file := range []string{name, "drum-cell.yaml"} {
		text, err := os.ReadFile(studies + file)
		if err != nil {
			t.Fatal(err)
		}
		if file == name {
			text = append(text, "\nexact: yes\n"...)
		}
		if err := os.WriteFile(filepath.Join(folder, file), text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(folder, name)
}

func TestReducedSchedulesGiveTheSameTables(t *testing.T) {
	reducedSchedulesGiveTheSameTables(t, "certified-car.yaml")
}

// reducedSchedulesGiveTheSameTables: every number of every table is that of all steps to
// 1e-9 of itself, chances among them.
func reducedSchedulesGiveTheSameTables(t *testing.T, names ...string) {
	t.Helper()
	const rows = 16_384
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			less, all := quick(t, rows), quick(t, rows)
			mustRun(t, studies+name, less)
			mustRun(t, exactly(t, name), all)
			reduced, exact := manifestOf(t, less.Out), manifestOf(t, all.Out)
			r := reduced.Reduced
			if r == nil || exact.Reduced != nil {
				t.Fatalf("reduced: %+v; exact: %+v", r, exact.Reduced)
			}
			for _, s := range r.Schedules {
				if !(s.Points*3 < s.Steps && s.Worst > 0 && s.Worst < 3e-10) {
					t.Errorf("%+v", s)
				}
			}
			if r.Outside > r.Evaluations/100 || r.Checked < r.Evaluations/1000 || r.Worst > 3e-10 || r.Redone > 0 {
				t.Errorf("seen: %+v", r)
			}
			sameTables(t, less.Out, all.Out, reduced)
		})
	}
}

func manifestOf(t *testing.T, folder string) *result.Manifest {
	t.Helper()
	m, err := result.ReadManifest(folder)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// nought is what rounding leaves of a change that is exactly nil, in per cent.
const nought = 1e-12

// sameTables compares all tables of two results.
func sameTables(t *testing.T, got, want string, m *result.Manifest) {
	t.Helper()
	numbers := 0
	for name := range m.Tables {
		one, other := tableOf(t, filepath.Join(got, name)), tableOf(t, filepath.Join(want, name))
		if one.Rows() != other.Rows() {
			t.Errorf("%s: %d rows, want %d", name, one.Rows(), other.Rows())
			continue
		}
		for _, c := range one.Columns {
			y := other.Column(c.Name)
			for i := range c.Floats {
				numbers++
				if a, b := c.Floats[i], y.Floats[i]; !(math.Abs(a-b) <= max(1e-9*math.Abs(b), nought)) && (a == a || b == b) {
					t.Errorf("%s, row %d (%s), %s: %.12g, want %.12g: %.2g off", name, i, rowName(one, i), c.Name, a, b, math.Abs(a-b)/math.Abs(b))
				}
			}
			if fmt.Sprint(c.Texts) != fmt.Sprint(y.Texts) && c.Name != "text" {
				t.Errorf("%s, %s: other words", name, c.Name)
			}
		}
	}
	if numbers < 1000 {
		t.Errorf("only %d numbers were compared", numbers)
	}
}

func tableOf(t *testing.T, path string) *parquet.Table {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	table, err := parquet.ReadTable(f, info.Size())
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// rowName is what the texts of a row say it is about.
func rowName(t *parquet.Table, row int) string {
	var words []string
	for _, c := range t.Columns {
		if row < len(c.Texts) && len(c.Texts[row]) < 40 {
			words = append(words, c.Texts[row])
		}
	}
	return strings.Join(words, " ")
}

// TestReducedListsHaveTheSameBits: every machine finds the same box from the same draws, and
// makes the same lists for it. It changes only when a draw, a default or a relation of the
// demonstration is meant to change.
func TestReducedListsHaveTheSameBits(t *testing.T) {
	s, err := jobs.Read(studies+"heron.yaml", study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := jobs.Planned(s)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, made := range p.Reduction.Made() {
		got = append(got, made.Schedule+" "+made.Digest[:16])
	}
	want := []string{"udds 6b04a5a5c63eb9ae", "hwfet 6dbde1da671ef6ec"}
	if !slices.Equal(got, want) {
		t.Errorf("lists %q, want %q", got, want)
	}
}
