package record_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/record"
	"proofmass/jobs/study"
	"proofmass/sensitivity/score"
)

// foretold runs a study into a folder of its own name.
func foretold(t *testing.T, folder, name, text string) string {
	t.Helper()
	path := filepath.Join(folder, name+".yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(folder, name)
	if _, err := jobs.Run(context.Background(), path, jobs.Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	return out
}

// Invented: a normal length and what is claimed of it.
const rod = `format: 1
study: %s
model: formulas
indices: none
sample: {rows: 16_384}
inputs: {length: {normal: {mean: 10 m, sd: 0.5 m}}, warm: {normal: {mean: 20 degC, sd: 2 K}}, share: {between: [0 %%, 10 %%]}}
outputs: {twice: {formula: 2 * length, unit: m}, heat: {formula: warm, unit: degC}}
claims:
  long:  {of: twice, announced: 21 m, sense: at_least}
  never: {holds: length < 0 m}
`

// TestScoresMeetClosedForms: a normal prediction, the error of the measurement with it, scores
// as the closed form says; units are turned; a claim's chance is that of the normal.
func TestScoresMeetClosedForms(t *testing.T) {
	folder := t.TempDir()
	out := foretold(t, folder, "rod", fmt.Sprintf(rod, "rod"))
	r := read(t, folder, `# measured, invented
name,study,value,sd,unit,guess,guess_sd,measured_on
length,rod,1020,,cm,10.1,,
twice,rod,20.4,0.75,m,20,2,2999-01-01
heat,rod,71.6,,degF,,,2001-01-01
share,rod,12,,%,,,
long,rod,1,,,0.5,,
never,rod,0,,,,,
`, out)
	o := r.Outcomes
	near := func(what string, got *float64, want, within float64) {
		t.Helper()
		if got == nil || !(math.Abs(*got-want) <= within) {
			t.Errorf("%s: %v, want %g", what, got, want)
		}
	}
	near("crps", o[0].CRPS, score.Normal(10, 0.5, 10.2), 2e-4)
	near("p05", o[0].P05, 10-1.6448536*0.5, 5e-3)
	near("a bare guess, turned too", o[0].GuessScore, 10.2-0.101, 1e-12)
	near("it", o[0].Guess, 0.101, 1e-12)
	wide := math.Hypot(1, 0.75)
	near("crps with the measurement's error", o[1].CRPS, score.Normal(20, wide, 20.4), 0.01)
	near("p95 with the measurement's error", o[1].P95, 20+1.6448536*wide, 0.06)
	near("the guess", o[1].GuessScore, score.Normal(20, math.Hypot(2, 0.75), 20.4), 1e-12)
	near("width", o[1].Sharper, 0.5, 5e-3)
	near("the announcement", o[1].AnnouncedScore, score.Normal(21, 0.75, 20.4), 1e-12)
	near("degF", &o[2].Value, 22, 1e-9)
	near("crps of degC", o[2].CRPS, score.Normal(20, 2, 22), 2e-3)
	if o[3].Inside == nil || *o[3].Inside || o[3].Unit != "%" || o[3].Value != 12 {
		t.Errorf("the share is %+v", o[3])
	}
	near("a chance", o[4].Brier, 0.84134474606854294859*0.84134474606854294859, 5e-3)
	near("the guess of a claim", o[4].GuessScore, 0.25, 0)
	near("an impossible claim", o[5].Brier, 0, 0)
	if o[0].Came != record.Unknown || o[1].Came != record.First || o[2].Came != record.Late {
		t.Errorf("came %s, %s, %s", o[0].Came, o[1].Came, o[2].Came)
	}
	if r.Claims.N != 2 || r.Claims.Held != 1 || len(r.Predictions[0].Digest) != 64 {
		t.Errorf("%+v", r.Claims)
	}
	var text strings.Builder
	if err := r.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{r.Predictions[0].Digest, "LATE for 1 of 6", "sharper than the guess: 0.5 of its width", "ABOVE it", "1 of 2 claims held"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the text lacks %q:\n%s", want, text.String())
		}
	}
}

// TestOneClaim: of one claim nothing can be told apart, so no parts of its score are told.
func TestOneClaim(t *testing.T) {
	folder := t.TempDir()
	r := read(t, folder, "study,name,value,unit\nrod,long,1,\n", foretold(t, folder, "rod", fmt.Sprintf(rod, "rod")))
	var text strings.Builder
	if err := r.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	if r.Claims.N != 1 || r.Claims.Reliability != nil || strings.Contains(text.String(), "CLAIMS") || !strings.Contains(text.String(), "Brier score") {
		t.Errorf("%+v\n%s", r.Claims, text.String())
	}
}

// TestNamesOfFolders: several results of one study are told apart by their folders; the same
// bytes give the same scores in any order of the folders.
func TestNamesOfFolders(t *testing.T) {
	folder := t.TempDir()
	a, b := foretold(t, folder, "early", fmt.Sprintf(rod, "rod")), foretold(t, folder, "later", fmt.Sprintf(rod, "rod"))
	for _, order := range [][]string{{a, b}, {b, a}} {
		r := read(t, folder, "study,name,value,unit\nearly,length,10.2,m\nlater,length,10.2,m\n", order...)
		if *r.Outcomes[0].CRPS != *r.Outcomes[1].CRPS || r.Outcomes[0].Folder != a || r.Calibration[1].Studies != 2 {
			t.Errorf("%+v", r.Outcomes)
		}
	}
	wrong(t, folder, "study,name,value,unit\nrod,length,10.2,m\n", "outcomes.csv:2:1: study", "2 of the folders", a, b)
	wrong(t, folder, "study,name,value,unit\nrod,length,10.2,m\nearly,length,10.3,m\n", "outcomes.csv:3:7: name", "a second time", a) // one result by two names
}

// wrong wants a mistake at a place, and one that names what is allowed.
func wrong(t *testing.T, folder, outcomes, place, words string, folders ...string) {
	t.Helper()
	path := filepath.Join(folder, "outcomes.csv")
	if err := os.WriteFile(path, []byte(outcomes), 0o666); err != nil {
		t.Fatal(err)
	}
	_, err := record.Read(record.Options{Folders: folders, Against: path, Whole: func(string) error { return nil }})
	var all study.Errors
	if !errors.As(err, &all) || !strings.Contains(err.Error(), place) || !strings.Contains(err.Error(), words) {
		t.Errorf("%q: %v, want %s and %q", outcomes, err, place, words)
	}
}

func TestWrongOutcomes(t *testing.T) {
	folder := t.TempDir()
	out := foretold(t, folder, "rod", fmt.Sprintf(rod, "rod"))
	const head = "study,name,value,sd,unit,measured_on,guess,guess_sd\n"
	for _, c := range []struct{ text, place, words string }{
		{"", ":1:1:", "the first is study,name"},
		{"study;name;value\n", ":1:1:", "separated by commas"},
		{"study,name,worth\n", `:1:12: column "worth"`, "the columns are"},
		{"study,name,name,value\n", ":1:12:", "each stands once"},
		{"study,name\nrod,length\n", ":1:1: no column value", "must be there"},
		{head, "outcomes.csv: no outcome", "a line for each"},
		{head + "rod,length,ten,,m,,,\n", `:2:12: value: "ten"`, "a number alone"},
		{head + "rod,length,,,m,,,\n", ":2:12: value: nothing", "must be there"},
		{head + "rod,length,1,-2,m,,,\n", `:2:14: sd: "-2"`, "not below nil"},
		{head + "rod,length,1,,,,,\n", ":2:15: unit: nothing", "length is in m"},
		{head + "rod,length,1,,kg,,,\n", `:2:15: unit: "kg"`, "length is in m"},
		{head + "rod,length,1,,mm mm,,,\n", `:2:15: unit: "mm mm"`, "length is in m"},
		{head + "rod,length,1,,Meter,,,\n", ":2:15: unit", "no unit"},
		{head + "rod,lenght,1,,m,,,\n", `:2:5: name: "lenght"`, "did you mean length?"},
		{head + "röd,length,1,,m,x,,\n", ":2:17: measured_on", "a day as"},
		{head + "röd,length,1,,m,,,\n", ":2:1: study", "the folders hold rod"},
		{head + "rod,length,1,,m,,,3\n", ":2:19: guess_sd", "beside a guess"},
		{head + "rod,length,1,,m,,,,9\n", ":2:20: 9 values", "names 8 columns"},
		{head + "rod,long,2,,,,,\n", ":2:10: value: 2.00 of a claim", "1: it held"},
		{head + "rod,long,1,1,,,,\n", ":2:12: sd", "leave it empty"},
		{head + "rod,long,1,,m,,,\n", ":2:13: unit", "a claim has none"},
		{head + "rod,long,1,,,,1.5,\n", ":2:15: guess", "a chance from 0 to 1"},
		{head + "rod,long,1,,,,0.5,0.1\n", ":2:19: guess_sd", "leave it empty"},
		{head + "rod,length,1,,m,,,\nrod,length,1,,m,,,\n", ":3:5: name", "a second time"},
		{head + "rod,\"length,1\n", ":2:15:", "no CSV"},
	} {
		wrong(t, folder, c.text, c.place, c.words, out)
	}
	os.Remove(filepath.Join(folder, "outcomes.csv"))
	_, err := record.Read(record.Options{Folders: []string{out}, Against: filepath.Join(folder, "outcomes.csv"), Whole: func(string) error { return nil }})
	var all study.Errors
	if !errors.As(err, &all) {
		t.Errorf("no file: %v", err)
	}
	kept := foretold(t, folder, "few", strings.Replace(fmt.Sprintf(rod, "few"), "indices: none", "indices: none\nkeep: summary", 1))
	wrong(t, folder, head+"few,length,1,,m,,,\n", ":2:5: name", "kept no draws", kept)
}
