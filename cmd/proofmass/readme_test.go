package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const readmePath = "../../README.md"

// blocks are the indented blocks of a text, without their indentation.
func blocks(text string) []string {
	var all []string
	current := ""
	for line := range strings.Lines(text) {
		inside, indented := strings.CutPrefix(line, "    ")
		switch {
		case indented:
			current += inside
		case strings.TrimSpace(line) == "" && current != "":
			current += "\n"
		case current != "":
			all, current = append(all, strings.TrimSpace(current)+"\n"), ""
		}
	}
	if current != "" {
		all = append(all, strings.TrimSpace(current)+"\n")
	}
	return all
}

// excerpt is what README shows of an answer: its head, a claim, a quantity, what was
// assumed; lines left out in between are dots.
func excerpt(answer string) string {
	var b strings.Builder
	lines := strings.Split(answer, "\n")
	show := func(from string, count int) {
		for i, line := range lines {
			if strings.HasPrefix(line, from) {
				for _, l := range lines[i : i+count] {
					b.WriteString(l + "\n")
				}
				return
			}
		}
		b.WriteString("no line begins with " + from + "\n")
	}
	show("heron-bonded-pack: ", 2)
	b.WriteString("...\n")
	show("thriftier ", 10)
	b.WriteString("...\n")
	show("                                     middle", 1)
	show("label range, km ", 2)
	b.WriteString("...\n")
	show("Assumed: ", 2)
	return b.String()
}

// TestReadmeIsTrue runs every command and every study of README: commands succeed,
// studies run, and the demonstration answers what is printed there.
func TestReadmeIsTrue(t *testing.T) {
	text, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(string(text), "\n") {
		if n := len([]rune(line)); n > 120 {
			t.Errorf("README.md:%d has %d characters, at most 120 are wanted", i+1, n)
		}
	}
	out := filepath.Join(t.TempDir(), "heron-result")
	var answer string
	commands, studiesRun, shown := 0, 0, ""
	for _, block := range blocks(string(text)) {
		switch {
		case strings.HasPrefix(block, "go run ./cmd/proofmass "):
			for line := range strings.Lines(block) {
				if args, ours := strings.CutPrefix(line, "go run ./cmd/proofmass "); ours {
					args = strings.NewReplacer("testdata/studies/", studies, "heron-result", out).Replace(args)
					got := proof(strings.Fields(args)...)
					if got.code != exitDone && got.code != exitMissed {
						t.Fatalf("%s: exit %d, %s", line, got.code, got.err)
					}
					answer, commands = strings.ReplaceAll(got.out, out, "heron-result"), commands+1
				}
			}
		case strings.HasPrefix(block, "format: 1\n"):
			studiesRun++
			path := write(t, block)
			if got := proof("check", path); got.code != exitDone || strings.Contains(got.out, "Odd: The claim") {
				t.Errorf("exit %d of\n%s%s%s", got.code, block, got.out, got.err)
			}
			if got := proof("run", path, "--out", filepath.Join(t.TempDir(), "out"), "--rows", "1024"); got.code != exitDone {
				t.Errorf("exit %d of\n%s%s", got.code, block, got.err)
			}
		case strings.HasPrefix(block, "heron-bonded-pack"):
			shown = block
		}
	}
	if commands != 1 || studiesRun != 2 {
		t.Errorf("%d commands and %d studies were run", commands, studiesRun)
	}
	want := excerpt(answer)
	if *update && shown != "" && shown != want {
		indent := func(block string) string {
			return "    " + strings.ReplaceAll(strings.TrimSpace(block), "\n", "\n    ") + "\n"
		}
		if err := os.WriteFile(readmePath, []byte(strings.Replace(string(text), indent(shown), indent(want), 1)), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if shown != want {
		t.Errorf("README shows\n%sand the demonstration answers (-update writes it)\n%s", shown, want)
	}
}

// TestReadmeCommandsAreUnderstood: what README names in passing is a command line.
func TestReadmeCommandsAreUnderstood(t *testing.T) {
	text, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for i, code := range strings.Split(string(text), "`") {
		args, ours := strings.CutPrefix(code, "proofmass ")
		if i%2 == 0 || !ours || strings.ContainsAny(args, "\n") {
			continue
		}
		seen++
		got := proof(strings.Fields(args)...)
		if strings.Contains(got.err, "see proofmass help") || strings.Contains(got.err, "found command") || !strings.Contains(args, "heron-result") && got.code != exitDone {
			t.Errorf("proofmass %s: exit %d, %s", args, got.code, got.err)
		}
	}
	if seen < 6 {
		t.Errorf("only %d commands", seen)
	}
}
