package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// dated is the day of the run in a figure's foot; the rest of a figure is a function of the
// study.
var dated = regexp.MustCompile(`[0-9]{1,2} [A-Z][a-z]+ [0-9]{4}`)

// TestWalkThrough does what README's walk from a rumour to a corrected report says, line by
// line: commands succeed, what is shown of answers is what they say, and its pictures are
// those that the program draws (-update writes them).
func TestWalkThrough(t *testing.T) {
	text, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	_, walk, found := strings.Cut(string(text), "## From a rumour")
	walk, _, _ = strings.Cut(walk, "\n## ")
	if !found {
		t.Fatal("README has no walk")
	}
	folder := t.TempDir()
	answers, commands, shown, edits := "", 0, 0, 0
	for _, block := range blocks(walk) {
		for line := range strings.Lines(block) {
			line = strings.TrimSuffix(line, "\n")
			args, ours := strings.CutPrefix(line, "proofmass ")
			key, _, isLine := strings.Cut(line, ":")
			switch {
			case ours:
				commands++
				c := exec.Command(binary, strings.Fields(args)...)
				c.Dir = folder
				out, err := c.Output()
				if err != nil {
					t.Fatalf("%s: %v\n%s", line, err, out)
				}
				answers = string(out)
			case strings.Contains(answers, "\n"+line+"\n"):
				shown++
			case isLine && strings.Contains(line, "{"):
				edits++
				replaceLine(t, filepath.Join(folder, "rumour.yaml"), key, line)
			default:
				t.Errorf("README shows %q; the answer is\n%s", line, answers)
			}
			if strings.HasPrefix(line, "proofmass report") {
				answers = lastAnswer(t, folder, strings.Fields(args)[1])
			}
		}
	}
	if commands != 7 || shown != 3 || edits != 2 {
		t.Errorf("%d commands, %d answers, %d changed lines", commands, shown, edits)
	}
	pictures := regexp.MustCompile(`\(testdata/walk/([a-z-]+\.svg)\)`).FindAllStringSubmatch(walk, -1)
	if len(pictures) != 2 {
		t.Errorf("%d pictures", len(pictures))
	}
	for i, m := range pictures {
		drawn, err := os.ReadFile(filepath.Join(folder, []string{"first", "second"}[min(i, 1)], "figures", m[1]))
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("../../testdata/walk", m[1])
		if *update {
			if err := os.WriteFile(path, drawn, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		stored, err := os.ReadFile(path)
		if err != nil || dated.ReplaceAllString(string(stored), "") != dated.ReplaceAllString(string(drawn), "") {
			t.Errorf("%s is not what the program draws now (%v); go test ./cmd/proofmass -run WalkThrough -update writes it", path, err)
		}
	}
}

// lastAnswer is what show says of a result of the walk.
func lastAnswer(t *testing.T, folder, result string) string {
	t.Helper()
	c := exec.Command(binary, "show", result)
	c.Dir = folder
	out, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// replaceLine puts a line in place of the one with the same key.
func replaceLine(t *testing.T, path, key, line string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines, found := strings.Split(string(text), "\n"), false
	for i, l := range lines {
		if strings.HasPrefix(strings.TrimSpace(l), key+":") {
			lines[i], found = l[:len(l)-len(strings.TrimLeft(l, " "))]+line, true
		}
	}
	if !found {
		t.Fatalf("%s has no line %s", path, key)
	}
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\n")), 0o666); err != nil {
		t.Fatal(err)
	}
}
