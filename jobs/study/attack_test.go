package study

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"proofmass/jobs/study/source"
)

// bomb is aliases of aliases: nine to the power of levels values if followed.
func bomb(levels int) string {
	var b strings.Builder
	b.WriteString("format: 1\nabout:\n- &a0 [x, x, x, x, x, x, x, x, x]\n")
	for i := 1; i < levels; i++ {
		fmt.Fprintf(&b, "- &a%d [%s]\n", i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), ", "))
	}
	return b.String()
}

func numbered(n int, format string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// patience is far above what any of the files takes (a quarter of a second on an idle
// machine) and far below what following a bomb or comparing all with all would take.
const patience = 10 * time.Second

// TestAttacks reads files that no well-meaning user writes: each is refused at once,
// with a message that begins as it must.
func TestAttacks(t *testing.T) {
	const formulas = "format: 1\nmodel: formulas\n"
	tests := []struct{ name, data, want string }{
		{"empty", "", `s.yaml:1:1: the file is empty; a study begins with "format: 1"`},
		{"comment", "# nothing\n", `s.yaml:1:1: the file is empty; a study begins with "format: 1"`},
		{"mark", "\xef\xbb\xbfformat: 1\nmodle: formulas\n", `s.yaml:2:1: modle: not a key of a study; did you mean "model"?`},
		{"binary", "\x7fELF\x02\x01\x01\x00\x00", "s.yaml:1:1: the control character 0x7f; a study is text in UTF-8"},
		{"nul", "format: 1\nstudy: a\x00b\n", "s.yaml:2:9: the control character 0x00; a study is text in UTF-8"},
		{"latin1", "format: 1\nstudy: Gr\xf6\xdfe\n", "s.yaml:2:10: the byte 0xf6, which is not UTF-8; a study is text in UTF-8"},
		{"large", strings.Repeat("x", 50<<20), "s.yaml: has 52428800 bytes; a study may have at most 4194304 (4 MiB); a study is a YAML file"},
		{"bomb", bomb(9), "s.yaml:3:1: about: a list; a text that says what the study is about"},
		{"brackets", "format: 1\nstudy: " + strings.Repeat("[", 20000) + strings.Repeat("]", 20000), "s.yaml:2:"},
		{"deep", "format: 1\nstudy: " + strings.Repeat("[", 2000) + strings.Repeat("]", 2000), "s.yaml:2:72: study: nested deeper than 64 levels; a study needs fewer than ten"},
		{"dashes", strings.Repeat("- ", 20000) + "x\n", "s.yaml:1:"},
		{"expression", formulas + "inputs: {a: 2}\noutputs: {y: " + strings.Repeat("(", 20000) + "a" + strings.Repeat(")", 20000) + "}\n", "s.yaml:4:"},
		{"unknown keys", "format: 1\n" + numbered(45000, "key_%d: 1\n"), "s.yaml:2:1: key_0: not a key of a study; allowed: about,"},
		{"unknown inputs", "format: 1\ninputs:\n" + numbered(45000, " k%d: 1 kg\n"), "s.yaml:3:2: inputs: 45000 inputs; at most 1000 are allowed"},
		{"cut words", formulas + "inputs: {" + numbered(90000, "a%d, ") + "b: 1}\noutputs: {y: 1}\n", "s.yaml:3:9: inputs: 90001 inputs; at most 1000 are allowed"},
		{"vehicles", "format: 1\nvehicles:\n" + numbered(30000, " v%d: {}\n"), "s.yaml:3:2: vehicles: 30000 vehicles; at most 64 are allowed"},
		{"long key", "format: 1\n" + strings.Repeat("k", 1<<20) + ": {" + numbered(45000, "a%d: 1, ") + "b: 2}\n", "s.yaml:2:1: kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk: not a key"},
		{"values", formulas + "inputs: {a: {one_of: [" + numbered(90000, "%d, ") + "1]}}\noutputs: {y: a}\n", "s.yaml:3:22: inputs.a.one_of: 90001 values; at most 1000 are allowed"},
		{"grouped often", formulas + "inputs: {a: {between: [0, 1]}}\noutputs: {y: a}\ngroups: {g: [a" + strings.Repeat(", a", 90000) + "]}\n", `s.yaml:5:17: groups.g: "a" stands twice in the group; once is enough`},
		{"grouped strangers", formulas + "inputs: {" + numbered(999, "b%d: {between: [0, 1]}, ") + "a: 1}\noutputs: {y: a}\ngroups: {g: [" + numbered(90000, "d%d, ") + "]}\n", `s.yaml:5:14: groups.g: "d0" is no input of this study;`},
		{"long number", formulas + "inputs: {a: " + strings.Repeat("1", 1<<20) + "}\noutputs: {y: a}\n", "s.yaml:3:13: inputs.a: "},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			if err := os.WriteFile("s.yaml", []byte(tt.data), 0o666); err != nil {
				t.Fatal(err)
			}
			refused(t, "s.yaml", tt.want)
		})
	}
}

// TestUnreadable opens what is no file that can be read.
func TestUnreadable(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := errors.Join(os.Mkdir("folder", 0o777), syscall.Mkfifo("pipe", 0o666)); err != nil {
		t.Fatal(err)
	}
	refused(t, "nowhere.yaml", "nowhere.yaml: there is no such file; a study is a YAML file")
	refused(t, "folder", "folder: is a folder, not a file; a study is a YAML file")
	refused(t, "pipe", "pipe: is a pipe, not a regular file; a study is a YAML file")
	refused(t, filepath.Join("folder", "a\x1b[31m.yaml"), `folder/a\x1b[31m.yaml: there is no such file`)
}

// refused reads a file and compares the beginning of the first message.
func refused(t *testing.T, path, want string) {
	t.Helper()
	start := time.Now()
	_, err := Read(path, Options{})
	if d := time.Since(start); d > patience {
		t.Errorf("%s: refused after %v", path, d)
	}
	var all Errors
	if !errors.As(err, &all) || len(all) == 0 || len(all) > source.MostErrors+1 {
		t.Fatalf("%s: error is %T of %d, want Errors", path, err, len(all))
	}
	if got := all[0].Error(); !strings.HasPrefix(got, want) || len(got) > 1000 {
		t.Errorf("%s:\n got %.1000s\nwant %s", path, got, want)
	}
}
