package study

import (
	"strings"
	"testing"
)

const withHistory = `format: 1
model: formulas
inputs:
  a: {between: [0, 1]}
  b: {between: [2 m, 3 m], source: a rumour, how_known: leaked, withdrawn: the rumour was taken back}
outputs: {y: a}
claims:
  low: {holds: a < 0.9}
  high: {of: y, announced: 0.8, sense: at_least, withdrawn: nobody says so any more}
history:
  - {on: 2 May, what: b taken out, why: nobody stands by it}
  - {on: 3 May, what: checked}
`

// TestWithdrawn: what is withdrawn does not count, stays in sight, and its reason is no
// number; that it is withdrawn is one.
func TestWithdrawn(t *testing.T) {
	s := mustRead(t, Options{}, withHistory)
	if len(s.Inputs) != 1 || len(s.Claims) != 1 || len(s.Withdrawn) != 2 || len(s.History) != 2 {
		t.Fatalf("%d inputs, %d claims, %+v, %+v", len(s.Inputs), len(s.Claims), s.Withdrawn, s.History)
	}
	if w := s.Withdrawn[0]; w != (Withdrawn{"b", "between 2 m and 3 m", "leaked", "a rumour", "the rumour was taken back"}) {
		t.Errorf("%+v", w)
	}
	if w := s.Withdrawn[1]; w.Name != "high" || w.StatedAs != "y at least 0.8" {
		t.Errorf("%+v", w)
	}
	if e := s.History[0]; e != (Event{"2 May", "b taken out", "nobody stands by it"}) {
		t.Errorf("%+v", e)
	}
	other := mustRead(t, Options{}, strings.NewReplacer("the rumour was taken back", "otherwise", "3 May", "4 May").Replace(withHistory))
	if other.NumbersDigest != s.NumbersDigest {
		t.Error("a reason is taken for a number")
	}
	if back := mustRead(t, Options{}, strings.Replace(withHistory, ", withdrawn: the rumour was taken back", "", 1)); back.NumbersDigest == s.NumbersDigest || len(back.Inputs) != 2 {
		t.Error("that a number counts again is taken for no change")
	}
	for wrong, says := range map[string]string{
		"withdrawn: the rumour was taken back": "",
		"withdrawn: yes":                       "the reason is expected",
		"withdrawn: ''":                        "the reason is expected",
		"withdrawn: [x]":                       "the reason is expected",
	} {
		_, err := readText(t, Options{}, strings.Replace(withHistory, "withdrawn: the rumour was taken back", wrong, 1))
		if (err == nil) != (says == "") || err != nil && !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", wrong, err)
		}
	}
	for wrong, says := range map[string]string{"history: none": "history is a list", "history: [{on: 2 May}]": "without on or what", "history: [x]": "mapping", "history: [{on: 2 May, what: x, who: y}]": "not a key"} {
		_, err := readText(t, Options{}, withHistory[:strings.Index(withHistory, "history:")]+wrong+"\n")
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", wrong, err)
		}
	}
	if _, err := readText(t, Options{}, strings.Replace(withHistory, "y: a", "y: a + b / 1 (m)", 1)); err == nil || !strings.Contains(err.Error(), "b") {
		t.Errorf("what is withdrawn can still be read: %v", err)
	}
}
