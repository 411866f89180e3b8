package compare_test

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/compare"
	"proofmass/jobs/study"
)

// ran runs a study in a folder of its own and returns the result folder.
func ran(t *testing.T, text string, files ...string) string {
	t.Helper()
	folder := t.TempDir()
	for i := 0; i+1 < len(files); i += 2 {
		if err := os.WriteFile(filepath.Join(folder, files[i]), []byte(files[i+1]), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(folder, "study.yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(folder, "out")
	if _, err := jobs.Run(context.Background(), path, jobs.Options{Out: out}); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return out
}

func compared(t *testing.T, old, new string) *compare.Comparison {
	t.Helper()
	c, err := compare.Read(context.Background(), old, new, compare.Options{Version: jobs.Version,
		Read: func(path string) (*study.Study, error) { return jobs.Read(path, study.Options{}) }})
	if err != nil {
		t.Fatal(err)
	}
	if c.Method.Why != "" {
		t.Fatal(c.Method.Why)
	}
	addsUp(t, c)
	return c
}

// addsUp: causes and other draws make the whole change of every figure.
func addsUp(t *testing.T, c *compare.Comparison) {
	t.Helper()
	one := func(name string, x compare.Change) {
		if x.By == nil || c.Method.Changes == 0 {
			return
		}
		sum, size := 0.0, math.Abs(*x.Before)+math.Abs(*x.After)+1e-300
		for _, cause := range x.Causes {
			sum += cause.By
			size = max(size, math.Abs(cause.By))
		}
		if x.Draws == nil {
			t.Errorf("%s: the line of the draws is missing", name)
		} else if sum += *x.Draws; math.Abs(sum-*x.By) > 1e-12*size && *x.Draws != 0 || math.Abs(sum-*x.By) > 1e-9*size {
			t.Errorf("%s: %.17g, want %.17g", name, sum, *x.By)
		}
	}
	for _, x := range c.Outputs {
		one(x.Name+", middle", x.Middle)
		one(x.Name+", mean", x.Mean)
		one(x.Name+", width", x.Width)
	}
	for _, x := range c.Claims {
		one(x.Name, x.Chance)
	}
}

func causes(x compare.Change) map[string]float64 {
	all := map[string]float64{}
	for _, c := range x.Causes {
		all[c.Cause] = c.By
	}
	return all
}

func output(t *testing.T, c *compare.Comparison, name string) compare.Output {
	t.Helper()
	for _, x := range c.Outputs {
		if x.Name == name {
			return x
		}
	}
	t.Fatalf("no output %s", name)
	return compare.Output{}
}

const product = `format: 1
study: product
model: formulas
inputs: {a: 2, b: 5, c: {between: [0 m, 1 m]}, d: 4}
outputs: {y: a * b + c / 1 (m), z: d * c}
claims: {large: {holds: y > 10.5}}
sample: {rows: 1024}
indices: none
`

// TestProduct has an answer that is counted by hand: 2 x 5 becomes 3 x 7; a brings 5 or 7,
// whether it goes first or second, b brings 4 or 6.
func TestProduct(t *testing.T) {
	old := ran(t, product)
	new := ran(t, strings.NewReplacer("a: 2", "a: 3", "b: 5", "b: {value: 7, source: counted again}").Replace(product))
	c := compared(t, old, new)
	for _, of := range []compare.Change{output(t, c, "y").Middle, output(t, c, "y").Mean} {
		if got := causes(of); len(got) != 2 || math.Abs(got["a"]-6) > 1e-12 || math.Abs(got["b"]-5) > 1e-12 || *of.Draws != 0 {
			t.Errorf("causes %v and %v of %v; want a 6 and b 5", got, *of.Draws, *of.By)
		}
	}
	if got := causes(output(t, c, "z").Middle); got["a"] != 0 || got["b"] != 0 {
		t.Errorf("z reads neither: %v", got)
	}
	// The chance of c > 0.5 becomes 1 with either change: half of it each.
	if got := causes(c.Claims[0].Chance); got["a"] != 0.25 || got["b"] != 0.25 || !c.Claims[0].Moved {
		t.Errorf("%v; moved: %v", got, c.Claims[0].Moved)
	}
	if len(c.Inputs) != 2 || c.Inputs[1].Change != compare.StatedOtherwise || c.Inputs[1].After.Source != "counted again" {
		t.Errorf("inputs %+v", c.Inputs)
	}
	back := compared(t, new, old)
	if got := causes(output(t, back, "y").Mean); math.Abs(got["a"]+6) > 1e-12 || math.Abs(got["b"]+5) > 1e-12 {
		t.Errorf("the other way round: %v", got)
	}
	reordered := ran(t, strings.Replace(strings.NewReplacer("a: 2", "a: 3", "b: 5", "b: 7").Replace(product), "a: 3, b: 7, c:", "b: 7, a: 3, c:", 1))
	if got := causes(output(t, compared(t, old, reordered), "y").Mean); math.Abs(got["a"]-6) > 1e-12 || math.Abs(got["b"]-5) > 1e-12 {
		t.Errorf("lines in another order: %v", got)
	}
}

// TestManyChanges: more than are taken in every order, acting in pairs, which random orders
// and their reverses get exactly.
func TestManyChanges(t *testing.T) {
	text := "format: 1\nstudy: many\nmodel: formulas\ninputs: {%s, u: {between: [0, 1]}}\noutputs: {y: \"a0*a1 + a2*a3 + a4*a5 + a6*a7 + u\"}\nsample: {rows: 512}\nindices: none\n"
	list := func(value func(i int) string) string {
		var all []string
		for i := range 8 {
			all = append(all, "a"+string(rune('0'+i))+": "+value(i))
		}
		return strings.Replace(text, "%s", strings.Join(all, ", "), 1)
	}
	c := compared(t, ran(t, list(func(int) string { return "1" })), ran(t, list(func(i int) string { return string(rune('2' + i)) })))
	if c.Method.Name != compare.RandomOrders || c.Method.Changes != 8 {
		t.Fatalf("%+v", c.Method)
	}
	for name, by := range causes(output(t, c, "y").Mean) {
		i := float64(name[1] - '0')
		other := i + 1 // the other factor, from 1 to 2 + its number
		if int(i)%2 == 1 {
			other = i - 1
		}
		if want := (i + 1) * (1 + (2 + other)) / 2; math.Abs(by-want) > 1e-12*100 {
			t.Errorf("%s brought %.15g, want %g", name, by, want)
		}
	}
}

// TestLinesThatGoTogether: an own quantity and the formula that reads it are one change; an
// added and a dropped item, a used file and the baseline are told apart.
func TestLinesThatGoTogether(t *testing.T) {
	const text = `format: 1
study: cars
use: [cells.yaml]
inputs: {drag_coefficient: 0.25, frontal_area: {between: [2.2 m2, 2.3 m2]}, rolling_coefficient: 0.009, usable_share: 0.95}
vehicles:
  one: {kerb_mass: 1500(10) kg, pack_mass: 400 kg, pack_energy: 60 kWh}
  two: {based_on: [one, cell], pack_mass: 380 kg, pack_energy: 60 kWh, displaced: {panel: 10 kg}}
claims: {lighter: {of: two.kerb_mass_change, announced: -2 %, sense: at_least}}
sample: {rows: 512}
indices: none
`
	old := ran(t, text, "cells.yaml", "vehicles: {cell: {cell_height: 80 mm}}\nformat: 1\n")
	new := ran(t, strings.NewReplacer("inputs: {", "own: {slack: 5 kg}\ninputs: {", "pack_mass: 380 kg", "pack_mass: {formula: 375 kg + slack}",
		"displaced: {panel: 10 kg}", "displaced: {seat: 8 kg}, added: {beam: 3 kg}").Replace(text),
		"cells.yaml", "format: 1\nvehicles: {cell: {cell_height: 90 mm}}\n")
	c := compared(t, old, new)
	got := causes(output(t, c, "two.kerb_mass").Mean)
	for name, want := range map[string]float64{"slack, two.pack_mass": 0, "two.displaced.panel": 10, "two.displaced.seat": -8, "two.added.beam": 3, "cell.cell_height": 0} {
		if by, there := got[name]; !there || math.Abs(by-want) > 1e-9 {
			t.Errorf("%s brought %g (%v), want %g", name, by, there, want)
		}
	}
	if len(got) != 5 {
		t.Errorf("%v", got)
	}
}

// TestOtherDraws: the same study with another seed has no cause but its draws.
func TestOtherDraws(t *testing.T) {
	old, new := ran(t, product), ran(t, strings.Replace(product, "rows: 1024", "rows: 2048, seed: 9", 1))
	c := compared(t, old, new)
	y := output(t, c, "y")
	if c.Method.Changes != 0 || len(y.Mean.Causes) != 0 || *y.Mean.By == 0 || len(c.Notes) != 1 || len(c.Inputs) != 0 {
		t.Errorf("%+v, %v, %+v", y.Mean, c.Notes, c.Inputs)
	}
	if text := told(t, c); !strings.Contains(text, "no inputs changed, and the draws are others") || !strings.Contains(text, "other draws") {
		t.Error(text)
	}
	new = ran(t, strings.NewReplacer("rows: 1024", "rows: 2048, seed: 9", "d: 4", "d: 5").Replace(product))
	c = compared(t, old, new)
	if len(c.Inputs) != 1 || c.Inputs[0].Name != "d" {
		t.Errorf("%+v", c.Inputs)
	}
	if got := output(t, c, "y").Mean; causes(got)["d"] != 0 || *got.Draws != *got.By {
		t.Errorf("%+v", got)
	}
}

func TestUnchangedAndWords(t *testing.T) {
	old := ran(t, product)
	new := ran(t, "# a comment\n"+strings.NewReplacer("a: 2", "a: {value: 2, how_known: guess}").Replace(product))
	c := compared(t, old, new)
	if len(c.Inputs) != 1 || c.Inputs[0].Change != compare.Words || c.Method.Changes != 0 || len(c.Changed()) != 0 {
		t.Errorf("%+v, %+v", c.Inputs, c.Method)
	}
	if text := told(t, c); !strings.Contains(text, "no inputs changed; no verdict moved") || !strings.Contains(text, "not said how known -> guess") || !strings.Contains(text, "No output changed") {
		t.Error(text)
	}
}

func told(t *testing.T, c *compare.Comparison) string {
	t.Helper()
	var b strings.Builder
	if err := c.Text(&b, 0); err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(b.String(), "\n") {
		if len([]rune(line)) > 80 || strings.TrimRight(line, " ") != line {
			t.Errorf("%d characters: %q", len([]rune(line)), line)
		}
	}
	return b.String()
}

// TestWhatIsNotComparable: other studies, other models, other versions are told.
func TestWhatIsNotComparable(t *testing.T) {
	old := ran(t, product)
	other := ran(t, "format: 1\nstudy: other\nmodel: formulas\ninputs: {q: {between: [0, 1]}}\noutputs: {w: q}\nsample: {rows: 512}\nindices: none\n")
	read := func(path string) (*study.Study, error) { return jobs.Read(path, study.Options{}) }
	if _, err := compare.Read(context.Background(), old, other, compare.Options{Version: jobs.Version, Read: read}); !errors.Is(err, compare.ErrOther) {
		t.Errorf("found %v", err)
	}
	swept := ran(t, strings.Replace(product, "claims:", "choices: {a: [1, 2]}\nclaims:", 1))
	if _, err := compare.Read(context.Background(), old, swept, compare.Options{Version: jobs.Version, Read: read}); !errors.Is(err, compare.ErrChoices) {
		t.Errorf("found %v", err)
	}
	renamed := ran(t, strings.Replace(product, "study: product", "study: renamed", 1))
	if c := compared(t, old, renamed); len(c.Notes) != 1 || !strings.Contains(c.Notes[0], "two studies, product and renamed") {
		t.Errorf("%v", c.Notes)
	}
	c, err := compare.Read(context.Background(), old, old, compare.Options{Version: "99.0.0", Read: read})
	if err != nil || len(c.Notes) != 1 || !strings.Contains(c.Notes[0], "99.0.0 works out") {
		t.Errorf("%v, %v", c, err)
	}
	gone := func(string) (*study.Study, error) { return nil, errors.New("of another time") }
	c, err = compare.Read(context.Background(), old, renamed, compare.Options{Version: jobs.Version, Read: gone})
	if err != nil || !strings.Contains(told(t, c), "of another time") {
		t.Errorf("%v", err)
	}
	more := ran(t, strings.NewReplacer("outputs: {", "outputs: {extra: a + 1, ", "claims: {large", "claims: {small: {holds: extra < 9}, larger").Replace(product))
	if c := compared(t, old, more); strings.Join(c.Added, " ") != "small larger all_claims extra" || strings.Join(c.Gone, " ") != "large" {
		t.Errorf("added %v, gone %v", c.Added, c.Gone)
	}
}
