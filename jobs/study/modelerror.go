package study

import (
	"maps"
	"slices"

	"proofmass/jobs/study/source"
)

// modelError is what a study calls the model's own error: one input to whoever reads
// the answer, normal numbers of the catalogue's own to the model, which no study names.
const modelError = "model_error"

var modelErrorNormals = []string{"model_error_z1", "model_error_z2"}

// ofModelError reports whether a name is that of the model's own error or of a number
// behind it.
func (r *resolver) ofModelError(name string) bool {
	return !r.formulas() && (name == modelError || slices.Contains(modelErrorNormals, name))
}

// groupableError reports whether a name is that of the model's own error and a vehicle
// reads it.
func (r *resolver) groupableError(f source.Field, name string) bool {
	reads := r.normalsRead()
	switch {
	case name != modelError:
		f.Err(source.Quote(name)+" is no input of this study", `did you mean "`+modelError+`"?`)
	case len(reads) == 0 && !r.unclear:
		f.Err(name+" is read by no vehicle that runs", grouped+" is an input that the study uses")
	}
	return name == modelError && len(reads) > 0
}

// normalsRead are the numbers behind the model's own error that a run draws.
func (r *resolver) normalsRead() []string {
	var reads []string
	for _, name := range modelErrorNormals {
		if _, read := r.defaultsRead()[name]; read {
			reads = append(reads, name)
		}
	}
	return reads
}

// drawn puts the numbers that are drawn for the model's own error in its place.
func (r *resolver) drawn(names []string) []string {
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
func (r *resolver) uncertainDefaults() []string {
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
