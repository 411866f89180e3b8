package uncertain

import (
	"fmt"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
	"proofmass/sampling/marginal"
)

// normal reads {mean, sd}.
func (r *item) normal(v source.Field) bool {
	f, _ := r.named(v, "normal", []string{"mean", "sd"})
	if f == nil {
		return false
	}
	mean, sd, ok := r.meanSD(f)
	if !ok {
		return false
	}
	m, err := marginal.Normal(mean, sd)
	return r.uncertain(v, m, err, "normal, mean "+r.written(f[0])+", sd "+r.written(f[1]))
}

func (r *item) meanSD(f []source.Field) (mean, sd float64, ok bool) {
	mean, ok = r.c.value(f[0])
	sd, good := r.c.Difference(f[1])
	if ok && good && sd <= 0 {
		f[1].Err("sd "+r.written(f[1]), "a standard deviation is more than 0")
		return mean, sd, false
	}
	return mean, sd, ok && good
}

// lognormal reads {median, factor} or {mean, sd}.
func (r *item) lognormal(v source.Field) bool {
	f, form := r.named(v, "lognormal", []string{"median", "factor"}, []string{"mean", "sd"})
	if f == nil {
		return false
	}
	if form == 1 {
		mean, sd, ok := r.meanSD(f)
		if !ok || !r.positive(f[0], mean) {
			return false
		}
		m, err := marginal.LogNormalMeanSD(mean, sd)
		return r.uncertain(v, m, err, "lognormal, mean "+r.written(f[0])+", sd "+r.written(f[1]))
	}
	median, ok := r.c.value(f[0])
	factor, good := Plain(f[1], "factor")
	if !ok || !good || !r.positive(f[0], median) {
		return false
	}
	if factor <= 1 {
		f[1].Err("factor "+f[1].Raw(), "the factor is more than 1: exp of the sd of the logarithm")
		return false
	}
	m, err := marginal.LogNormal(median, factor)
	return r.uncertain(v, m, err, "lognormal, median "+r.written(f[0])+", factor "+source.Printable(f[1].Raw(), 60))
}

func (r *item) positive(f source.Field, x float64) bool {
	if x <= 0 {
		f.Err(r.written(f)+" is not positive", "a lognormal quantity is more than 0")
	}
	return x > 0
}

// likely reads a value and the distance within which 90 % lie.
func (r *item) likely(v source.Field) bool {
	value, ok := r.c.value(v)
	w, stated := r.parts["within"]
	if !stated {
		v.Err("likely without within", "{likely: 450 kg, within: 8 %} or within: 3 kg")
		return false
	}
	within, good := r.within90(w, value)
	if !ok || !good {
		return false
	}
	if within <= 0 {
		w.Err("within "+r.written(w), "within is more than 0")
		return false
	}
	m, err := marginal.Likely(value, within)
	return r.uncertain(v, m, err, "likely "+r.written(v)+", 90 % within "+r.written(w))
}

// within90 reads `within`: a difference, or a percentage of the value. Of a
// quantity without dimension a percentage could be either and is refused.
func (r *item) within90(w source.Field, value float64) (float64, bool) {
	if !strings.HasSuffix(strings.TrimSpace(w.Raw()), "%") {
		return r.c.Difference(w)
	}
	if !r.c.known { // what is wrong with the value has been told
		return 0, false
	}
	if r.c.display.Dimension() == unit.One {
		w.Err(r.written(w)+" could be of the value or of the whole", `write the difference without %: within: 0.02, or 2 with unit: "%"`)
		return 0, false
	}
	if r.c.temperature {
		w.Err(r.written(w)+" of a temperature", "within of a temperature is in K")
		return 0, false
	}
	share, ok := Plain(w, "within")
	return max(share*value, -share*value), ok
}

// percentiles reads two to nine {percent: value}.
func (r *item) percentiles(v source.Field) bool {
	const shape = "percentiles are two to nine {percent: value}, as in {10: 3 kg, 50: 4 kg, 90: 6 kg}"
	pairs, ok := v.Pairs(shape)
	if !ok {
		return false
	}
	if len(pairs) < 2 || len(pairs) > 9 {
		v.Err(fmt.Sprintf("%d percentiles", len(pairs)), shape)
		return false
	}
	p, x := make([]float64, len(pairs)), make([]float64, len(pairs))
	texts := make([]string, len(pairs))
	for i, pair := range pairs {
		percent, err := unit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(pair.Name, "%")))
		if err != nil || percent <= 0 || percent >= 100 {
			pair.Key.Err(source.Quote(pair.Name), "a percentile is a number above 0 and below 100")
			ok = false
		}
		var good bool
		p[i] = percent / 100
		x[i], good = r.c.value(pair.Value)
		ok = ok && good
		texts[i] = source.Printable(pair.Name, 20) + " %: " + r.written(pair.Value)
	}
	for i := 1; ok && i < len(p); i++ {
		if p[i] <= p[i-1] || x[i] <= x[i-1] {
			pairs[i].Key.Err(fmt.Sprintf("%s after %s", texts[i], texts[i-1]), "percents and values rise from line to line")
			ok = false
		}
	}
	if !ok {
		return false
	}
	m, err := marginal.Percentiles(p, x)
	return r.uncertain(v, m, err, "percentiles "+strings.Join(texts, ", "))
}

// oneOf reads [values] or {value: weight}.
func (r *item) oneOf(v source.Field) bool {
	const shape = "one_of is a list of values or {value: weight}"
	if !v.AtMost(source.MostEntries, "values") {
		return false
	}
	var x, weights []float64
	var texts []string
	ok := true
	add := func(f source.Field, weight float64) {
		value, good := r.c.value(f)
		good = good && r.sensible(value, r.written(f), f)
		x, weights, ok = append(x, value), append(weights, weight), ok && good
		texts = append(texts, r.written(f))
	}
	if v.IsList() {
		list, _ := v.List(shape)
		for _, f := range list {
			add(f, 1)
		}
	} else {
		pairs, good := v.Pairs(shape)
		ok = good
		for _, p := range pairs {
			w, good := Plain(p.Value, "a weight")
			if good && w < 0 {
				p.Value.Err("weight "+r.written(p.Value), "a weight is at least 0")
				good = false
			}
			add(p.Key, w)
			ok = ok && good
			texts[len(texts)-1] += " (" + source.Printable(p.Value.Raw(), 20) + ")"
		}
	}
	if !ok {
		return false
	}
	if len(x) == 0 {
		v.Err("no values", shape)
		return false
	}
	m, err := marginal.OneOf(x, weights)
	return r.uncertain(v, m, err, "one of "+strings.Join(texts, ", "))
}
