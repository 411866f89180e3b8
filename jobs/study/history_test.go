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
	if e := s.History[0]; e != (Event{On: "2 May", What: "b taken out", Why: "nobody stands by it"}) {
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

const withPast = `format: 1
history: [{on: 1 May, what: begun}]
inputs:
  drag_coefficient: {between: [0.24, 0.26], history: [{on: 2 May, what: widened, why: another picture}]}
  frontal_area: {value: 2.3(1) m2, history: [{on: 3 May, what: stated}]}
vehicles:
  today: {kerb_mass: 1610(15) kg, pack_mass: 388(9) kg, history: [{on: 4 May, what: weighed again}]}
  announced:
    based_on: today
    pack_mass: 331(9) kg
    displaced: {floor_panel: {value: 16(3) kg, history: [{on: 5 May, what: added}]}}
  unused_template: {based_on: today, history: [{on: 6 May, what: kept}]}
outputs:
  saved: {formula: today.kerb_mass - announced.kerb_mass, unit: kg, history: [{on: 7 May, what: asked for}]}
  doubled: {formula: 2 * saved, unit: kg, withdrawn: asks nothing new, source: a wish, history: [{on: 8 May, what: withdrawn}]}
claims:
  lighter: {of: announced.kerb_mass_change, announced: -5 %, sense: at_least, history: [{on: 9 May, what: heard}]}
together: [{inputs: [drag_coefficient, frontal_area], spearman: -0.3, history: [{on: 10 May, what: tied}]}]
`

// TestHistoryStandsBesideAll: of the study, of numbers, items, vehicles, outputs, claims and
// ties; no number depends on it. An output that is withdrawn is not computed and stays in sight.
func TestHistoryStandsBesideAll(t *testing.T) {
	s := mustRead(t, Options{}, withPast)
	got := map[string]string{}
	for _, e := range s.History {
		got[e.On] = e.Of + ": " + e.What
	}
	for on, want := range map[string]string{"1 May": ": begun", "2 May": "drag_coefficient: widened", "3 May": "frontal_area: stated", "4 May": "today: weighed again", "5 May": "announced.displaced.floor_panel: added",
		"7 May": "saved: asked for", "8 May": "doubled: withdrawn", "9 May": "lighter: heard", "10 May": "drag_coefficient and frontal_area together: tied"} {
		if got[on] != want {
			t.Errorf("%s: %q, want %q", on, got[on], want)
		}
	}
	if w := s.Withdrawn; len(w) != 1 || w[0] != (Withdrawn{"doubled", "2 * saved", "", "a wish", "asks nothing new"}) || len(s.Outputs) != 1 {
		t.Errorf("%+v, %d outputs", w, len(s.Outputs))
	}
	if other := mustRead(t, Options{}, strings.NewReplacer("weighed again", "x", "asked for", "y", "widened", "z", "heard", "w", "tied", "v").Replace(withPast)); other.NumbersDigest != s.NumbersDigest {
		t.Error("history is taken for a number")
	}
	if back := mustRead(t, Options{}, strings.Replace(withPast, "withdrawn: asks nothing new, ", "", 1)); back.NumbersDigest == s.NumbersDigest || len(back.Outputs) != 2 {
		t.Error("that an output counts again is taken for no change")
	}
	_, err := readText(t, Options{}, strings.Replace(withPast, "formula: today.kerb_mass", "formula: 0 * doubled + today.kerb_mass", 1))
	if err == nil || !strings.Contains(err.Error(), `"doubled" was withdrawn`) {
		t.Errorf("what reads a withdrawn output: %v", err)
	}
}
