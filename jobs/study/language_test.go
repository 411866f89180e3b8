package study

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/study/uncertain"
)

var allowedKeys = regexp.MustCompile(`^allowed: (.*)$`)

// takes asks the reader which keys it takes where ZZZ stands in the text, by the message
// that lists them.
func takes(t *testing.T, text string, files ...string) []string {
	t.Helper()
	_, err := readText(t, Options{}, strings.ReplaceAll(text, "ZZZ", "zzzzzzzzzz: 1"), files...)
	var wrong Errors
	errors.As(err, &wrong)
	for _, e := range wrong {
		if m := allowedKeys.FindStringSubmatch(e.Allowed); m != nil && strings.HasSuffix(e.Field, "zzzzzzzzzz") {
			keys := strings.Split(strings.Replace(m[1], " and ", ", ", 1), ", ")
			slices.Sort(keys)
			return keys
		}
	}
	t.Fatalf("no list of keys for %s: %v", text, err)
	return nil
}

// TestLanguageIsWhatTheReaderTakes: every key that the reader takes is told, and no
// other, in each mapping.
func TestLanguageIsWhatTheReaderTakes(t *testing.T) {
	const head = "format: 1\nmodel: formulas\ninputs: {a: {between: [0, 1]}}\noutputs: {y: a}\n"
	asked := map[string][]string{
		"the study":                         takes(t, head+"ZZZ\n"),
		"KNOWN: how well a number is known": takes(t, "format: 1\nmodel: formulas\ninputs: {a: {ZZZ}}\n"),
		"an output":                         takes(t, strings.Replace(head, "{y: a}", "{y: {ZZZ}}", 1)),
		"a claim":                           takes(t, head+"claims: {c: {ZZZ}}\n"),
		"sample":                            takes(t, head+"sample: {ZZZ}\n"),
		"half_width of sample":              takes(t, head+"sample: {half_width: {ZZZ}, at_most: 10000}\n"),
		"indices":                           takes(t, head+"indices: {ZZZ}\n"),
		"an entry of together":              takes(t, head+"together: [{ZZZ}]\n"),
		"a fact of measured":                takes(t, head+"measured: [{ZZZ}]\n"),
		"a measurement of could_measure":    takes(t, head+"could_measure: [{ZZZ}]\n"),
		"an account of either":              takes(t, head+"either: {b: {ZZZ}, c: {}}\n"),
		"an entry of history":               takes(t, head+"history: [{ZZZ}]\n"),
		"values":                            takes(t, "format: 1\nmodel: formulas\ninputs: {a: {values: {ZZZ}}}\n"),
		"a schedule of your own":            takes(t, "format: 1\nschedules: {trip: {ZZZ}}\nvehicles: {a: {kerb_mass: 1500 kg}}\n"),
		"a used file":                       takes(t, "format: 1\nuse: [cells.yaml]\n", "cells.yaml", "zzzzzzzzzz: 1\n"),
		"choices, instead of names":         {"list", "over", "spread"},
		"values of a choice":                takes(t, head+"choices: {b: {ZZZ}}\n"),
		"best":                              takes(t, head+"choices: {b: [1]}\nbest: {ZZZ}\n"),
		"an entry of front":                 takes(t, head+"choices: {b: [1]}\nfront: [{ZZZ}, {higher: y}]\n"),
		"a line of a bill":                  takes(t, "format: 1\nvehicles: {a: {bill: {lid: {ZZZ}}}}\n"),
		"a bill in a file":                  takes(t, "format: 1\nvehicles: {a: {bill: {file: pack.csv, ZZZ}}}\n"),
		"a vehicle":                         nil,
		"beside any number":                 nil,
	}
	free := uncertain.FreeText{}
	for key := range uncertain.FreeKeys(&free) {
		asked["beside any number"] = append(asked["beside any number"], key)
	}
	asked["a vehicle"] = append([]string{"QUANTITY"}, vehicleKeys...)
	for _, section := range Language() {
		want, known := asked[section.Title]
		delete(asked, section.Title)
		var got []string
		for _, k := range section.Keys {
			got = append(got, k.Key)
			if len(k.Form) > 30 || !strings.Contains(k.Form, k.Key) || len(k.Meaning) > 44 && k.Key != "how_known" {
				t.Errorf("%s: %+v does not fit a line", section.Title, k)
			}
		}
		got = append(got, section.Also...)
		slices.Sort(got)
		slices.Sort(want)
		if section.Title == "a used file" {
			want = slices.DeleteFunc(want, func(key string) bool { return key == "use" }) // is refused there
		}
		if !known || !slices.Equal(got, want) {
			t.Errorf("%s:\n told  %v\n taken %v", section.Title, got, want)
		}
	}
	if len(asked) > 0 {
		t.Errorf("not told: %v", asked)
	}
}

// TestLanguageKnowsEveryMapping: what is told as a key without keys of its own takes no
// mapping with keys of its own either.
func TestLanguageKnowsEveryMapping(t *testing.T) {
	for _, key := range []string{"format", "study", "about", "model", "use", "baseline", "keep", "intervals", "coverage"} {
		text := "format: 1\nmodel: formulas\n" + key + ": {zzzzzzzzzz: 1}\n"
		if key == "format" || key == "model" {
			text = key + ": {zzzzzzzzzz: 1}\n"
		}
		if _, err := readText(t, Options{}, text); err == nil || strings.Contains(err.Error(), "zzzzzzzzzz: not a key") {
			t.Errorf("%s takes keys that are not told: %v", key, err)
		}
	}
}

// TestExampleIsRight: the example of the help is a study.
func TestExampleIsRight(t *testing.T) {
	if s := mustRead(t, Options{}, Example); len(s.Claims) != 1 || len(s.Vehicles) != 2 {
		t.Errorf("%+v", s)
	}
}
