package uncertain

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
	"proofmass/sampling/marginal"
)

// spreads are keys of differences. They are read after the values, which say
// whether the quantity is a temperature.
var spreads = []string{"scale", "half_width"}

// shapes are keys of numbers without dimension, which `unit:` does not serve.
var shapes = []string{"a", "b", "shape", "freedom"}

// numbers reads a mapping of numbers, the keys of one of the sets, each by its own
// reader. It returns the values by key, and what was written.
func (r *item) numbers(v source.Field, what string, how map[string]func(f source.Field) (float64, bool), sets ...[]string) (map[string]float64, string, bool) {
	fields, set := r.named(v, what, sets...)
	if fields == nil {
		return nil, "", false
	}
	x, ok := map[string]float64{}, true
	for _, spread := range []bool{false, true} {
		for i, key := range sets[set] {
			if slices.Contains(spreads, key) == spread {
				value, good := how[key](fields[i])
				x[key], ok = value, ok && good
			}
		}
	}
	text := what
	for i, key := range sets[set] {
		text += ", " + strings.ReplaceAll(key, "_", " ") + " "
		if slices.Contains(shapes, key) {
			text += source.Printable(fields[i].Raw(), 60)
		} else {
			text += r.written(fields[i])
		}
		if ok && slices.Contains(spreads, key) && x[key] <= 0 {
			fields[i].Err(strings.ReplaceAll(key, "_", " ")+" "+r.written(fields[i]), "it is more than 0")
			return nil, "", false
		}
		if low, stated := x["low"]; ok && stated && key == "high" && low >= x[key] {
			fields[i].Err("high "+r.written(fields[i])+" is not above low "+r.written(fields[i-1]), "low is below high")
			return nil, "", false
		}
	}
	return x, text, ok
}

// pureNumber reads a number without dimension, such as a shape.
func pureNumber(what string) func(f source.Field) (float64, bool) {
	return func(f source.Field) (float64, bool) { return Plain(f, what) }
}

// beta reads {a, b, low, high}; without limits a share from 0 to 1.
func (r *item) beta(v source.Field) bool {
	x, text, ok := r.numbers(v, "beta", map[string]func(f source.Field) (float64, bool){
		"a": pureNumber("a"), "b": pureNumber("b"), "low": r.c.value, "high": r.c.value,
	}, []string{"a", "b"}, []string{"a", "b", "low", "high"})
	if !ok {
		return false
	}
	low, high := x["low"], x["high"]
	if _, stated := x["low"]; !stated {
		low, high = 0, 1
		if !r.dimensionless(v, "beta without low and high is a share from 0 to 1") {
			return false
		}
	}
	m, err := marginal.Beta(x["a"], x["b"], low, high)
	return r.uncertain(v, m, err, text)
}

// dimensionless holds an item whose numbers are left out to having no dimension.
func (r *item) dimensionless(v source.Field, why string) bool {
	if r.c.known && r.c.display.Dimension() != unit.One {
		v.Err(why, r.c.needs())
		return false
	}
	r.c.known = true
	return true
}

// fromZero reads {shape, scale, from}.
func fromZero(what string, of func(shape, scale, from float64) (marginal.Marginal, error)) func(r *item, v source.Field) bool {
	return func(r *item, v source.Field) bool {
		x, text, ok := r.numbers(v, what, map[string]func(f source.Field) (float64, bool){
			"shape": pureNumber("shape"), "scale": r.c.Difference, "from": r.c.value,
		}, []string{"shape", "scale"}, []string{"shape", "scale", "from"})
		if !ok {
			return false
		}
		if _, stated := x["from"]; !stated && r.c.temperature {
			v.Err(what+" of a temperature without from", "say from which temperature it counts: from: 0 degC")
			return false
		}
		m, err := of(x["shape"], x["scale"], x["from"])
		return r.uncertain(v, m, err, text)
	}
}

// student reads {freedom, middle, scale}.
func (r *item) student(v source.Field) bool {
	x, text, ok := r.numbers(v, "student", map[string]func(f source.Field) (float64, bool){
		"freedom": pureNumber("freedom"), "middle": r.c.value, "scale": r.c.Difference,
	}, []string{"freedom", "middle", "scale"}, []string{"freedom", "scale"}, []string{"freedom"})
	if !ok {
		return false
	}
	scale, stated := x["scale"]
	if !stated {
		scale = 1
		if !r.dimensionless(v, "student without scale is a number about 0") {
			return false
		}
	}
	if _, stated := x["middle"]; !stated && r.c.temperature {
		v.Err("student of a temperature without middle", "say about which temperature: middle: 23 degC")
		return false
	}
	r.freedom, r.scale = x["freedom"], scale
	m, err := marginal.Student(x["freedom"], x["middle"], scale)
	return r.uncertain(v, m, err, text)
}

// curvilinear reads {low, high, half_width}.
func (r *item) curvilinear(v source.Field) bool {
	x, text, ok := r.numbers(v, "curvilinear_trapezoidal", map[string]func(f source.Field) (float64, bool){
		"low": r.c.value, "high": r.c.value, "half_width": r.c.Difference,
	}, []string{"low", "high", "half_width"})
	if !ok {
		return false
	}
	m, err := marginal.CurvilinearTrapezoidal(x["low"], x["high"], x["half_width"])
	return r.uncertain(v, m, err, strings.Replace(text, "_", " ", 1))
}

// readings reads repeated readings of one thing.
func (r *item) readings(v source.Field) bool {
	if !v.AtMost(source.MostEntries, "readings") {
		return false
	}
	list, ok := v.List("readings are a list of numbers: [10.1, 10.3, 9.9, 10.2]")
	if !ok {
		return false
	}
	x := make([]float64, len(list))
	for i, f := range list {
		var good bool
		x[i], good = r.c.value(f)
		ok = ok && good
	}
	if !ok {
		return false
	}
	m, err := marginal.Readings(x)
	return r.uncertain(v, m, err, fmt.Sprintf("mean of %d readings", len(x)))
}
