package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The tests run the built binary, since `go run` turns every failure into 1.
var binary string

const studies = "../../testdata/studies/"

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "proofmass")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	binary = filepath.Join(folder, "proofmass")
	code := 1
	if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "%s%v\n", out, err)
	} else {
		code = m.Run()
	}
	os.RemoveAll(folder)
	os.Exit(code)
}

// result is what one command line gave.
type result struct {
	code     int
	out, err string
}

func proof(args ...string) result {
	var out, errOut bytes.Buffer
	c := exec.Command(binary, args...)
	c.Stdout, c.Stderr = &out, &errOut
	err := c.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		return result{-1, "", err.Error()}
	}
	return result{c.ProcessState.ExitCode(), out.String(), errOut.String()}
}

func write(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "study.yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// small is a study that runs in milliseconds.
const small = `format: 1
study: small
model: formulas
inputs: {x: {between: [1 m, 2 m]}, y: {normal: {mean: 3 m, sd: 1 m}}}
outputs: {area: x * y}
claims: {large: {holds: area > 4 m2}}
sample: {rows: 1024}
indices: {half_width: 0.5, at_most: 4096}
`

func TestExitCodes(t *testing.T) {
	good, folder := write(t, small), t.TempDir()
	blocked := filepath.Join(folder, "file")
	if err := os.WriteFile(blocked, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	bad := write(t, "format: 1\nstudy: bad\nmodel: formulas\ninputs: {x: {between: [2 m, 1 m]}}\noutputs: {y: x}\n")
	strict := write(t, strings.Replace(small, "half_width: 0.5", "half_width: 0.001", 1))
	growing := strings.Replace(small, "rows: 1024", "half_width: {chance: 0.4}, at_most: 2000", 1)
	short := write(t, strings.Replace(growing, "0.4", "0.0005", 1))
	growing = write(t, growing)
	for name, c := range map[string]struct {
		args []string
		code int
		says string // on stderr
	}{
		"done":               {[]string{"run", good, "--out", filepath.Join(folder, "done")}, 0, ""},
		"checked":            {[]string{"check", good}, 0, ""},
		"wrong study":        {[]string{"run", bad, "--out", filepath.Join(folder, "wrong")}, 2, "study.yaml:4:"},
		"checked wrong":      {[]string{"check", bad, good}, 2, "study.yaml:4:"},
		"no such study":      {[]string{"run", "nowhere.yaml", "--out", folder}, 2, "nowhere.yaml: there is no such file"},
		"half-width missed":  {[]string{"run", strict, "--out", filepath.Join(folder, "strict")}, 4, ""},
		"sample grown":       {[]string{"run", growing, "--out", filepath.Join(folder, "grown")}, 0, ""},
		"sample too small":   {[]string{"run", short, "--out", filepath.Join(folder, "short")}, 4, ""},
		"growth checked":     {[]string{"check", short}, 0, ""},
		"out below a file":   {[]string{"run", good, "--out", filepath.Join(blocked, "x")}, 2, "--out"},
		"foreign folder":     {[]string{"run", good, "--out", folder}, 2, "is left alone"},
		"out is a file":      {[]string{"run", good, "--out", blocked}, 2, "is a file; a folder is wanted"},
		"read nowhere":       {[]string{"check", good, "--read", "nowhere"}, 2, "--read: nowhere: there is no such folder"},
		"no out":             {[]string{"run", good}, 2, "--out is missing"},
		"no study":           {[]string{"run", "--out", folder}, 2, "a study file"},
		"two studies":        {[]string{"run", good, good, "--out", folder}, 2, "would have one folder"},
		"rows 0":             {[]string{"run", good, "--out", folder, "--rows", "0"}, 2, "--rows"},
		"rows text":          {[]string{"run", good, "--out", folder, "--rows", "many"}, 2, "many"},
		"workers 0":          {[]string{"run", good, "--out", folder, "--workers", "0"}, 2, "--workers"},
		"seed -1":            {[]string{"run", good, "--out", folder, "--seed", "-1"}, 2, "-1"},
		"unknown flag":       {[]string{"run", good, "--turbo"}, 2, "turbo"},
		"unknown command":    {[]string{"rum"}, 2, "did you mean run"},
		"no command":         {[]string{"foo"}, 2, "there are new, check, run, show, report, compare, score, slice, join, submit, list"},
		"score of nothing":   {[]string{"score", "a", "b"}, 2, "--against is missing"},
		"nothing":            {nil, 2, "proofmass run STUDY"},
		"show nothing":       {[]string{"show", filepath.Join(folder, "none")}, 2, "there is no such folder"},
		"list nonsense":      {[]string{"list", "input"}, 2, "did you mean inputs"},
		"about nonsense":     {[]string{"list", "--about", "gear_eficiency"}, 2, "did you mean gear_efficiency"},
		"help of nonsense":   {[]string{"help", "rum"}, 2, "did you mean run"},
		"help":               {[]string{"help"}, 0, ""},
		"help of a command":  {[]string{"run", "--help"}, 0, ""},
		"version":            {[]string{"version"}, 0, ""},
		"version as a flag":  {[]string{"--version"}, 0, ""},
		"version with more":  {[]string{"version", "x"}, 2, "takes none"},
		"row of nothing":     {[]string{"show", folder, "--row", "1"}, 2, "no result folder"},
		"study that is dir":  {[]string{"check", folder}, 2, "is a folder"},
		"empty study's name": {[]string{"check", ""}, 2, ""},
	} {
		t.Run(name, func(t *testing.T) {
			got := proof(c.args...)
			if got.code != c.code || !strings.Contains(got.err, c.says) {
				t.Errorf("exit %d, stderr %q; want %d and %q", got.code, got.err, c.code, c.says)
			}
			if strings.Contains(got.err, "goroutine") {
				t.Errorf("a stack trace: %s", got.err)
			}
			if got.code == exitWrong && name != "checked wrong" && got.out != "" {
				t.Errorf("stdout %q, want nothing", got.out)
			}
		})
	}
	if _, err := os.Stat(filepath.Join(folder, "wrong")); err == nil {
		t.Error("a wrong study made its output folder")
	}
}

func TestAnswerAndItsJSON(t *testing.T) {
	study, out := write(t, small), filepath.Join(t.TempDir(), "out")
	text := proof("run", study, "--out", out)
	for _, want := range []string{"its one claim is in doubt", "large  ", "tested    area > 4 m2", "whether   hangs on y (", "area, m2 ", "Assumed: ", "--full"} {
		if !strings.Contains(text.out, want) {
			t.Errorf("the answer lacks %q:\n%s", want, text.out)
		}
	}
	if strings.ContainsAny(text.out+text.err, "\x1b\r") {
		t.Error("a pipe got colour or a bar")
	}
	again := proof("run", study, "--out", out, "--json")
	var answer struct {
		Claims []struct {
			Claim  string
			Chance float64
		}
	}
	if err := json.Unmarshal([]byte(again.out), &answer); err != nil {
		t.Fatalf("%v in %s", err, again.out)
	}
	// x y > 4 with x uniform on 1 to 2 and y normal(3, 1): 0.5823 by quadrature.
	if len(answer.Claims) != 1 || answer.Claims[0].Chance < 0.53 || answer.Claims[0].Chance > 0.63 {
		t.Errorf("claims %+v, want one near 0.58", answer.Claims)
	}
	if shown := proof("show", out); shown.code != 0 || !strings.HasPrefix(shown.out, text.out[:200]) || !strings.HasSuffix(shown.out, "Every file is whole.\n") {
		t.Errorf("show: exit %d\n%s", shown.code, shown.out)
	}
}

func TestShowRowIsTheStoredRow(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	proof("run", write(t, small), "--out", out)
	got := proof("show", out, "--row", "700", "--json")
	var values []struct {
		Name  string
		Value float64
	}
	if err := json.Unmarshal([]byte(got.out), &values); err != nil {
		t.Fatalf("%v in %q, %q", err, got.out, got.err)
	}
	v := map[string]float64{}
	for _, value := range values {
		v[value.Name] = value.Value
	}
	if v["area"] != v["x"]*v["y"] || v["area"] == 0 {
		t.Errorf("area %g, want x y = %g", v["area"], v["x"]*v["y"])
	}
	for _, row := range []string{"-1", "1024"} {
		if got := proof("show", out, "--row", row); got.code != exitWrong || !strings.Contains(got.err, "0 to 1023") {
			t.Errorf("row %s: exit %d, %q", row, got.code, got.err)
		}
	}
}

func TestInterruptStops(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	c := exec.Command(binary, "run", studies+"heron.yaml", "--out", out, "--rows", "4000000")
	var errOut bytes.Buffer
	c.Stderr = &errOut
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	for range 200 { // until the run has begun to write
		if _, err := os.Stat(filepath.Join(out, "manifest.json")); err == nil {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	if err := c.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	_ = c.Wait()
	if code := c.ProcessState.ExitCode(); code != exitStopped || !strings.Contains(errOut.String(), "goes on from here") {
		t.Errorf("exit %d, %q; want %d", code, errOut.String(), exitStopped)
	}
	if got := proof("show", out); got.code != 0 || !strings.Contains(got.out, "not finished") {
		t.Errorf("show: exit %d, %q %q", got.code, got.out, got.err)
	}
}

// Every command line in the help is one that the program understands.
func TestHelpExamplesAreUnderstood(t *testing.T) {
	seen := 0
	t.Chdir(t.TempDir()) // some of them write files
	for verb, text := range helpOf {
		if got := proof("help", verb); got.out != text {
			t.Errorf("help %s prints %q", verb, got.out)
		}
		for _, line := range strings.Split(text, "\n") {
			example, ok := strings.CutPrefix(line, "  proofmass ")
			if !ok {
				continue
			}
			seen++
			example, _, _ = strings.Cut(example, "#")
			example, _, _ = strings.Cut(example, ">")
			got := proof(strings.Fields(example)...)
			if strings.Contains(got.err, "see proofmass help") || strings.Contains(got.err, "unknown") {
				t.Errorf("%s: %s", example, got.err)
			}
		}
	}
	if seen < 6 {
		t.Errorf("only %d examples", seen)
	}
}

func TestListTellsEverything(t *testing.T) {
	for kind, want := range map[string]string{"inputs": "gear_efficiency", "outputs": "label_range", "schedules": "udds", "distributions": "triangular", "functions": "ln(a)", "units": "lbf", "methods": "shapley", "tables": "chance_low"} {
		got := proof("list", kind)
		if got.code != 0 || !strings.Contains(got.out, "\n  "+want+" ") {
			t.Errorf("list %s: exit %d, lacks %s", kind, got.code, want)
		}
		checkWidth(t, "list "+kind, got.out)
	}
	if got := proof("list", "--about", "gear_efficiency"); !strings.Contains(got.out, "0.971") || !strings.Contains(got.out, "default from") {
		t.Errorf("list --about: %s", got.out)
	}
	for name, want := range map[string]string{
		"bonded.face_sheet_mass": "face_sheet_mass = footprint x (face_sheet_thickness + lower_sheet_thickness) x face_sheet_density or else face_sheet_mass = the sum of count x mass of the lines that a bill has of it made from footprint, face_sheet_thickness, face_sheet_density, lower_sheet_thickness",
		"pack_mass":              "equation pack_mass = pack_energy / pack_specific_energy or else pack_mass = cells_mass x (1 + non_cell_ratio) or else pack_mass = that of its base + what changed in the lines of the bill or else pack_mass = cells_mass + filler_mass",
		"b.kerb_mass_change":     "kerb_mass meaning kerb mass",
		"ln":                     "ln(a) meaning the same as log",
	} {
		got := proof("list", "--about", name)
		if !strings.Contains(strings.Join(strings.Fields(got.out), " "), want) {
			t.Errorf("list --about %s lacks %q:\n%s", name, want, got.out)
		}
		checkWidth(t, name, got.out)
	}
}
