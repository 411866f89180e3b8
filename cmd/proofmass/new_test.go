package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/begin"
)

// TestNewStudiesRun: each study to start from is right, has nothing odd but what it leaves
// open on purpose, and answers differently from claim to claim.
func TestNewStudiesRun(t *testing.T) {
	folder := t.TempDir()
	for _, kind := range begin.Kinds() {
		path := filepath.Join(folder, kind.Name+".yaml")
		if got := proof("new", kind.Name, path); got.code != exitDone || !strings.Contains(got.out, kind.Name) || !strings.Contains(got.out, "invented") {
			t.Fatalf("new %s: exit %d, %s%s", kind.Name, got.code, got.out, got.err)
		}
		text, err := os.ReadFile(path)
		if err != nil || !strings.Contains(string(text), "INVENTED") || strings.Contains(string(text), "THIS_FILE") {
			t.Errorf("%s: %v\n%s", kind.Name, err, text)
		}
		if got := proof("check", path); got.code != exitDone || strings.Count(got.out, "Odd: ") != strings.Count(got.out, "(all_wheel_drive)") {
			t.Errorf("check %s: exit %d\n%s%s", kind.Name, got.code, got.out, got.err)
		}
		got := proof("run", path, "--out", filepath.Join(folder, kind.Name), "--rows", "4096", "--json")
		var answer struct {
			Claims []struct{ Claim, Verdict string }
		}
		if err := json.Unmarshal([]byte(got.out), &answer); err != nil || got.code != exitDone {
			t.Fatalf("run %s: exit %d, %v, %s", kind.Name, got.code, err, got.err)
		}
		verdicts := map[string]bool{}
		for _, c := range answer.Claims {
			if verdicts[c.Verdict] = true; c.Verdict == "not_judged" || c.Verdict == "too_few_draws" {
				t.Errorf("%s: %s is %s", kind.Name, c.Claim, c.Verdict)
			}
		}
		if len(verdicts) < 2 {
			t.Errorf("%s: every verdict is the same: %v", kind.Name, answer.Claims)
		}
	}
	if got := proof("new", filepath.Join(folder, "plain.yaml")); got.code != exitDone || !strings.Contains(got.out, "rumour") {
		t.Errorf("new without a kind: exit %d, %s%s", got.code, got.out, got.err)
	}
}

func TestNewKeepsWhatIsThere(t *testing.T) {
	path := write(t, small)
	for name, c := range map[string]struct {
		args []string
		says string
	}{
		"there":      {[]string{"swap", path}, "exists; give the name of a new file"},
		"a folder":   {[]string{filepath.Dir(path)}, "exists"},
		"no folder":  {[]string{filepath.Join(filepath.Dir(path), "none", "x.yaml")}, "there is no folder"},
		"unknown":    {[]string{"rumor", "x.yaml"}, "did you mean rumour"},
		"no file":    {[]string{"teardown"}, "the name of the file is missing"},
		"empty":      {[]string{""}, "is empty"},
		"nothing":    {nil, "what to start from and the file"},
		"three":      {[]string{"swap", "a", "b"}, "found 3 arguments"},
		"no options": {[]string{"swap", "a", "--force"}, "unknown flag"},
	} {
		if got := proof(append([]string{"new"}, c.args...)...); got.code != exitWrong || !strings.Contains(got.err, c.says) || got.out != "" {
			t.Errorf("%s: exit %d, %q; want %q", name, got.code, got.err, c.says)
		}
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != small {
		t.Errorf("the file was changed: %v", err)
	}
}
