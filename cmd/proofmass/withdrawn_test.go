package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWithdrawnStaysInSight: on the page, at the terminal and for machines, also when what
// changed opens the page.
func TestWithdrawnStaysInSight(t *testing.T) {
	folder := t.TempDir()
	old, later := filepath.Join(folder, "old"), filepath.Join(folder, "new")
	proof("run", write(t, small), "--out", old)
	study := write(t, strings.Replace(small, "inputs: {", "history: [{on: 2 May, what: z dropped, why: \"nobody <b>knows</b> it\"}]\ninputs: {z: {value: 4 m, source: a rumour, withdrawn: taken back, history: [{on: 3 May, what: looked up again}]}, ", 1))
	if got := proof("run", study, "--out", later); got.code != exitDone {
		t.Fatal(got.err)
	}
	if got := proof("report", later, "--since", old); got.code != exitDone {
		t.Fatal(got.err)
	}
	page, err := os.ReadFile(filepath.Join(later, "report.html"))
	if err != nil {
		t.Fatal(err)
	}
	for where, text := range map[string]string{"full": strings.Join(strings.Fields(proof("show", later, "--full").out), " "), "page": string(page), "json": proof("show", later, "--json").out} {
		for _, want := range []string{"4 m", "a rumour", "taken back", "2 May", "z dropped", "3 May", "looked up again"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q", where, want)
			}
		}
	}
	if strings.Contains(string(page), "<b>knows</b>") || strings.Count(string(page), "taken back") != 2 {
		t.Error("the page does not tell it twice as text: below what changed and among what was assumed")
	}
	if got := proof("show", old, "--full"); strings.Contains(got.out, "NO LONGER COUNTS") || strings.Contains(got.out, "HISTORY") {
		t.Error("told where there is nothing")
	}
}
