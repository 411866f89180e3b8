package vehicle

import (
	"fmt"
	"strings"

	"proofmass/model"
)

// evaluate computes columns from columns, as model.Rule.Eval.
type evaluate = model.Eval

// start begins an evaluation that has a memory, one for each worker, and what the worker
// saves work by.
type start = func(by model.Saving) evaluate

// A way makes a quantity of one car from others.
//
// A need is the name of a quantity of the same car; "!q" is one that must be given
// outright, "root:q" one of the car at the root, "baseline:q" one of the baseline and
// "=name" a full name as it stands.
type way struct {
	by         string // what it goes by, where other quantities ask
	needs      []string
	unless     []string // not to be used if one of these is given
	eval       evaluate
	start      start    // instead of eval, where it has a memory for each worker
	over       string   // the name of the road that it goes over, where nothing else is dear
	out        []string // what it makes, if more than the quantity itself
	fit        fitter   // instead of needs and eval, where they depend on the car
	from       []string // of a fitted way: what it can be made from
	fixed      bool     // a change of what it is made from does not undo a given value,
	undone     []string // but for a change of these,
	undoneWith string   // where this is given

	form string // of a product, a sum ...: the equation, from its needs
}

// fitter says how a car makes a quantity: plan.ok is false where it can't, and
// plan.missing names what is lacking for it, if that can be said.
type fitter func(s *System, c *car) plan

type plan struct {
	needs   []string
	eval    evaluate
	start   start
	ok      bool
	missing []string // full names
	inPart  bool     // what is missing belongs to a part that is stated in part
}

const (
	rootMark     = "root:"
	baselineMark = "baseline:"
)

// bare strips the marks of a need; ok is false for full names.
func bare(need string) (quantity string, ok bool) {
	if strings.HasPrefix(need, "=") {
		return "", false
	}
	for _, mark := range []string{"!", rootMark, baselineMark} {
		need = strings.TrimPrefix(need, mark)
	}
	return need, true
}

// from1 to from5 make a way of a function of numbers, row by row.

func from1(f func(a float64) float64, a string) way {
	return way{needs: []string{a}, eval: func(out, in [][]float64) {
		y, a := out[0], in[0]
		for i := range y {
			y[i] = f(a[i])
		}
	}}
}

func from2(f func(a, b float64) float64, a, b string) way {
	return way{needs: []string{a, b}, eval: func(out, in [][]float64) {
		y, a, b := out[0], in[0], in[1]
		for i := range y {
			y[i] = f(a[i], b[i])
		}
	}}
}

func from3(f func(a, b, c float64) float64, a, b, c string) way {
	return way{needs: []string{a, b, c}, eval: func(out, in [][]float64) {
		y, a, b, c := out[0], in[0], in[1], in[2]
		for i := range y {
			y[i] = f(a[i], b[i], c[i])
		}
	}}
}

func from4(f func(a, b, c, d float64) float64, a, b, c, d string) way {
	return way{needs: []string{a, b, c, d}, eval: func(out, in [][]float64) {
		y, a, b, c, d := out[0], in[0], in[1], in[2], in[3]
		for i := range y {
			y[i] = f(a[i], b[i], c[i], d[i])
		}
	}}
}

func from5(f func(a, b, c, d, e float64) float64, a, b, c, d, e string) way {
	return way{needs: []string{a, b, c, d, e}, eval: func(out, in [][]float64) {
		y, a, b, c, d, e := out[0], in[0], in[1], in[2], in[3], in[4]
		for i := range y {
			y[i] = f(a[i], b[i], c[i], d[i], e[i])
		}
	}}
}

// product multiplies its needs from left to right.
func product(needs ...string) way {
	return way{needs: needs, form: written(" x ", needs), eval: func(out, in [][]float64) {
		y := out[0]
		copy(y, in[0])
		for _, x := range in[1:] {
			for i := range y {
				y[i] *= x[i]
			}
		}
	}}
}

// sum adds its needs from left to right.
func sum(needs ...string) way { return way{needs: needs, form: written(" + ", needs), eval: addUp} }

func addUp(out, in [][]float64) {
	y := out[0]
	clear(y)
	for _, x := range in {
		for i := range y {
			y[i] += x[i]
		}
	}
}

// same copies its need.
func same(need string) way {
	return way{needs: []string{need}, form: written("", []string{need}), eval: copyColumn}
}

func copyColumn(out, in [][]float64) { copy(out[0], in[0]) }

// always gives x in every row.
func always(x float64) way {
	return way{form: fmt.Sprint(x), eval: func(out, _ [][]float64) {
		for i := range out[0] {
			out[0][i] = x
		}
	}}
}

func quotient(a, b string) way   { return from2(over, a, b).reads(written(" / ", []string{a, b})) }
func difference(a, b string) way { return from2(less, a, b).reads(written(" - ", []string{a, b})) }

func over(a, b float64) float64 { return a / b }
func less(a, b float64) float64 { return a - b }

// reads says the equation of the way.
func (w way) reads(form string) way { w.form = form; return w }

// written joins needs to an equation: those of the baseline and of the car at the
// root by their full sense.
func written(sign string, needs []string) string {
	names := make([]string, len(needs))
	for i, need := range needs {
		names[i] = parent(need)
	}
	return strings.Join(names, sign)
}

// parent is a need as a reader is told of it.
func parent(need string) string {
	switch {
	case strings.HasPrefix(need, rootMark):
		return need[len(rootMark):] + " of its base"
	case strings.HasPrefix(need, baselineMark):
		return need[len(baselineMark):] + " of the baseline"
	}
	return strings.TrimPrefix(strings.TrimPrefix(need, "="), "!")
}

// called names the way, for quantities whose second route it is.
func (w way) called(by string) way { w.by = by; return w }

// undoneBy says that of what the way needs only these, stated anew, undo a value
// that was given: where the others usually change without it.
func (w way) undoneBy(needs ...string) way { w.fixed, w.undone = true, needs; return w }

// where says that they do so only where another quantity is given too.
func (w way) where(given string) way { w.undoneWith = given; return w }

// except bars the way where one of the quantities is given.
func (w way) except(given ...string) way { w.unless = given; return w }
