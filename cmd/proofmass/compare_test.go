package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
)

func TestCompareTwoResults(t *testing.T) {
	folder := t.TempDir()
	old, later := filepath.Join(folder, "old"), filepath.Join(folder, "new")
	study := write(t, small)
	changed := write(t, strings.Replace(small, "{between: [1 m, 2 m]}", "{between: [1.4 m, 2 m]}", 1))
	proof("run", study, "--out", old)
	proof("run", changed, "--out", later)
	got := proof("compare", old, later)
	for _, want := range []string{"one input changed", "large: ", "because of +", "x: between 1 m and 2 m -> between 1.4 m and 2 m", "Shapley"} {
		if !strings.Contains(got.out, want) {
			t.Errorf("lacks %q:\n%s%s", want, got.out, got.err)
		}
	}
	checkWidth(t, "compare", got.out)
	if strings.ContainsAny(got.out+got.err, "\x1b\r") {
		t.Error("a pipe got colour or a bar")
	}
	var all struct {
		Outputs []struct {
			Output string
			Middle struct {
				By     float64
				Draws  float64
				Causes []struct {
					Cause         string
					By, Low, High float64
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(proof("compare", old, later, "--json").out), &all); err != nil {
		t.Fatal(err)
	}
	if m := all.Outputs[0].Middle; len(m.Causes) != 1 || m.Causes[0].Cause != "x" || m.Causes[0].By != m.By || !(m.Causes[0].Low < m.By && m.By < m.Causes[0].High) {
		t.Errorf("%+v", all)
	}
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"one":     {[]string{old}, exitWrong, "two result folders"},
		"same":    {[]string{old, folder + "/./old"}, exitWrong, "the same folder"},
		"nowhere": {[]string{old, folder + "/none"}, exitWrong, "no such folder"},
		"study":   {[]string{old, study}, exitWrong, "is a file"},
		"rows":    {[]string{old, later, "--rows", "3"}, exitWrong, "512 to"},
		"workers": {[]string{old, later, "--workers", "0"}, exitWrong, "at least 1"},
	} {
		if got := proof(append([]string{"compare"}, c.args...)...); got.code != c.code || !strings.Contains(got.err, c.says) || got.out != "" {
			t.Errorf("%s: exit %d, %q; want %d, %q", name, got.code, got.err, c.code, c.says)
		}
	}
}
