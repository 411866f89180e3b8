package study

import (
	"maps"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/vehicle"
)

const grouped = "what is grouped"

// factor is what the model shows as one input though it draws several defaults for it:
// its own error, whose numbers no study names, and the losses that are left to the
// catalogue. ok is false for any other name.
func (r *resolver) factor(name string) (f vehicle.Factor, ok bool) {
	if r.formulas() {
		return f, false
	}
	owner, plain, full := strings.Cut(name, ".")
	if !full {
		plain = name
	}
	f, ok = r.catalogue.FactorNamed(plain)
	if !ok || f.Own != full {
		return vehicle.Factor{}, false
	}
	if full {
		f.Name, f.Quantities = name, slices.Clone(f.Quantities)
		for i, q := range f.Quantities {
			f.Quantities[i] = owner + "." + q
		}
	}
	return f, true
}

// hidden reports whether a name is that of a number behind a factor, which no study
// names.
func (r *resolver) hidden(name string) bool {
	q, ok := r.catalogue.Find(baseName(name))
	return ok && !r.formulas() && len(q.ShownAs) > 0
}

// factorOf is the name of the factor that a default belongs to, of the same owner.
func (r *resolver) factorOf(name string) string {
	q, _ := r.catalogue.Find(baseName(name))
	if owner, _, full := strings.Cut(name, "."); full && q.Factor != "" {
		return owner + "." + q.Factor
	}
	return q.Factor
}

// calledFactor says what a factor, or what stands behind a hidden number, is; "" for
// any other name.
func (r *resolver) calledFactor(name string) string {
	if r.hidden(name) {
		name = r.factorOf(name)
	}
	f, _ := r.factor(name)
	return f.Called
}

// partOf is the factor of which an uncertain default is drawn as a part, "" where it
// stands for itself.
func (r *resolver) partOf(name string) string {
	if f, is := r.factor(r.factorOf(name)); is && (r.hidden(name) || len(r.members(f)) > 1) && slices.Contains(r.members(f), name) {
		return f.Name
	}
	return ""
}

// members are the defaults behind a factor that a run draws.
func (r *resolver) members(f vehicle.Factor) []string {
	var read []string
	for _, name := range f.Quantities {
		if kind, ok := r.defaultsRead()[name]; ok && kind == Uncertain {
			read = append(read, name)
		}
	}
	return read
}

// groupableFactor reports whether a factor is drawn, whole.
func (r *resolver) groupableFactor(f source.Field, name string) bool {
	factor, _ := r.factor(name)
	drawn := len(r.members(factor)) > 0
	if !drawn && !r.unclear {
		f.Err(name+" is read by no vehicle that runs", grouped+" is an input that the study uses")
	}
	return drawn
}

// drawn puts the defaults that are drawn for a factor in its place.
func (r *resolver) drawn(names []string) []string {
	var all []string
	for _, name := range names {
		if f, ok := r.factor(name); ok {
			all = append(all, r.members(f)...)
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
		if part := r.partOf(name); part != "" {
			names[part] = true
		}
		if kind == Uncertain && !r.hidden(name) {
			names[name] = true // of a part it is said which whole to name
		}
	}
	return slices.Sorted(maps.Keys(names))
}
