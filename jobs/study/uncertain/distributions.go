package uncertain

import (
	"fmt"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/sampling/marginal"
)

// DistributionHelp describes one way to say how well a number is known.
type DistributionHelp struct {
	Key, Parameters, Meaning string
}

// distribution is a key of an item and how it is read.
type distribution struct {
	DistributionHelp
	read func(r *item, v source.Field) bool
}

// distributions are all ways to say how well a number is known; the list is the
// grammar and the help text at once. It is filled in init because its readers
// name it in their messages.
var distributions []distribution

func init() {
	distributions = []distribution{
		{DistributionHelp{"value", "97 g, or 1950(30) kg", "constant; with digits in parentheses a normal distribution with that standard uncertainty (JCGM 100, 7.2.2)"},
			(*item).number},
		{DistributionHelp{"between", "[low, high]", "every value equally likely"},
			ordered(2, false, "between %s and %s", func(x []float64) (marginal.Marginal, error) { return marginal.Between(x[0], x[1]) })},
		{DistributionHelp{"log_between", "[low, high]", "every logarithm equally likely"},
			ordered(2, true, "between %s and %s, uniform in the logarithm", func(x []float64) (marginal.Marginal, error) { return marginal.LogBetween(x[0], x[1]) })},
		{DistributionHelp{"triangular", "[low, mode, high]", "triangular"},
			peaked("triangular", marginal.Triangular, marginal.TriangularEnds)},
		{DistributionHelp{"pert", "[low, mode, high]", "beta of shape 4 with that mode: thinner ends than triangular; beside either, ends: 5-95 % says that low and high are percentiles, not limits"},
			peaked("pert", marginal.PERT, marginal.PERTEnds)},
		{DistributionHelp{"normal", "{mean, sd}", "normal; the sd of a temperature is in K"},
			(*item).normal},
		{DistributionHelp{"lognormal", "{median, factor} or {mean, sd}", "lognormal; factor is exp of the sd of the logarithm"},
			(*item).lognormal},
		{DistributionHelp{"beta", "{a, b, low: 0, high: 1}", "beta with these shapes, from low to high"},
			(*item).beta},
		{DistributionHelp{"gamma", "{shape, scale, from: 0}", "gamma, counted from `from`; its mean is from + shape x scale"},
			fromZero("gamma", marginal.Gamma)},
		{DistributionHelp{"weibull", "{shape, scale, from: 0}", "Weibull, counted from `from`; 63 % lie within scale of it"},
			fromZero("weibull", marginal.Weibull)},
		{DistributionHelp{"student", "{freedom, middle: 0, scale: 1}", "Student's t; its sd is scale x sqrt(freedom / (freedom - 2)), not scale"},
			(*item).student},
		{DistributionHelp{"arcsine", "[low, high]", "a sine of unknown phase: likeliest at both ends (JCGM 101, 6.4.6)"},
			ordered(2, false, "arcsine from %s to %s", func(x []float64) (marginal.Marginal, error) { return marginal.Arcsine(x[0], x[1]) })},
		{DistributionHelp{"trapezoidal", "[a, b, c, d]", "rises from a to b, flat to c, falls to d"},
			ordered(4, false, "trapezoidal, rising from %s to %s, falling from %s to %s", func(x []float64) (marginal.Marginal, error) { return marginal.Trapezoidal(x[0], x[1], x[2], x[3]) })},
		{DistributionHelp{"curvilinear_trapezoidal", "{low, high, half_width}", "between two limits that are known within +-half_width themselves (JCGM 101, 6.4.3)"},
			(*item).curvilinear},
		{DistributionHelp{"likely", "a, within: b", "normal; 90 % lie within b of a: a number, or % of a"},
			(*item).likely},
		{DistributionHelp{"percentiles", "{10: a, 50: b, 90: c}", "two to nine of them; monotone cubic in normal scores"},
			(*item).percentiles},
		{DistributionHelp{"one_of", "[values] or {value: weight}", "one of several values; weights are normalised"},
			(*item).oneOf},
		{DistributionHelp{"readings", "[numbers]", "four or more readings of one thing: Student's t of their mean (JCGM 100, 4.2; JCGM 101, 6.4.9)"},
			(*item).readings},
		{DistributionHelp{"values", "{file: x.csv, column: y}", "the numbers of a column (CSV or Parquet), each as likely as the others; smooth: bandwidth beside it spreads each by a triangle of that sd"},
			(*item).values},
		{DistributionHelp{"formula", "an expression", "computed from other inputs or from what a vehicle computes"},
			(*item).formula},
	}
}

// Distributions lists what an input may be, for help texts. Beside each but
// formula and a constant may stand min and max, which truncate.
func Distributions() []DistributionHelp {
	list := make([]DistributionHelp, len(distributions))
	for i, d := range distributions {
		list[i] = d.DistributionHelp
	}
	return list
}

// uncertain sets the statement's distribution.
func (r *item) uncertain(v source.Field, m marginal.Marginal, err error, text string) bool {
	if err != nil {
		v.Err(source.Printable(err.Error(), 120), "")
		return false
	}
	r.s.Kind, r.s.Marginal, r.s.Text = Uncertain, m, text
	return true
}

// ordered reads a list of n values that do not fall, the last above the first.
func ordered(n int, positive bool, text string, of func(x []float64) (marginal.Marginal, error)) func(r *item, v source.Field) bool {
	names := [][]string{{"low", "high"}, {"low", "mode", "high"}, {"a", "b", "c", "d"}}[n-2]
	return func(r *item, v source.Field) bool {
		shape := "a list is expected: [" + strings.Join(names, ", ") + "]"
		list, ok := v.List(shape)
		if !ok {
			return false
		}
		if len(list) != n {
			v.Err(fmt.Sprintf("%d values", len(list)), shape)
			return false
		}
		x, written := make([]float64, n), make([]any, n)
		for i, f := range list {
			var good bool
			x[i], good = r.c.value(f)
			written[i], ok = r.written(f), ok && good
		}
		return ok && r.rising(v, x, names, written, positive) &&
			r.make(v, of, x, fmt.Sprintf(text, written...))
	}
}

func (r *item) make(v source.Field, of func(x []float64) (marginal.Marginal, error), x []float64, text string) bool {
	m, err := of(x)
	return r.uncertain(v, m, err, text)
}

// rising refuses values out of order.
func (r *item) rising(v source.Field, x []float64, names []string, written []any, positive bool) bool {
	if positive && x[0] <= 0 {
		v.Err(fmt.Sprintf("low %s is not positive", written[0]), "a logarithm needs values above 0")
		return false
	}
	for i := 1; i < len(x); i++ {
		if x[i] < x[i-1] {
			v.Err(fmt.Sprintf("%s %s is above %s %s", names[i-1], written[i-1], names[i], written[i]), "the values rise")
			return false
		}
	}
	if last := len(x) - 1; x[0] == x[last] {
		v.Err(fmt.Sprintf("low and high are both %s", written[last]), "low is below high; a constant is written alone")
		return false
	}
	return true
}

// named reads a mapping of numbers, exactly the keys of one of the sets, in
// whose order the fields come back.
func (r *item) named(v source.Field, what string, sets ...[]string) ([]source.Field, int) {
	found := map[string]source.Field{}
	known := source.Handlers{}
	var forms []string
	for _, set := range sets {
		forms = append(forms, "{"+strings.Join(set, ", ")+"}")
		for _, key := range set {
			known[key] = func(f source.Field) { found[key] = f }
		}
	}
	if !v.IsMapping() {
		v.Wrong(what + " is " + source.Listed(forms, "or"))
		return nil, -1
	}
	before := v.Errors().Count()
	known.Read(v, what)
	for i, set := range sets {
		var fields []source.Field
		for _, key := range set {
			if f, ok := found[key]; ok {
				fields = append(fields, f)
			}
		}
		if len(fields) == len(set) && len(found) == len(set) {
			return fields, i
		}
	}
	if v.Errors().Count() == before {
		v.Err("not the numbers that "+what+" needs", what+" is "+source.Listed(forms, "or"))
	}
	return nil, -1
}
