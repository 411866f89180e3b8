package study

import (
	"strconv"

	"proofmass/model/unit"
)

// format reads the version of the file format.
func (r *reader) format(v field) {
	text, ok := v.text("this version reads format 1")
	if !ok || text == "1" {
		return
	}
	if n, err := strconv.Atoi(text); err == nil && n > 1 {
		v.err("format "+text+" is newer than this version", "this version reads format 1")
		return
	}
	v.wrong("this version reads format 1")
}

// name reads `study`, the name of the study.
func (r *reader) name(v field) {
	if text, ok := v.text("the name of the study, a text"); ok {
		r.s.Name = text
	}
}

func (r *reader) about(v field) {
	r.s.About, _ = v.text("a text that says what the study is about")
}

// model reads which model computes the outputs.
func (r *reader) model(v field) {
	word, ok := v.oneOf("vehicle", "formulas")
	if !ok && v.isScalar() { // go on with what was meant
		word = unit.Nearest(v.node.Value, []string{"vehicle", "formulas"})
	}
	if word != "" {
		r.s.Model = word
	}
}

func (r *reader) formulas() bool { return r.s.Model == "formulas" }

// notInFormulas refuses a key in a model of formulas.
func (r *reader) notInFormulas(v field, what string) bool {
	if r.formulas() {
		v.err("not in a model of formulas", "model: formulas has inputs and outputs; "+what+" belongs to model: vehicle")
	}
	return r.formulas()
}
