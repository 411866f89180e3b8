package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	stored "proofmass/jobs/result"
)

// Of many studies one that cannot be read and one that fails stop none of the rest; each
// result is that of a run alone, and all chances stand side by side.
func TestSeveralStudies(t *testing.T) {
	folder := t.TempDir()
	out := filepath.Join(folder, "many")
	text := map[string]string{"one": small, "bad": "format: 1\nstudy: bad\n", "blocked": small, "two": strings.Replace(small, "area > 4 m2", "area > 1 m2", 1)}
	var args []string
	for _, name := range []string{"one", "bad", "blocked", "two"} {
		path := filepath.Join(folder, name+".yaml")
		if err := os.WriteFile(path, []byte(text[name]), 0o666); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	if err := os.MkdirAll(filepath.Join(out, "blocked", "claims.txt"), 0o777); err != nil {
		t.Fatal(err)
	}
	got := proof(append([]string{"run", "--out", out}, args...)...)
	if got.code != exitWrong || !strings.Contains(got.err, "bad.yaml:1:1") || !strings.Contains(got.err, "is left alone") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	flat := strings.Join(strings.Fields(got.out), " ")
	if !strings.HasPrefix(flat, "2 of 4 studies are finished; failed: bad, blocked. large one in doubt: about") || !strings.Contains(flat, "two stands: ") && !strings.Contains(flat, "two in doubt: ") {
		t.Errorf("told is\n%s", got.out)
	}
	checkWidth(t, "several", got.out)
	alone := filepath.Join(folder, "alone")
	proof("run", args[3], "--out", alone)
	for _, table := range []string{"claims", "summary", "indices"} {
		if textOf(t, filepath.Join(out, "two", table+".parquet")) != textOf(t, filepath.Join(alone, table+".parquet")) {
			t.Errorf("%s differs from that of a run alone", table)
		}
	}
	table, err := stored.ReadTable(filepath.Join(out, stored.IndexTable))
	if err != nil {
		t.Fatal(err)
	}
	if f := table.Column("folder").Texts; strings.Join(f, " ") != "one bad blocked two" {
		t.Errorf("folders %v", f)
	}
	if c := table.Column("chance").Floats; c[0] == c[0] == (c[1] == c[1]) || c[3] <= c[0] {
		t.Errorf("chances %v", c)
	}
	if e := table.Column("error").Texts; e[0] != "" || !strings.Contains(e[1], "model") && e[1] == "" || e[2] == "" {
		t.Errorf("errors %q", e)
	}
	var told []map[string]any
	if again := proof(append([]string{"run", "--json", "--out", out}, args...)...); again.code != exitWrong || json.Unmarshal([]byte(again.out), &told) != nil || len(told) != 4 || told[1]["error"] == nil || told[0]["answer"] == nil {
		t.Errorf("--json: exit %d, %s", again.code, again.out)
	}
	if got := proof("run", args[0], args[3], "--out", alone); got.code != exitWrong || !strings.Contains(got.err, "the result of one study") {
		t.Errorf("into one result: exit %d, %s", got.code, got.err)
	}
}

// What makes another result of one is named.
func TestWhatDiffersIsNamed(t *testing.T) {
	study, out := write(t, small), filepath.Join(t.TempDir(), "out")
	proof("run", study, "--out", out, "--rows", "512")
	for says, args := range map[string][]string{
		"seed 1 there, 7 here":                              {study, "--rows", "512", "--seed", "7"},
		"--rows 512 there, not given here":                  {study},
		"--rows 512 there, 600 here":                        {study, "--rows", "600"},
		"study small there, large here; study.yaml has":     {write(t, strings.Replace(small, "study: small", "study: large\nkeep: summary", 1)), "--rows", "512"},
		"(study.yaml has other bytes); give another folder": {write(t, strings.Replace(small, "3 m", "4 m", 1)), "--rows", "512"},
	} {
		got := proof(append(append([]string{"run"}, args...), "--out", out)...)
		if flat := strings.Join(strings.Fields(got.err), " "); got.code != exitWrong || !strings.Contains(flat, says) || !strings.Contains(flat, "--replace") {
			t.Errorf("want %q: exit %d, %s", says, got.code, got.err)
		}
	}
}
