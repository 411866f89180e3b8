package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	stored "proofmass/jobs/result"
	"proofmass/jobs/study"
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
	if got := proof("show", out, "--json"); got.code != exitFailed || !strings.Contains(got.out, `"whole": false`) || !strings.Contains(got.err, "claims.parquet") {
		t.Errorf("show --json of a damaged folder: exit %d, %q %q", got.code, got.out, got.err)
	}
	if got := proof("show", out); got.code != exitFailed || got.out != "" || !strings.Contains(got.err, "claims.parquet") {
		t.Errorf("exit %d, %q, %q; want 1 and the file's name", got.code, got.out, got.err)
	}
	if got := proof("show", out, "--row", "3"); got.code != exitFailed || got.out != "" || !strings.Contains(got.err, "claims.parquet") {
		t.Errorf("show --row of a damaged folder: exit %d, %q %q", got.code, got.out, got.err)
	}
	if got := proof("run", study, "--out", out); got.code != 0 || got.out != first.out {
		t.Errorf("running it again: exit %d, %q", got.code, got.err)
	}
}

// Rows that were asked for and are not what was drawn are told.
func TestOtherRowsThanAskedFor(t *testing.T) {
	got := proof("run", write(t, small), "--out", filepath.Join(t.TempDir(), "out"), "--rows", "1")
	if got.code != 0 || !strings.Contains(got.out, "16 draws, seed 1, 1 asked for") {
		t.Errorf("--rows 1: exit %d, %s%s", got.code, got.out, got.err)
	}
}

// A page is passed on, so none is drawn of tables that are not those of the run; and what
// no page can be drawn of is told as show tells it.
func TestReportOfADamagedFolderFails(t *testing.T) {
	folder, study := t.TempDir(), write(t, small)
	out, other := filepath.Join(folder, "out"), filepath.Join(folder, "other")
	proof("run", study, "--out", out, "--rows", "512")
	proof("run", study, "--out", other, "--rows", "512", "--seed", "9")
	claims, err := os.ReadFile(filepath.Join(other, "claims.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(out, "claims.parquet"), claims, 0o666); err != nil {
		t.Fatal(err)
	}
	if got := proof("report", out); got.code != exitFailed || got.out != "" || !strings.Contains(got.err, "claims.parquet") {
		t.Errorf("another result's claims: exit %d, %q, %q; want 1 and the file's name", got.code, got.out, got.err)
	}
	if err := os.WriteFile(filepath.Join(other, "manifest.json"), []byte(`{"format": "proofmass result",`), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, verb := range []string{"show", "report"} {
		if got := proof(verb, other); got.code != exitFailed || !strings.Contains(got.err, "manifest.json") {
			t.Errorf("%s, half a manifest: exit %d, %q; want 1", verb, got.code, got.err)
		}
		if got := proof(verb, filepath.Join(folder, "none")); got.code != exitWrong || !strings.Contains(got.err, "no such folder") {
			t.Errorf("%s of no folder: exit %d, %q; want 2", verb, got.code, got.err)
		}
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
	if err := os.WriteFile(filepath.Join(out, "study.yaml"), []byte("bad: ["), 0o666); err != nil {
		t.Fatal(err)
	}
	if got := proof("show", out, "--row", "3"); got.code != exitFailed || !strings.Contains(got.err, "study.yaml: damaged") || strings.Contains(got.err, "YAML:") {
		t.Errorf("exit %d, %q; want 1 and that the file is damaged", got.code, got.err)
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
	var checked []struct {
		File     string
		CanRun   bool `json:"can_be_run"`
		Mistakes []struct {
			File, Field, Found, Allowed string
			Line, Column                int
		}
		Study           string
		Claims          []struct{ Claim, Text, Words string }
		Rows            int
		Odd             []string
		Defaults        []string `json:"uncertain_defaults"`
		UncertainInputs int      `json:"uncertain_inputs"`
		LeftOut         []any    `json:"left_out"`
		ModelRuns       int      `json:"model_runs"`
	}
	if err := json.Unmarshal([]byte(got.out), &checked); err != nil {
		t.Fatalf("%v in %s", err, got.out)
	}
	if len(checked) != 3 || checked[0].CanRun || !checked[1].CanRun || checked[1].File != good {
		t.Fatalf("checked %+v", checked)
	}
	f := checked[1]
	if f.Rows != 1024 || f.UncertainInputs != 2 || f.ModelRuns <= 1024 || len(f.Claims) != 1 || f.Claims[0].Words != "area > 4 m2" {
		t.Errorf("forecast %+v", f)
	}
	if f.Defaults == nil || f.Odd == nil || f.LeftOut == nil || f.Mistakes == nil {
		t.Error("an empty list is null, want []")
	}
	m := checked[0].Mistakes
	if len(m) != 1 || m[0].File != bad || m[0].Line != 1 || m[0].Column != 1 || m[0].Found == "" || m[0].Allowed == "" {
		t.Errorf("mistakes %+v", m)
	}
	if got.code != exitWrong || strings.Count(got.err, "study.yaml:1:1") != 2 {
		t.Errorf("exit %d, %q; want 2 and each wrong study named", got.code, got.err)
	}
}

// Every mistake of a study is in the JSON, by the fields that its line is made of.
func TestMistakesAsJSON(t *testing.T) {
	path := write(t, "format: 1\nmodel: formulas\ninputs:\n  a: {betwen: [1 kg, 2 kg]}\n  b: 5 kgs\noutputs: {y: a + c}\nsample: {rows: 0}\n")
	got := proof("check", path, "--json")
	var checked []struct{ Mistakes []study.Error }
	if err := json.Unmarshal([]byte(got.out), &checked); err != nil {
		t.Fatalf("%v in %s", err, got.out)
	}
	if len(checked) != 1 || len(checked[0].Mistakes) < 3 {
		t.Fatalf("%+v", checked)
	}
	if lines := study.Errors(checked[0].Mistakes).Error() + "\n"; lines != got.err {
		t.Errorf("the JSON says\n%sand the terminal\n%s", lines, got.err)
	}
	if first := checked[0].Mistakes[0]; first.Line != 4 || first.Column != 7 || first.Field != "inputs.a.betwen" || !strings.Contains(first.Allowed, "between") {
		t.Errorf("first mistake %+v", first)
	}
	many := "format: 1\nmodel: formulas\ninputs:\n"
	for i := range 300 {
		many += fmt.Sprintf("  x%d: {between: [0, 1]}\n", i)
	}
	got = proof("check", write(t, many+"outputs: {y: x0}\nkeep: all\nsample: {design: sobol}\n"), "--json")
	if got.code == exitWrong && !strings.Contains(got.out, `"found"`) {
		t.Errorf("a design that can not take the inputs: %s%s", got.out, got.err)
	}
}

// TestCheckSaysWhatClaimsMean: the condition in words, and a claim that reads the other
// way as odd; nothing says that a study is right.
func TestCheckSaysWhatClaimsMean(t *testing.T) {
	got := proof("check", studies+"heron.yaml")
	flat := strings.Join(strings.Fields(got.out), " ")
	for _, want := range []string{"heron-bonded-pack: the study can be run", "The claim lighter holds where bonded.kerb_mass is at least 5.25 % lower than boxed.kerb_mass (announced: -5.5 %, rounded to 0.5 %).",
		"The claim further holds where bonded.label_range is at least 7.5 % higher than boxed.label_range (announced: 8 %, rounded to 1 %)."} {
		if !strings.Contains(flat, want) {
			t.Errorf("check lacks %q:\n%s", want, got.out)
		}
	}
	if strings.Contains(flat, "Odd: The claim") || strings.Contains(flat, "is right") {
		t.Errorf("check says\n%s", got.out)
	}
	checkWidth(t, "check", got.out)
	text, err := os.ReadFile(studies + "certified-car.yaml")
	if err != nil {
		t.Fatal(err)
	}
	turned := strings.Replace(string(text), "lighter.label_range_change, announced: 3 %", "lighter.kerb_mass_change, announced: 3 %", 1)
	if got := proof("check", write(t, turned)); !strings.Contains(strings.Join(strings.Fields(got.out), " "), "Odd: The claim some_gain holds where lighter.kerb_mass is at least 2.5 % higher") {
		t.Errorf("a lighter car tested as heavier is not odd:\n%s", got.out)
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

// A result of an older schema version, its digest right, gives one message that says how to go
// on, whatever is asked of it.
func TestOlderSchemaVersion(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	if got := proof("run", write(t, small), "--out", out); got.code != exitDone {
		t.Fatal(got.err)
	}
	path := filepath.Join(out, "manifest.json")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	older := regexp.MustCompile(`"schema_version": \d+`).ReplaceAllString(string(data), `"schema_version": 1`)
	check := regexp.MustCompile(`"check": "[0-9a-f]*"`)
	plain := strings.TrimSuffix(check.ReplaceAllString(older, `"check": ""`), "\n")
	older = check.ReplaceAllString(older, fmt.Sprintf(`"check": "%x"`, sha256.Sum256([]byte(plain))))
	if err := os.WriteFile(path, []byte(older), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"report", out}, {"show", out}, {"show", out, "--row", "3"}, {"compare", out, out}, {"report", out, "--notebook"}} {
		got := proof(args...)
		if got.code != exitWrong || strings.Count(got.err, "\n") != 1 || !strings.Contains(got.err, "schema version 1, this program knows 2; run the study again") {
			t.Errorf("%v: exit %d, %q", args, got.code, got.err)
		}
	}
}
