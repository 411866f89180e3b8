package study

import (
	"strings"
	"testing"
)

// TestNumbersDigest has texts that no number depends on leave the digest alone, and all
// else change it.
func TestNumbersDigest(t *testing.T) {
	const study = `format: 1
study: a
about: first
use: [cells.yaml]
inputs:
  drag_coefficient: {between: [0.22, 0.24], source: a paper, note: seen}  # a comment
own: {share: {value: 0.9, meaning: of the floor}}
vehicles:
  one: {source: filed, kerb_mass: {value: 1900 kg, said_by: someone}, pack_mass: 450 kg}
  two:
    based_on: [one, cell]
    kerb_mass: 1880 kg
    displaced: {floor: {value: 20 kg, link: somewhere}}
outputs: {net: {formula: two.kerb_mass - one.kerb_mass, meaning: what is saved}}
claims: {light: {of: two.kerb_mass, announced: 1890 kg, sense: at_most, said_by: launch}}
`
	const cells = "about: cells\nvehicles: {cell: {cell_mass: {value: 71 g, as_of: 2026}}}\n"
	read := func(study, cells string) string {
		return mustRead(t, Options{}, study, "cells.yaml", cells).NumbersDigest
	}
	want := read(study, cells)
	for _, edit := range [][2]string{
		{"a comment", "another"}, {"study: a", "study: b"}, {"first", "second"}, {"a paper", "a book"}, {", note: seen", ""}, {"of the floor", "of the roof"},
		{"source: filed, ", ""}, {"someone", "nobody"}, {"somewhere", "elsewhere"}, {"what is saved", "saved"}, {"launch", "brochure"}, {"1900 kg", "'1900 kg'"},
		{"{value: 20 kg, link: somewhere}", "{value: 20 kg}"}, {"    based_on: [one, cell]", "\n    based_on:\n      - one\n      - cell"},
	} {
		if !strings.Contains(study, edit[0]) {
			t.Fatal(edit)
		}
		if got := read(strings.Replace(study, edit[0], edit[1], 1), cells); got != want {
			t.Errorf("%q for %q is another study", edit[1], edit[0])
		}
	}
	if read(study, strings.Replace(strings.Replace(cells, "about: cells", "about: drums", 1), "2026", "2027", 1)) != want {
		t.Error("texts of a used file make another study")
	}
	for _, edit := range [][2]string{
		{"0.24", "0.25"}, {"between", "arcsine"}, {"share", "part"}, {"1900 kg", "1901 kg"}, {"[one, cell]", "one"}, {"20 kg", "21 kg"}, {"floor:", "roof:"},
		{"displaced", "added"}, {"- one.kerb_mass", "+ one.kerb_mass"}, {"at_most", "at_least"}, {"net:", "gross:"}, {"source: filed", "certified: no"},
		{"source: a paper", "how_known: filed"},
	} {
		if got := read(strings.Replace(study, edit[0], edit[1], 1), cells); got == want {
			t.Errorf("%q for %q is the same study", edit[1], edit[0])
		}
	}
	if read(study, strings.Replace(cells, "71", "72", 1)) == want {
		t.Error("another number of a used file is the same study")
	}
	const named = "format: 1\nmodel: formulas\ninputs: {note: 1, source: 2}\noutputs: {y: note + source}\n"
	a, b := mustRead(t, Options{}, named), mustRead(t, Options{}, strings.Replace(named, "note: 1", "note: 3", 1))
	if a.NumbersDigest == b.NumbersDigest {
		t.Error("an input called note is taken for free text")
	}
	seed := uint64(9)
	if mustRead(t, Options{Seed: &seed}, named).NumbersDigest == a.NumbersDigest || mustRead(t, Options{Rows: 99}, named).NumbersDigest == a.NumbersDigest {
		t.Error("another seed or number of rows is the same study")
	}
}
