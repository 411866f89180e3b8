package study

import (
	"maps"
	"slices"
)

// modelError is what a study calls the model's own error: one input to whoever reads
// the answer, normal numbers of the catalogue's own to the model, which no study names.
const modelError = "model_error"

var modelErrorNormals = []string{"model_error_z1", "model_error_z2"}

// ofModelError reports whether a name is that of the model's own error or of a number
// behind it.
func (r *reader) ofModelError(name string) bool {
	return !r.formulas() && (name == modelError || slices.Contains(modelErrorNormals, name))
}

// groupableError reports whether a name is that of the model's own error and a vehicle
// reads it.
func (r *reader) groupableError(f field, name string) bool {
	reads := r.normalsRead()
	switch {
	case name != modelError:
		f.err(quote(name)+" is no input of this study", `did you mean "`+modelError+`"?`)
	case len(reads) == 0 && !r.misspelt:
		f.err(name+" is read by no vehicle that runs", grouped+" is an input that the study uses")
	}
	return name == modelError && len(reads) > 0
}

// normalsRead are the numbers behind the model's own error that a run draws.
func (r *reader) normalsRead() []string {
	var reads []string
	for _, name := range modelErrorNormals {
		if _, read := r.defaultsRead()[name]; read {
			reads = append(reads, name)
		}
	}
	return reads
}

// drawn puts the numbers that are drawn for the model's own error in its place.
func (r *reader) drawn(names []string) []string {
	var all []string
	for _, name := range names {
		if r.ofModelError(name) {
			all = append(all, r.normalsRead()...)
		} else {
			all = append(all, name)
		}
	}
	return all
}

// uncertainDefaults are the uncertain defaults that are read, by the names that a
// study may use.
func (r *reader) uncertainDefaults() []string {
	names := map[string]bool{}
	for name, kind := range r.defaultsRead() {
		switch {
		case kind != Uncertain:
		case r.ofModelError(name):
			names[modelError] = true
		default:
			names[name] = true
		}
	}
	return slices.Sorted(maps.Keys(names))
}
