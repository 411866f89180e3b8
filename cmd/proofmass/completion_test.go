package main

import (
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestBashCompletes asks bash itself, in a folder with two studies and a result.
func TestBashCompletes(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"one.yaml", "two words.yml", "notes.txt"} {
		if err := os.WriteFile(filepath.Join(folder, name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(folder, "result"), 0o777); err != nil {
		t.Fatal(err)
	}
	script := filepath.Join(t.TempDir(), "complete.bash")
	if err := os.WriteFile(script, []byte(proof("completion", "bash").out), 0o666); err != nil {
		t.Fatal(err)
	}
	for line, want := range map[string]string{
		"":                         strings.Join(slices.Sorted(slices.Values(append(slices.Collect(maps.Keys(verbs)), "help"))), "\n"),
		"co":                       "compare\ncompletion",
		"run |":                    "one.yaml\nresult\ntwo words.yml",
		"run |o":                   "one.yaml",
		"run|one.yaml|--o":         "--out",
		"run|one.yaml|--out|":      "result",
		"run|one.yaml|--out|=|re":  "result",
		"run|one.yaml|--rows|":     "",
		"show|":                    "result",
		"show|result|--csv|cl":     "claims\nclaims_before",
		"compare|result|r":         "result",
		"list|d":                   "distributions",
		"new|":                     "rumour\nswap\nteardown",
		"report|result|--figures|": "png\nsvg",
		"completion|z":             "zsh",
		"help|st":                  "study",
		"version|-":                "--help\n--notices",
	} {
		words := strings.Split(strings.ReplaceAll(line, " |", "|"), "|")
		args := append([]string{"-c", `source "$0"; COMP_WORDS=(proofmass "$@"); COMP_CWORD=$#; _proofmass; printf '%s\n' "${COMPREPLY[@]}" | LC_ALL=C sort`, script}, words...)
		c := exec.Command("bash", args...)
		c.Dir = folder
		got, err := c.CombinedOutput()
		if strings.TrimSpace(string(got)) != want || err != nil {
			t.Errorf("%q: %v\n got %q\nwant %q", line, err, strings.TrimSpace(string(got)), want)
		}
	}
}

// TestScriptsKnowEveryOption: each option that a help text tells stands in each script, and
// none that a command refuses.
func TestScriptsKnowEveryOption(t *testing.T) {
	scripts := map[string]string{}
	for shell := range shells {
		scripts[shell] = proof("completion", shell).out
	}
	seen := 0
	for _, c := range allCompleted() {
		if c.meaning == "" && c.verb != "version" && c.verb != "help" {
			t.Errorf("%s is not told in the overview", c.verb)
		}
		for _, o := range c.options {
			seen++
			value := []string{}
			if o.takes {
				value = []string{"1"}
			}
			if got := proof(append([]string{c.verb, "--" + o.name}, value...)...); strings.Contains(got.err, "unknown flag") || strings.Contains(got.err, "needs an argument") {
				t.Errorf("%s --%s: %s", c.verb, o.name, got.err)
			}
			for shell, script := range scripts {
				want := map[string]string{"bash": "--" + o.name, "zsh": "*--" + o.name + "[", "fish": " -l " + o.name}[shell]
				if !strings.Contains(script, want) {
					t.Errorf("%s: %s --%s is missing", shell, c.verb, o.name)
				}
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d options", seen)
	}
	if got := proof("completion", "tsch"); got.code != exitWrong || !strings.Contains(got.err, "there are bash, fish, zsh") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
}

// TestEveryCommandIsHelped: each command has a help with an example that begins with it.
func TestEveryCommandIsHelped(t *testing.T) {
	for verb := range verbs {
		if !strings.Contains(helpOf[verb], "\n  proofmass "+verb) {
			t.Errorf("help %s has no example", verb)
		}
		if !strings.Contains(help, "\n  proofmass "+verb) {
			t.Errorf("the overview does not tell of %s", verb)
		}
	}
}
