package uncertain

import (
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
	"proofmass/sampling/likelihood"
)

// measuredKeys are the ways to say what an instrument shows, those of inputs that say of an
// instrument what it says of a number.
var measuredKeys = []string{"value", "normal", "likely", "student", "between"}

// MeasuredKeys are the keys of a fact that say what was measured and how well.
func MeasuredKeys() []string {
	return append(slices.Clone(measuredKeys), "within", "unit", "rounded_to")
}

// A Measurement is what an instrument says of a quantity, in SI.
type Measurement struct {
	likelihood.Likelihood
	Text string // as written: "normal with mean 480 km, sd 6 km"
}

// Measured reads what was measured of a quantity: its name for messages, its display unit and
// whether it is an absolute temperature. parts are the fields of the fact at f, by their
// keys. It reports whether all is right.
func (x *Context) Measured(name string, display unit.Unit, temperature bool, f source.Field, parts map[string]source.Field) (m Measurement, ok bool) {
	r := &item{s: &Number{}, c: x.Scale(name, display, temperature), at: f, parts: parts}
	if u, stated := parts["unit"]; stated && !r.c.setBare(u) {
		return m, false
	}
	key := ""
	for _, k := range measuredKeys {
		v, there := parts[k]
		switch {
		case there && key != "":
			v.Err(k+" beside "+key, "a fact is measured in one way")
			return m, false
		case there:
			key = k
		}
	}
	if key == "" {
		f.Err("nothing says what was measured", "one of "+source.Listed(measuredKeys, "or"))
		return m, false
	}
	if w, there := parts["within"]; there && key != "likely" {
		w.Err("within beside "+key, "within belongs to likely")
		return m, false
	}
	for _, d := range distributions {
		if d.Key == key && !d.read(r, parts[key]) {
			return m, false
		}
	}
	if r.s.Kind == Constant {
		parts[key].Err(parts[key].What()+" without doubt", "no draw meets a number exactly: say how well it was measured, as in 480(6) km, or rounded to what: between")
		return m, false
	}
	m.Text = r.s.Text
	m.Likelihood, ok = r.likelihood(key, &m.Text)
	return m, ok
}

// likelihood is what the reading says, once it is read as a distribution of the true value.
func (r *item) likelihood(key string, text *string) (l likelihood.Likelihood, ok bool) {
	v := r.parts[key]
	rounded := 0.0
	if step, there := r.parts["rounded_to"]; there {
		if key == "between" || key == "student" {
			step.Err("rounded_to beside "+key, "it belongs to value, normal and likely")
			return l, false
		}
		if rounded, ok = r.c.Difference(step); !ok {
			return l, false
		}
		if rounded <= 0 {
			step.Err(step.What(), "rounded_to is more than 0")
			return l, false
		}
		*text += ", rounded to " + r.written(step)
	}
	var err error
	switch m := r.s.Marginal; {
	case key == "between":
		l, err = likelihood.Between(m.Support())
	case key == "student":
		l, err = likelihood.Student(r.freedom, m.Mean(), r.scale)
	case rounded > 0:
		l, err = likelihood.Rounded(m.Mean(), m.SD(), rounded)
	default:
		l, err = likelihood.Normal(m.Mean(), m.SD())
	}
	if err != nil {
		v.Err(source.Printable(err.Error(), 120), "")
	}
	return l, err == nil
}
