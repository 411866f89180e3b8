package study

import (
	"strconv"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
)

// format reads the version of the file format.
func (r *reader) format(v source.Field) {
	text, ok := v.Text("this version reads format 1")
	if !ok || text == "1" {
		return
	}
	if n, err := strconv.Atoi(text); err == nil && n > 1 {
		v.Err("format "+text+" is newer than this version", "this version reads format 1")
		return
	}
	v.Wrong("this version reads format 1")
}

// name reads `study`, the name of the study.
// name reads the name of the study, which heads every answer.
func (r *reader) name(v source.Field) {
	text, ok := v.Text("the name of the study, a text")
	switch {
	case ok && text == "":
		v.Err("an empty name", "the name of the study is a text; without one it is that of the file")
	case ok:
		r.s.Name = text
	}
}

func (r *reader) about(v source.Field) {
	r.s.About, _ = v.Text("a text that says what the study is about")
}

// model reads which model computes the outputs.
func (r *reader) modelName(v source.Field) {
	word, ok := v.OneOf("vehicle", "formulas")
	if !ok && v.IsScalar() { // go on with what was meant
		word = unit.Nearest(v.Raw(), []string{"vehicle", "formulas"})
	}
	if word != "" {
		r.declared.model = word
	}
}

// notInFormulas refuses a key in a model of formulas.
func (r *reader) notInFormulas(v source.Field, what string) bool {
	if r.formulas() {
		v.Err("not in a model of formulas", "model: formulas has inputs and outputs; "+what+" belongs to model: vehicle")
	}
	return r.formulas()
}
