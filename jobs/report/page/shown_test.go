package page_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
)

// inOne is what one of a unit that is shown is in the unit of the table: NIST SP 811 (2008),
// appendix B, exact.
var inOne = map[string]float64{"lb": 0.45359237, "mile": 1.609344, "kWh/100 mile": 1 / 1.609344}

// TestUnitsShown: what show_in asks for is shown on the page, in figures and at the terminal;
// tables and JSON stay as they are; and a study that asks for it later gets it without a run.
func TestUnitsShown(t *testing.T) {
	study := fmt.Sprintf(insideCars, carClaims)
	path, folder := filepath.Join(t.TempDir(), "study.yaml"), filepath.Join(t.TempDir(), "result")
	run := func(text string) *jobs.Outcome {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		o, err := jobs.Run(context.Background(), path, jobs.Options{Out: folder})
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	asJSON := func(a *report.Answer) string {
		text, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	before := run(study)
	stored := readTables(t, folder)
	after := run(strings.Replace(study, "sample:", "show_in: {range: mile, mass: lb, consumption: kWh/100 mile, usable_energy: MJ}\nsample:", 1))
	if asJSON(before.Answer) != asJSON(after.Answer) {
		t.Error("what programs are told has changed")
	}
	all := readTables(t, folder)
	for name, r := range stored.summary {
		if now := all.summary[name]; now.Unit != r.Unit || now.P50 != r.P50 {
			t.Errorf("%s: the table has %g %s, had %g %s", name, now.P50, now.Unit, r.P50, r.Unit)
		}
	}

	compared := map[string]int{}
	text := drawn(t, folder)
	for _, s := range figuresOf(text) {
		for _, row := range s.rows {
			from, want := all.expected(s, row, func(head string) string { return strings.TrimSuffix(head, " from") })
			if s.kind != "levels" && s.kind != "nested" && s.kind != "ranges" || want == nil {
				continue
			}
			counts := len(want) - 2 // draws and infeasible ones have no unit
			for i := range counts {
				if factor, shown := inOne[row[1]]; shown {
					if !same(row[from+i], want[i]/factor) {
						t.Errorf("%s, %s, %s: the page says %v, the table %v of its unit", s.kind, row[0], s.head[from+i], row, want[i])
					}
					compared[row[1]]++
				}
			}
			if table := all.summary[row[0]].Unit; row[1] == "kg" || row[1] == "km" {
				t.Errorf("%s: %s is shown in %s, its table has %s", s.kind, row[0], row[1], table)
			}
		}
	}
	for _, unit := range []string{"lb", "mile"} {
		if compared[unit] < 30 {
			t.Errorf("only %d numbers in %s were found to compare", compared[unit], unit)
		}
	}
	if !strings.Contains(text, "range in mile, mass in lb") {
		t.Error("the page does not say which units it shows")
	}

	var told strings.Builder
	if err := after.Answer.Text(&told, report.TextOptions{}); err != nil || !strings.Contains(told.String(), "kerb mass, lb") || !strings.Contains(told.String(), "label range, mile") {
		t.Errorf("%v, the terminal: %s", err, told.String())
	}
	if _, err := page.WriteFigures(folder, []string{"svg"}, nil); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"levels.csv", "levels.svg", "levels.narrow.svg"} {
		figure, err := os.ReadFile(filepath.Join(folder, "figures", file))
		if err != nil || !strings.Contains(string(figure), "mile") || strings.Contains(string(figure), " km") {
			t.Errorf("%s: %v, is not in mile", file, err)
		}
	}
}
