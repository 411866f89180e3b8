package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	stored "proofmass/jobs/result"
)

// An answer that does not arrive is a failure, whatever the command.
func TestFullDiskIsAFailure(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		return // not on this system
	}
	defer full.Close()
	out := filepath.Join(t.TempDir(), "out")
	study := write(t, small)
	for _, args := range [][]string{
		{"run", study, "--out", out}, {"show", out}, {"show", out, "--row", "1"}, {"check", study}, {"check", study, "--json"}, {"list"}, {"version"}, {"help"},
	} {
		var errOut bytes.Buffer
		c := exec.Command(binary, args...)
		c.Stdout, c.Stderr = full, &errOut
		_ = c.Run()
		if code := c.ProcessState.ExitCode(); code != exitFailed || strings.Count(errOut.String(), "no space left") != 1 {
			t.Errorf("%v: exit %d, %q; want 1 and the reason, once", args, code, errOut.String())
		}
	}
}

// show tells a damaged folder by its exit code too, and says what mends it; run
// mends it.
func TestShowOfADamagedFolderFails(t *testing.T) {
	out, study := filepath.Join(t.TempDir(), "out"), write(t, small)
	first := proof("run", study, "--out", out)
	if err := os.Remove(filepath.Join(out, "claims.parquet")); err != nil {
		t.Fatal(err)
	}
	if got := proof("show", out); got.code != exitFailed || got.out != "" || !strings.Contains(got.err, "claims.parquet") {
		t.Errorf("exit %d, %q, %q; want 1 and the file's name", got.code, got.out, got.err)
	}
	if got := proof("run", study, "--out", out); got.code != 0 || got.out != first.out {
		t.Errorf("running it again: exit %d, %q", got.code, got.err)
	}
}

// A draw is not evaluated from a study that is not the one that was run.
func TestRowOfAChangedStudyIsRefused(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	proof("run", write(t, small), "--out", out, "--rows", "512", "--seed", "9")
	if got := proof("show", out, "--row", "3"); got.code != 0 || !strings.Contains(got.out, "\nclaims\n  large ") {
		t.Fatalf("exit %d, %q, %q", got.code, got.out, got.err)
	}
	changed := strings.Replace(small, "3 m", "4 m", 1)
	if err := os.WriteFile(filepath.Join(out, "study.yaml"), []byte(changed), 0o666); err != nil {
		t.Fatal(err)
	}
	if got := proof("show", out, "--row", "3"); got.code != exitFailed || got.out != "" {
		t.Errorf("exit %d, %q; want 1 and no figure", got.code, got.out)
	}
}

// Of a draw, show --row gives every intermediate quantity; what samples stores of
// it is the same to the last bit.
func TestRowOfTheDemo(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	proof("run", studies+"heron.yaml", "--out", out, "--rows", "512")
	text := proof("show", out, "--row", "300")
	for _, title := range []string{"DRAW 300", "\ndrawn\n", "\nconstant\n", "\nby the study's formulas\n", "\ncomputed\n", "\nclaims\n"} {
		if strings.Count(text.out, title) != 1 {
			t.Errorf("%q stands %d times, want once", title, strings.Count(text.out, title))
		}
	}
	var values []struct {
		Name  string
		Value float64
	}
	if err := json.Unmarshal([]byte(proof("show", out, "--row", "300", "--json").out), &values); err != nil {
		t.Fatal(err)
	}
	if lines := strings.Count(text.out, "\n  "); lines != len(values) || lines < 300 {
		t.Errorf("%d lines, the JSON has %d quantities; want the same, and every intermediate", lines, len(values))
	}
	shown := map[string]float64{}
	for _, v := range values {
		shown[strings.ReplaceAll(v.Name, ".", "_")] = v.Value
	}
	compared := 0
	for name, want := range storedRow(t, out, 300) {
		if got, there := shown[name]; there {
			compared++
			if got != want {
				t.Errorf("%s: show gives %v, samples %v", name, got, want)
			}
		}
	}
	if compared < 90 {
		t.Errorf("only %d columns of samples are shown", compared)
	}
}

// storedRow is a row of samples.
func storedRow(t *testing.T, folder string, row int) map[string]float64 {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(folder, "samples", "0000", "*.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	samples, err := stored.OpenSlices(paths)
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]float64{}
	for _, name := range samples.Names() {
		column, err := samples.Read(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		values[name] = column[row]
	}
	return values
}

func TestCheckOfSeveral(t *testing.T) {
	good, bad := write(t, small), write(t, "format: 1\nstudy: bad\n")
	got := proof("check", bad, good, bad, "--json")
	var forecasts []struct {
		Study           string
		Rows            int
		Odd             []string
		Defaults        []string `json:"uncertain_defaults"`
		UncertainInputs int      `json:"uncertain_inputs"`
		LeftOut         []any    `json:"left_out"`
		ModelRuns       int      `json:"model_runs"`
	}
	if err := json.Unmarshal([]byte(got.out), &forecasts); err != nil {
		t.Fatalf("%v in %s", err, got.out)
	}
	if len(forecasts) != 1 || forecasts[0].Rows != 1024 || forecasts[0].UncertainInputs != 2 || forecasts[0].ModelRuns <= 1024 {
		t.Errorf("forecasts %+v", forecasts)
	}
	if f := forecasts[0]; f.Defaults == nil || f.Odd == nil || f.LeftOut == nil {
		t.Error("an empty list is null, want []")
	}
	if got.code != exitWrong || strings.Count(got.err, "study.yaml:1:1") != 2 {
		t.Errorf("exit %d, %q; want 2 and each wrong study named", got.code, got.err)
	}
	if only := proof("check", bad, "--json"); strings.TrimSpace(only.out) != "[]" {
		t.Errorf("of wrong studies alone: %q, want []", only.out)
	}
}

// What a stranger's study says can not steer the terminal.
func TestControlCharactersNeverPass(t *testing.T) {
	text := strings.NewReplacer("study: small", `study: "small\e[2J"`+"\n"+`about: "to\e[31m be\a"`,
		"holds: area > 4 m2", `holds: area > 4 m2, said_by: "a\e]0;title\a"`).Replace(small)
	path, out := write(t, text), filepath.Join(t.TempDir(), "out")
	wrong := write(t, strings.Replace(text, "[1 m, 2 m]", `["1 \e[31mm", 2 m]`, 1))
	steps := [][]string{{"check", path}, {"run", path, "--out", out}, {"show", out}, {"run", path, "--out", out, "--seed", "8"}, {"check", wrong}, {"list", "--about", "a\x1b[31m"}}
	for _, args := range steps {
		if got := proof(args...); strings.ContainsAny(got.out+got.err, "\x1b\a\r") || got.out+got.err == "" {
			t.Errorf("%v: %q, %q", args, got.out, got.err)
		}
	}
}
