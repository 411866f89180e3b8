package study

import (
	"fmt"
	"strings"

	"proofmass/model/unit"
	"proofmass/sampling"
)

// normal reads {mean, sd}.
func (r *itemReader) normal(v field) bool {
	f, _ := r.named(v, "normal", []string{"mean", "sd"})
	if f == nil {
		return false
	}
	mean, sd, ok := r.meanSD(f)
	if !ok {
		return false
	}
	m, err := sampling.Normal(mean, sd)
	return r.uncertain(v, m, err, "normal, mean "+r.written(f[0])+", sd "+r.written(f[1]))
}

func (r *itemReader) meanSD(f []field) (mean, sd float64, ok bool) {
	mean, ok = r.c.value(f[0])
	sd, good := r.c.difference(f[1])
	if ok && good && sd <= 0 {
		f[1].err("sd "+r.written(f[1]), "a standard deviation is more than 0")
		return mean, sd, false
	}
	return mean, sd, ok && good
}

// lognormal reads {median, factor} or {mean, sd}.
func (r *itemReader) lognormal(v field) bool {
	f, form := r.named(v, "lognormal", []string{"median", "factor"}, []string{"mean", "sd"})
	if f == nil {
		return false
	}
	if form == 1 {
		mean, sd, ok := r.meanSD(f)
		if !ok || !r.positive(f[0], mean) {
			return false
		}
		m, err := sampling.LogNormalMeanSD(mean, sd)
		return r.uncertain(v, m, err, "lognormal, mean "+r.written(f[0])+", sd "+r.written(f[1]))
	}
	median, ok := r.c.value(f[0])
	factor, good := plain(f[1], "factor")
	if !ok || !good || !r.positive(f[0], median) {
		return false
	}
	if factor <= 1 {
		f[1].err("factor "+f[1].node.Value, "the factor is more than 1: exp of the sd of the logarithm")
		return false
	}
	m, err := sampling.LogNormal(median, factor)
	return r.uncertain(v, m, err, "lognormal, median "+r.written(f[0])+", factor "+printable(f[1].node.Value, 60))
}

func (r *itemReader) positive(f field, x float64) bool {
	if x <= 0 {
		f.err(r.written(f)+" is not positive", "a lognormal quantity is more than 0")
	}
	return x > 0
}

// likely reads a value and the distance within which 90 % lie.
func (r *itemReader) likely(v field) bool {
	value, ok := r.c.value(v)
	w, given := r.parts["within"]
	if !given {
		v.err("likely without within", "{likely: 450 kg, within: 8 %} or within: 3 kg")
		return false
	}
	within, good := r.within90(w, value)
	if !ok || !good {
		return false
	}
	if within <= 0 {
		w.err("within "+r.written(w), "within is more than 0")
		return false
	}
	m, err := sampling.Likely(value, within)
	return r.uncertain(v, m, err, "likely "+r.written(v)+", 90 % within "+r.written(w))
}

// within90 reads `within`: a difference, or a percentage of the value. Of a
// quantity without dimension a percentage could be either and is refused.
func (r *itemReader) within90(w field, value float64) (float64, bool) {
	if !strings.HasSuffix(strings.TrimSpace(w.node.Value), "%") {
		return r.c.difference(w)
	}
	if r.c.display.Dimension() == unit.One {
		w.err(r.written(w)+" could be of the value or of the whole", `write the difference without %: within: 0.02, or 2 with unit: "%"`)
		return 0, false
	}
	if r.c.temperature {
		w.err(r.written(w)+" of a temperature", "within of a temperature is in K")
		return 0, false
	}
	share, ok := plain(w, "within")
	return max(share*value, -share*value), ok
}

// percentiles reads two to nine {percent: value}.
func (r *itemReader) percentiles(v field) bool {
	const shape = "percentiles are two to nine {percent: value}, as in {10: 3 kg, 50: 4 kg, 90: 6 kg}"
	pairs, ok := v.pairs(shape)
	if !ok {
		return false
	}
	if len(pairs) < 2 || len(pairs) > 9 {
		v.err(fmt.Sprintf("%d percentiles", len(pairs)), shape)
		return false
	}
	p, x := make([]float64, len(pairs)), make([]float64, len(pairs))
	texts := make([]string, len(pairs))
	for i, pair := range pairs {
		percent, err := unit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(pair.name, "%")))
		if err != nil || percent <= 0 || percent >= 100 {
			pair.key.err(quote(pair.name), "a percentile is a number above 0 and below 100")
			ok = false
		}
		var good bool
		p[i] = percent / 100
		x[i], good = r.c.value(pair.value)
		ok = ok && good
		texts[i] = printable(pair.name, 20) + " %: " + r.written(pair.value)
	}
	for i := 1; ok && i < len(p); i++ {
		if p[i] <= p[i-1] || x[i] <= x[i-1] {
			pairs[i].key.err(fmt.Sprintf("%s after %s", texts[i], texts[i-1]), "percents and values rise from line to line")
			ok = false
		}
	}
	if !ok {
		return false
	}
	m, err := sampling.Percentiles(p, x)
	return r.uncertain(v, m, err, "percentiles "+strings.Join(texts, ", "))
}

// oneOf reads [values] or {value: weight}.
func (r *itemReader) oneOf(v field) bool {
	const shape = "one_of is a list of values or {value: weight}"
	if !v.atMost(mostEntries, "values") {
		return false
	}
	var x, weights []float64
	var texts []string
	ok := true
	add := func(f field, weight float64) {
		value, good := r.c.value(f)
		x, weights, ok = append(x, value), append(weights, weight), ok && good
		texts = append(texts, r.written(f))
	}
	if v.isList() {
		list, _ := v.list(shape)
		for _, f := range list {
			add(f, 1)
		}
	} else {
		pairs, good := v.pairs(shape)
		ok = good
		for _, p := range pairs {
			w, good := plain(p.value, "a weight")
			if good && w < 0 {
				p.value.err("weight "+r.written(p.value), "a weight is at least 0")
				good = false
			}
			add(p.key, w)
			ok = ok && good
			texts[len(texts)-1] += " (" + printable(p.value.node.Value, 20) + ")"
		}
	}
	if !ok {
		return false
	}
	if len(x) == 0 {
		v.err("no values", shape)
		return false
	}
	m, err := sampling.OneOf(x, weights)
	return r.uncertain(v, m, err, "one of "+strings.Join(texts, ", "))
}
