package vehicle

import (
	"math"
	"slices"
	"strings"

	"proofmass/model"
)

// Strings are looked for between a quarter and four times those that hold the baseline's
// energy, to a share of 1e-10; where a range differs by less than 1e-12 it is the same.
const (
	fewestStrings  = 0.25
	mostStrings    = 4.0
	stringsKnownTo = 1e-10
	sameRange      = 1e-12
	mostSteps      = 200
)

// A nested program is all of a car that changes with its parallel strings, as a function of
// these and of columns that do not.
type nested struct {
	program nestedProgram
	needs   []string // full names, marked, of the columns; the strings are none of them
	own     int      // the strings among the program's inputs
	order   []int    // of needs among the program's inputs
}

type nestedProgram struct{ *model.Program }

// number is that of a quantity among the outputs, -1 for none; the range is the first.
func (p nestedProgram) number(q string) int {
	return slices.IndexFunc(p.Outputs(), func(name string) bool { return strings.HasSuffix(name, "."+q) })
}

// nested makes it once; it is nil where the car is not sized for a range or this does not
// change with the strings. Noise of a certification of its own stays out: cells are not
// bought by it.
func (s *System) nested(c *car) *nested {
	if !c.SizeFor.byRange() || c == s.baseline || c.nested != nil && c.nested.own < 0 {
		return nil
	}
	if c.nested != nil {
		return c.nested
	}
	c.nested = &nested{own: -1}
	t := &tracing{s: s, strings: c.Name + ".parallel", changes: map[string]bool{}}
	var wanted []string
	for _, q := range []string{string(c.SizeFor), "pack_mass", "kerb_mass", "pack_cost"} {
		if name := c.Name + "." + q; t.changing(name) {
			wanted = append(wanted, name)
		} else if q == string(c.SizeFor) {
			return nil
		}
	}
	program, err := model.Compile(wanted, func(name string) (model.Rule, error) {
		switch {
		case name == c.Name+".model_error_own_factor":
			return model.Constant(name, 1), nil
		case name == t.strings || !t.changing(name):
			return model.Sampled(name), nil
		}
		return s.Rule(name)
	})
	if err != nil {
		return nil
	}
	n := &nested{program: nestedProgram{program}}
	for i, name := range program.Inputs() {
		if name == t.strings {
			n.own = i
		} else {
			n.needs, n.order = append(n.needs, "="+name), append(n.order, i)
		}
	}
	c.nested = n
	return n
}

// tracing finds what changes with a car's strings, by the rules of the model.
type tracing struct {
	s       *System
	strings string
	changes map[string]bool
}

func (t *tracing) changing(name string) bool {
	if name == t.strings {
		return true
	}
	if is, known := t.changes[name]; known {
		return is
	}
	t.changes[name] = false
	if rule, err := t.s.Rule(name); err == nil {
		t.changes[name] = slices.ContainsFunc(rule.Needs, t.changing)
	}
	return t.changes[name]
}

// nestedWorker evaluates a nested program; it serves one goroutine.
type nestedWorker struct {
	*nested
	worker *model.Worker
	most   int // rows that it has room for
	rows   int
	search [6][]float64
	done   []bool
	has    []bool // between the ends lies what is looked for
}

func (n *nested) worker() *nestedWorker { return &nestedWorker{nested: n} }

// set takes the columns of needs.
func (w *nestedWorker) set(in [][]float64) {
	w.rows = len(in[0])
	if w.rows > w.most {
		w.worker, w.most = w.program.NewWorker(w.rows), w.rows
		for k := range w.search {
			w.search[k] = make([]float64, w.rows)
		}
		w.done, w.has = make([]bool, w.rows), make([]bool, w.rows)
	}
	for k, column := range in {
		copy(w.worker.Input(w.order[k]), column)
	}
}

// at is an output with these strings, read until the next call.
func (w *nestedWorker) at(strings []float64, output int) []float64 {
	copy(w.worker.Input(w.own), strings)
	w.worker.Run(w.rows)
	return w.worker.Output(output)[:w.rows]
}

// solve finds the strings with which each row's range is its target: regula falsi in the form
// of Illinois (Dowell and Jarratt, BIT 11, 1971), halving where an end has no value. start are
// strings in whose neighbourhood they lie. What has no value is taken for too many strings,
// which do not fit, unless it lies below all that have one: too few give too little power.
func (w *nestedWorker) solve(x, start, target []float64) {
	low, high, atLow, atHigh, by := w.search[0][:w.rows], w.search[1][:w.rows], w.search[2][:w.rows], w.search[3][:w.rows], w.search[4][:w.rows]
	done := w.done[:w.rows]
	excess := func(at []float64) []float64 {
		for i, r := range w.at(at, 0) {
			by[i] = r/target[i] - 1
		}
		return by
	}
	bracketed := w.bracket(excess, start, target)
	for i := range x {
		w.search[5][i] = 0 // the end that was moved last: -1 the low one, 1 the high one
		x[i] = between(low[i], high[i], atLow[i], atHigh[i])
		if done[i] {
			x[i] = start[i]
		} else if !bracketed[i] {
			x[i], done[i] = math.NaN(), true
		}
	}
	for range mostSteps {
		left := false
		for i, e := range excess(x) {
			if done[i] {
				continue
			}
			switch {
			case math.Abs(e) <= sameRange:
				done[i] = true
				continue
			case e < 0, e != e && atLow[i] != atLow[i]:
				if atLow[i] < 0 && e < 0 && w.search[5][i] == -1 {
					atHigh[i] *= 0.5
				}
				low[i], atLow[i], w.search[5][i] = x[i], e, -1
			default:
				if atHigh[i] > 0 && e > 0 && w.search[5][i] == 1 {
					atLow[i] *= 0.5
				}
				high[i], atHigh[i], w.search[5][i] = x[i], e, 1
			}
			x[i] = between(low[i], high[i], atLow[i], atHigh[i])
			if high[i]-low[i] <= float64(stringsKnownTo*high[i]) {
				if done[i] = true; !(atLow[i] < 0 && atHigh[i] > 0) {
					x[i] = math.NaN()
				}
			}
			left = left || !done[i]
		}
		if !left {
			return
		}
	}
	for i := range x {
		if !done[i] {
			x[i] = math.NaN()
		}
	}
}

// nearly is how much further than in proportion the other end of a first bracket lies: range
// goes with strings a little less than in proportion, since they weigh something.
const nearly = 1.3

// bracket puts two numbers of strings into the search between which the range is the target:
// the start and one near it, or else the ends. Rows where the start is it are done; those
// that have no bracket are false.
func (w *nestedWorker) bracket(excess func([]float64) []float64, start, target []float64) []bool {
	low, high, atLow, atHigh := w.search[0][:w.rows], w.search[1][:w.rows], w.search[2][:w.rows], w.search[3][:w.rows]
	has := w.has[:w.rows]
	for i, e := range excess(start) {
		w.done[i] = math.Abs(e) <= sameRange
		low[i], atLow[i], high[i], atHigh[i] = start[i], e, start[i], e
		other := start[i] * min(mostStrings, max(fewestStrings, 1-float64(nearly*e)))
		if e > 0 {
			low[i] = other
		} else {
			high[i] = other
		}
	}
	far := false
	for pass := range 2 {
		copy(atLow, excess(low))
		copy(atHigh, excess(high))
		for i := range has {
			has[i] = atLow[i] < 0 && atHigh[i] > 0
			if pass == 0 && !has[i] && !w.done[i] {
				low[i], high[i], far = float64(start[i]*fewestStrings), float64(start[i]*mostStrings), true
			} else if pass == 1 { // an end without a value may lie beyond what fits, or what gives the power
				has[i] = !(atLow[i] >= 0) && !(atHigh[i] <= 0) && start[i] > 0 && target[i] == target[i]
			}
		}
		if !far {
			break
		}
	}
	return has
}

// between is where the line through both ends is nil, their middle where one has no value or
// the line says nothing.
func between(low, high, atLow, atHigh float64) float64 {
	x := (float64(low*atHigh) - float64(high*atLow)) / (atHigh - atLow)
	if x > low && x < high {
		return x
	}
	return 0.5 * (low + high)
}
