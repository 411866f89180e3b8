package jobs

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// Choosing is a study of twelve choices. The 10th percentile of y is a (2 - a) - (b - 1)^2
// less 1.2816 standard deviations of the noise, exactly, and the mean of cost a + b / 10. So
// a = 1, b = 1 is the best, and the front is a = 0, 0.5 and 1 with b = 1, and a = b = 0, which
// costs least: each other one is worse in both than one of these.
const Choosing = `format: 1
study: choosing
model: formulas
inputs: {noise: {normal: {mean: 0, sd: 0.01}}, other: {between: [-0.01, 0.01]}}
choices: {a: [0, 0.5, 1, 2], b: [0, 1, 2]}
outputs: {y: a * (2 - a) - (b - 1)^2 + noise, cost: a + b / 10 + other}
claims: {much: {holds: y >= 0.9}}
best: {maximise: y, at: p10}
front: [{higher: y, at: p10}, {lower: cost, at: mean}]
sample: {rows: 32_768, seed: 5}
`

func choicesOf(t *testing.T, folder string) *result.ChoiceTable {
	t.Helper()
	m, err := result.ReadManifest(folder)
	if err != nil {
		t.Fatal(err)
	}
	table, _, err := result.ReadChoices(folder, m)
	if err != nil || table == nil {
		t.Fatal(table, err)
	}
	return table
}

// The best and the front of a closed form are found, with the figures that they have, and
// what is off is dropped early.
func TestChoicesOfAClosedForm(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	answer, err := Run(t.Context(), WriteStudy(t, Choosing), Options{Out: out})
	if err != nil {
		t.Fatal(err)
	}
	table := choicesOf(t, out)
	front := map[string]bool{"0 0": true, "0 1": true, "0.5 1": true, "1 1": true}
	dropped := 0
	for _, r := range table.Rows {
		a, b := r.Set[0], r.Set[1]
		at := fmt.Sprintf("%g %g", a, b)
		want := map[bool]string{true: "yes", false: "no"}
		if r.Best != want[a == 1 && b == 1] || r.Front != want[front[at]] {
			t.Errorf("choice %s: best %s, front %s", at, r.Best, r.Front)
		}
		exact := a*(2-a) - (b-1)*(b-1) - 1.2815515655446004*0.01
		if y := r.Figures[0]; r.Rows == 32_768 && !(y.Low < exact && exact < y.High) || math.Abs(y.Value-exact) > 0.002 {
			t.Errorf("choice %s: p10 is %+v, exactly %g", at, y, exact)
		}
		if r.DroppedIn == r.DroppedIn {
			dropped++
			if off := table.Rows[int(r.DroppedFor)-1]; !front[fmt.Sprintf("%g %g", off.Set[0], off.Set[1])] {
				t.Errorf("choice %s is dropped for %s, which is off itself", at, off.Chosen)
			}
		}
	}
	if c := answer.Answer.Choices; dropped != 8 || c.Dropped != 8 || c.Saved <= 0 || len(c.Front) != 4 || c.Best[0].Chosen != "a 1, b 1" || c.Told != 8 {
		t.Errorf("%d dropped; %+v", dropped, c)
	}
}

// Of the choice that the answer is about its claims are told in pairs, as without choices; so is one that is alone told of
// what decides it, though nothing asks which is the best.
func TestWhatIsToldOfOneChoice(t *testing.T) {
	text := strings.Replace(Choosing, "claims: {", "claims: {cheap: {holds: cost <= 0.6}, ", 1)
	var answers []*Outcome
	for _, text := range []string{text, strings.NewReplacer("a: [0, 0.5, 1, 2], b: [0, 1, 2]", "a: [0.5], b: [1]", "best: {maximise: y, at: p10}\n", "",
		"front: [{higher: y, at: p10}, {lower: cost, at: mean}]\n", "", "32_768", "4096").Replace(text)} {
		got, err := Run(t.Context(), WriteStudy(t, text), Options{Out: filepath.Join(t.TempDir(), "out")})
		if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, got)
	}
	for i, got := range answers {
		if n := len(got.Answer.Joint); n != 2 || len(got.Answer.Decides) == 0 {
			t.Errorf("study %d: %d pairs of claims, want 2; what decides is told of %d", i, n, len(got.Answer.Decides))
		}
	}
	// choice 8 is a = 1, b = 1: it is much surely, and never cheap
	for _, r := range answers[0].Answer.Joint {
		if r.Claim == "cheap" && *r.Chance != 0 {
			t.Errorf("%+v", r)
		}
	}
}

// With `keep: summary` the files of a choice go as soon as it has left the race, and nothing else changes: not after an end at
// any part, nor where what was kept of a choice is damaged meanwhile.
func TestDroppedChoicesLeaveNoFiles(t *testing.T) {
	whole := filepath.Join(t.TempDir(), "whole")
	want := map[string][]byte{}
	for name, data := range runInto(t, WriteStudy(t, Choosing), Options{Out: whole}) {
		if !strings.HasPrefix(name, "samples") {
			want[name] = data
		}
	}
	path, out := WriteStudy(t, Choosing+"keep: summary\n"), filepath.Join(t.TempDir(), "out")
	gone, damaged := 0, false
	for stop := 1; ; stop += 7 {
		n := 0
		_, err := Run(t.Context(), path, Options{Out: out, Workers: 1, kept: func(plan.Key) error {
			if n++; n >= stop {
				return errEnded
			}
			return nil
		}})
		if err == nil {
			break
		}
		if !errors.Is(err, errEnded) {
			t.Fatal(err)
		}
		kept, _ := filepath.Glob(filepath.Join(out, "work", joinedKind, "*", "*.part"))
		if gone = max(gone, len(kept)); len(kept) > 0 && !damaged {
			damaged = true
			if err := os.Truncate(kept[0], 100); err != nil {
				t.Fatal(err)
			}
			continue
		}
		for _, part := range kept {
			c := 0
			if _, err := fmt.Sscanf(filepath.Base(filepath.Dir(part)), "0000-%d", &c); err != nil {
				t.Fatal(part, err)
			}
			first := result.SliceName(result.SampleKind, 0, c-1) // a slice a choice in the first look
			if _, err := os.Stat(filepath.Join(out, first)); err == nil {
				t.Errorf("choice %d has left the race, and %s is still there", c, first)
			}
		}
	}
	if gone < 5 || !damaged {
		t.Errorf("what %d choices say was kept, want 5 at least", gone)
	}
	equalTables(t, "keep: summary", TablesOf(t, out), want)
	if _, err := os.Stat(filepath.Join(out, "work")); err == nil {
		t.Error("work is left")
	}
}

// The demonstration of a trade space, with fewer rows: every choice is there, demands are kept by what may be the best, no
// choice of the front is worse than another in both, and thinner sheets are lighter, all else alike.
func TestTradeSpace(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	o := Options{Out: out}
	o.Study.Rows = 1024
	answer, err := Run(t.Context(), "../testdata/studies/trade-space.yaml", o)
	if err != nil {
		t.Fatal(err)
	}
	table := choicesOf(t, out)
	column := func(of []result.Column, name string) int {
		i := slices.IndexFunc(of, func(c result.Column) bool { return c.Name == name })
		if i < 0 {
			t.Fatalf("there is no column %s among %+v", name, of)
		}
		return i
	}
	sheet, mass := column(table.Set, "bonded_face_sheet_thickness"), column(table.Figures, "bonded_pack_mass_mean")
	reach, chance := column(table.Figures, "bonded_label_range_p10"), column(table.Figures, "lighter_chance")
	if len(table.Rows) != 30 || len(answer.Answer.Choices.Front) == 0 {
		t.Fatalf("%d choices, want 5 x 3 x 2; front %+v", len(table.Rows), answer.Answer.Choices.Front)
	}
	for i, a := range table.Rows {
		if a.Best == "yes" && a.Figures[chance].Value < 0.9 {
			t.Errorf("choice %s is the best and keeps its demand in %g of the draws", a.Chosen, a.Figures[chance].Value)
		}
		for k, b := range table.Rows {
			same := i != k && slices.EqualFunc(a.Set, b.Set, func(x, y float64) bool { return x == y || (x == a.Set[sheet] && y == b.Set[sheet]) })
			if same && a.Rows == b.Rows && a.Set[sheet] < b.Set[sheet] && a.Figures[mass].Value >= b.Figures[mass].Value {
				t.Errorf("%s is no lighter than %s", a.Chosen, b.Chosen)
			}
			worse := a.Rows == b.Rows && a.Figures[reach].High < b.Figures[reach].Low && a.Figures[mass].Low > b.Figures[mass].High
			if a.Front == "yes" && worse {
				t.Errorf("%s is on the front, and %s is surely better", a.Chosen, b.Chosen)
			}
		}
	}
}

// Workers, the order of the slices and an end after any of them change no byte.
func TestChoicesHaveTheSameBytes(t *testing.T) {
	path := WriteStudy(t, Choosing)
	want := runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "one"), Workers: 1})
	for _, workers := range []int{2, 7} {
		equalTables(t, fmt.Sprintf("%d workers", workers), runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "more"), Workers: workers}), want)
	}
	equalTables(t, "in reverse", runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "back"), Workers: 1, order: reversed}), want)
	out := filepath.Join(t.TempDir(), "ended")
	made := map[plan.Key]int{}
	for stop := 1; ; stop = stop*3/2 + 1 { // rare ends: each begins anew
		n := 0
		_, err := Run(t.Context(), path, Options{Out: out, Workers: 1, kept: func(k plan.Key) error {
			made[k]++
			if n++; n >= stop {
				return errEnded
			}
			return nil
		}})
		if err == nil {
			break
		}
		if !errors.Is(err, errEnded) {
			t.Fatal(err)
		}
	}
	for k, n := range made {
		if n > 1 {
			t.Errorf("%+v was made %d times", k, n)
		}
	}
	equalTables(t, "ended and begun anew", TablesOf(t, out), want)
}

// Every choice has the same draws, a choice stands in for what is stated, doubt included, and
// is inherited like it.
func TestAChoiceIsStatedInItsPlace(t *testing.T) {
	path := WriteStudy(t, `format: 1
vehicles:
  today: {kerb_mass: 1610(15) kg, pack_mass: {between: [380 kg, 400 kg]}, pack_energy: 57 kWh}
  announced: {based_on: today, displaced: {floor: 16(3) kg}}
inputs: {drag_coefficient: 0.25, frontal_area: 2.3(1) m2}
choices: {today.pack_energy: [55 kWh, 57 kWh], today.displaced.roof: [0 kg]}
`)
	if _, err := Read(path, study.Options{}); err == nil {
		t.Error("an item that does not stand there is chosen")
	}
	path = WriteStudy(t, `format: 1
vehicles:
  today: {kerb_mass: 1610(15) kg, pack_mass: {between: [380 kg, 400 kg]}, pack_energy: 57 kWh}
  announced: {based_on: today, displaced: {floor: 16(3) kg}}
inputs: {drag_coefficient: 0.25, frontal_area: 2.3(1) m2}
choices: {today.pack_mass: [370 kg, 390 kg], announced.displaced.floor: [10 kg, 20 kg]}
sample: {rows: 512}
indices: none
`)
	out := filepath.Join(t.TempDir(), "out")
	if _, err := Run(t.Context(), path, Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	rows := RowsOf(t, result.Summary.Read, out)
	find := func(choice int64, output string) result.SummaryRow {
		for _, r := range rows {
			if r.Choice == choice && r.Output == output {
				return r
			}
		}
		t.Fatalf("choice %d has no %s", choice, output)
		return result.SummaryRow{}
	}
	for choice, want := range [][2]float64{{370, 10}, {390, 10}, {370, 20}, {390, 20}} {
		c := int64(choice + 1)
		if pack, floor := find(c, "today.pack_mass"), find(c, "announced.displaced.floor"); pack.Min != want[0] || pack.Max != want[0] || math.Abs(floor.Mean-want[1]) > 1e-9 || floor.SD != 0 {
			t.Errorf("choice %d: pack %g to %g, floor %g", c, pack.Min, pack.Max, floor.Mean)
		}
		if kerb := find(c, "announced.kerb_mass_change"); kerb.SD > 1e-3 && kerb.Mean > 0 {
			t.Errorf("choice %d: %+v", c, kerb)
		}
		if a, b := find(1, "frontal_area"), find(c, "frontal_area"); a.Mean != b.Mean || a.P05 != b.P05 {
			t.Errorf("choice %d has other draws than choice 1", c)
		}
	}
}

// What check foretells of choices is what a run stores, to a tenth.
func TestChoicesTakeTheForetoldRoom(t *testing.T) {
	path := WriteStudy(t, strings.Replace(Choosing, "front: [{higher: y, at: p10}, {lower: cost, at: mean}]\n", "", 1))
	path = WriteStudy(t, strings.Replace(readFile(t, path), "best: {maximise: y, at: p10}\n", "", 1))
	s, err := Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := Planned(s)
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "out")
	if _, err := Run(t.Context(), path, Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	if got, want := held(filepath.Join(out, "samples")), SampleBytes(p); math.Abs(float64(got-want)) > 0.1*float64(want) {
		t.Errorf("samples take %d bytes, foretold %d", got, want)
	}
}

func readFile(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
