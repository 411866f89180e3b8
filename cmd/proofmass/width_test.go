package main

import (
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/inspect"
)

// checkWidth reports lines that a terminal of 80 columns breaks.
func checkWidth(t *testing.T, what, text string) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		if n := len([]rune(line)); n > 80 {
			t.Errorf("%s: %d characters: %s", what, n, line)
		}
		if line != strings.TrimRight(line, " ") {
			t.Errorf("%s: ends with a blank: %q", what, line)
		}
	}
}

func TestHelpFitsTheTerminal(t *testing.T) {
	checkWidth(t, "help", help)
	for verb, text := range helpOf {
		checkWidth(t, "help "+verb, text)
	}
}

// TestHelpTellsEveryFlag: each flag of a command stands in its help.
func TestHelpTellsEveryFlag(t *testing.T) {
	for verb, flags := range map[string]string{
		"check": "read rows seed json", "run": "nice out rows seed workers read replace full json", "show": "full row csv json", "list": "about json", "compare": "page rows workers json", "report": "since figures notebook", "version": "notices",
		"slice": "round workers wait nice", "join": "out rows seed read full json workers wait nice", "submit": "dry-run with tasks attempt out rows seed read full json wait",
	} {
		for _, flag := range strings.Fields(flags) {
			if !strings.Contains(helpOf[verb], "--"+flag) {
				t.Errorf("help %s lacks --%s", verb, flag)
			}
		}
	}
	for _, table := range []string{"summary", "claims", "indices", "tornado", "curves", "regions"} {
		if !strings.Contains(helpOf["run"], table+".parquet") {
			t.Errorf("help run lacks %s.parquet", table)
		}
	}
}

// TestHelpOfTheStudyRuns: the example in the help runs as it stands there.
func TestHelpOfTheStudyRuns(t *testing.T) {
	_, example, found := strings.Cut(proof("help", "study").out, "An example that runs as it stands\n\n")
	example, _, _ = strings.Cut(example, "\n\n")
	if !found || !strings.HasPrefix(example, "  format: 1\n") {
		t.Fatalf("no example: %q", example)
	}
	path := write(t, strings.ReplaceAll("\n"+example, "\n  ", "\n")+"\n")
	got := proof("run", path, "--out", filepath.Join(t.TempDir(), "out"), "--rows", "1024")
	if got.code != exitDone || !strings.Contains(got.out, "lighter") {
		t.Errorf("exit %d\n%s%s", got.code, got.out, got.err)
	}
}

func TestRowFitsTheTerminal(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	if got := proof("run", studies+"heron.yaml", "--out", out, "--rows", "512"); got.code != exitDone && got.code != exitMissed {
		t.Fatalf("run: exit %d, %s", got.code, got.err)
	}
	got := proof("show", out, "--row", "3")
	if got.code != exitDone || strings.Count(got.out, "\n") < 100 {
		t.Fatalf("show --row: exit %d, %s%s", got.code, got.out, got.err)
	}
	checkWidth(t, "show --row", got.out)
}

// TestRowText has names and units as long as a study may choose them.
func TestRowText(t *testing.T) {
	long := strings.Repeat("v", 64)
	const blank = "                                               " // name and the blank behind it
	tests := []struct {
		value inspect.Value
		want  string
	}{
		{inspect.Value{Name: "pack_mass", Unit: "kg", Value: 400, Role: "output"}, "  pack_mass" + blank[11:] + "               400 kg\n"},
		{inspect.Value{Name: "grade", Unit: "1", Value: -1.0 / 3e200, Role: "output"}, "  grade" + blank[7:] + " -3.333333333e-201\n"},
		{inspect.Value{Name: long + ".pack_mass", Unit: "kg", Value: 400, Role: "output"}, "  " + long + ".\n    pack_mass" + blank[13:] + "               400 kg\n"},
		{inspect.Value{Name: long + ".displaced." + long, Unit: "kg", Value: 400, Role: "input"},
			"  " + long + ".\n    displaced.\n    " + long + "\n" + blank + "               400 kg\n"},
		{inspect.Value{Name: long, Role: "claim", Value: 0}, "  " + long + "\n" + blank + "     does not hold\n"},
		{inspect.Value{Name: "x", Unit: "kg m2/(s3 A mol cd)", Infeasible: true}, "  x" + blank[3:] + "        infeasible\n                kg m2/(s3 A mol cd)\n"},
	}
	for _, tt := range tests {
		got := rowText(tt.value)
		if got != tt.want {
			t.Errorf("%s:\n got %q\nwant %q", tt.value.Name, got, tt.want)
		}
		checkWidth(t, tt.value.Name, got)
	}
}

func TestCheckCountsOneAsOne(t *testing.T) {
	study := write(t, "format: 1\nmodel: formulas\ninputs: {a: {between: [1, 2]}}\noutputs: {y: {formula: a}}\n")
	if got := proof("check", study); !strings.Contains(got.out, " 1 uncertain input, 2 stored columns.") {
		t.Errorf("%s%s", got.out, got.err)
	}
}
