package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
)

// A Contradiction is what cannot be so together, or not at all, in a share of the
// draws, and the claims that rest on it.
type Contradiction struct {
	Name   string   `json:"name"`   // of the quantity that shows it
	Text   string   `json:"text"`   // what disagrees, in words
	Share  float64  `json:"share"`  // of the draws that were looked at
	Claims []string `json:"claims"` // names of those that read what disagrees
}

// Contradicted reports whether a claim rests on draws that mostly cannot be.
func (p *Plan) Contradicted(claim string) bool {
	return slices.ContainsFunc(p.Contradictions, func(c Contradiction) bool {
		return c.Share > mostly && slices.Contains(c.Claims, claim)
	})
}

// A Slip is an odd value that a slip of the pen would explain, and the claims that rest on
// it: their verdicts say so.
type Slip struct {
	Name   string   `json:"name"`
	Text   string   `json:"text"` // "car.drag_coefficient is 2.5 (0.25 meant?)"
	Told   string   `json:"told"` // the same as a warning has it, with the usual band
	Claims []string `json:"claims"`
}

const (
	// mostly is the share of draws from which on a contradiction leaves nothing to judge.
	mostly = 0.5
	// disagree is how far two routes to one quantity may lie apart in a draw. Common
	// practice, no source: figures of one car, rounded as they are published, agree so.
	disagree = 0.05
	// reconciled is the share of draws on the other side of agreement from which on two
	// routes agree within how well they are known: nine in ten draws, both tails.
	reconciled = 0.05
)

// judge reads the columns of an inspection.
type judge struct {
	plan  *Plan
	x     *Inspection
	raw   [][]float64
	clean [][]bool // of each look and row: what it is made from is possible, and it is

	odd            map[string]bool // vehicle.quantity whose size is told to be odd
	texts          []string
	contradictions []Contradiction
	slips          []Slip
}

func (j *judge) rows() int {
	if len(j.raw) == 0 {
		return 0
	}
	return len(j.raw[0])
}

// impossible finds values outside a quantity's own limits, and rows where it has none,
// where nothing that it is made from is at fault.
func (j *judge) impossible() {
	var without []valueless
	for k, l := range j.x.looks {
		bad, none := make([]float64, 0, j.rows()), 0
		j.clean[k] = make([]bool, j.rows())
		for row, v := range j.raw[k] {
			sound := !slices.ContainsFunc(l.needs, func(need int) bool { return !j.clean[need][row] })
			j.clean[k][row] = sound && v >= l.bounds.Low && v <= l.bounds.High
			switch {
			case !sound || j.clean[k][row] || l.node:
			case math.IsNaN(v):
				none++
			default:
				bad = append(bad, v)
			}
		}
		if none > 0 {
			why := cmp.Or(l.quantity.NoValue, "no number, or one beyond 1.8e308")
			without = append(without, valueless{why, none, []string{l.name}})
			if last := len(without) - 2; last >= 0 && without[last].why == why && without[last].rows == none {
				without[last].names = append(without[last].names, l.name)
				without = without[:last+1]
			}
		}
		if len(bad) > 0 {
			j.contradict(l.name, []string{l.name}, len(bad), l.name+" "+cannotBe(l.quantity, middle(bad)))
		}
	}
	for _, w := range without {
		verb := " has no value in "
		if len(w.names) > 1 {
			verb = " have no value in "
		}
		j.texts = append(j.texts, fmt.Sprintf("%s%s%d of %d draws: %s.", strings.Join(w.names, ", "), verb, w.rows, j.rows(), w.why))
	}
}

// valueless are quantities without a value in as many draws, for one reason.
type valueless struct {
	why   string
	rows  int
	names []string
}

// cannotBe says what a value outside a quantity's limits would be.
func cannotBe(q model.Quantity, x float64) string {
	if x <= q.Low {
		return "comes to " + shown(x, q.Unit) + ", and cannot be below " + shown(q.Low, q.Unit)
	}
	return "comes to " + shown(x, q.Unit) + ", and cannot be above " + shown(q.High, q.Unit)
}

// disagreements finds parts that outweigh their whole and routes to one quantity that
// do not lead to one value.
func (j *judge) disagreements() {
	for k, l := range j.x.looks {
		v, _ := Split(l.name)
		if v == "" || l.quantity.RestOf == "" && l.quantity.RouteTo == "" {
			continue
		}
		if j.asBaseline(k, v) {
			continue
		}
		if whole := l.quantity.RestOf; whole != "" {
			below := slices.DeleteFunc(slices.Clone(j.raw[k]), func(x float64) bool { return !(x < 0) })
			if len(below) > 0 {
				j.contradict(l.name, j.names(v, whole), len(below), v+": "+l.quantity.BelowNil+", by "+shown(-middle(below), l.quantity.Unit))
			}
		} else if other, ok := j.x.number[v+"."+l.quantity.RouteTo]; ok {
			j.compare(l, v, j.raw[other], j.raw[k])
		}
	}
}

// asBaseline reports whether the baseline has the same in every draw: it is told once.
func (j *judge) asBaseline(k int, vehicle string) bool {
	base := j.plan.Study.Baseline
	_, q := Split(j.x.looks[k].name)
	other, ok := j.x.number[base+"."+q]
	return ok && vehicle != base && slices.Equal(j.raw[other], j.raw[k])
}

// compare looks at two routes to one quantity.
func (j *judge) compare(l look, v string, first, second []float64) {
	apart, above, below := 0, 0, 0
	for row := range first {
		switch off := second[row]/first[row] - 1; {
		case off > 0:
			above++
		case off < 0:
			below++
		}
		if math.Abs(second[row]/first[row]-1) > disagree {
			apart++
		}
	}
	if apart == 0 || float64(min(above, below)) > reconciled*float64(len(first)) {
		return
	}
	a, b := middle(first), middle(second)
	_, q := Split(l.name)
	j.contradict(l.name, j.names(v, l.quantity.RouteTo), apart, fmt.Sprintf("%s: %s is %s, but %s by another route (%s): %+.1f %%",
		v, l.quantity.RouteTo, shown(a, l.quantity.Unit), shown(b, l.quantity.Unit), q, 100*(b/a-1)))
}

// names are those under which somebody may read a vehicle's quantity.
func (j *judge) names(vehicle, quantity string) []string {
	all := []string{vehicle + "." + quantity}
	if node := stated(j.plan.Study, vehicle, quantity); node != "" {
		all = append(all, node)
	}
	return all
}

// contradict notes a contradiction in some of the draws, and the claims that read one
// of the names.
func (j *judge) contradict(name string, read []string, rows int, text string) {
	c := Contradiction{Name: name, Share: float64(rows) / float64(j.rows()), Claims: []string{}}
	c.Text = fmt.Sprintf("%s, in %d of %d draws looked at", text, rows, j.rows())
	for _, claim := range j.plan.Claims {
		if j.reads(claim.Name, read) {
			c.Claims = append(c.Claims, claim.Name)
		}
	}
	j.contradictions = append(j.contradictions, c)
}

// reads reports whether a claim rests on one of the names.
func (j *judge) reads(claim string, names []string) bool {
	rests := j.x.restsOn(study.HoldsName(claim))
	return slices.ContainsFunc(names, func(name string) bool { return rests[name] })
}

// unusual finds quantities outside their usual bands: stated ones by their medians,
// computed ones by those of the draws, unless what they are made from is odd itself.
func (j *judge) unusual() {
	for _, in := range j.plan.Study.Inputs {
		if q, ok := j.plan.band(in); ok {
			if x, known := median(in); known && q.Usual.Odd(x) {
				j.odd[in.Name] = true
				j.isOdd(in.Name, q, x)
			}
		}
	}
	tainted := make([]bool, len(j.x.looks))
	for k, l := range j.x.looks {
		tainted[k] = slices.ContainsFunc(l.needs, func(need int) bool { return tainted[need] }) || j.odd[l.name]
		v, _ := Split(l.name)
		if tainted[k] || l.node || l.quantity.Usual == (model.Band{}) {
			continue
		}
		values := slices.Clone(j.raw[k])
		values = slices.DeleteFunc(values, func(x float64) bool { return x != x })
		if x := middle(values); len(values) > 0 && l.quantity.Usual.Odd(x) {
			tainted[k] = true
			if !j.asBaseline(k, v) {
				j.isOdd(l.name, l.quantity, x)
			}
		}
	}
}

// isOdd notes a value outside its usual band; where a slip explains it, with the claims that
// rest on it.
func (j *judge) isOdd(name string, q model.Quantity, x float64) {
	told := oddText(name, q, x)
	j.texts = append(j.texts, told)
	wanted := meant(q, x)
	if wanted == "" {
		return
	}
	s := Slip{Name: name, Told: told, Text: fmt.Sprintf("%s is %s (%s meant?)", name, shown(x, q.Unit), wanted), Claims: []string{}}
	for _, claim := range j.plan.Claims {
		if j.reads(claim.Name, []string{name}) {
			s.Claims = append(s.Claims, claim.Name)
		}
	}
	j.slips = append(j.slips, s)
}

// sized reports whether the cells of a vehicle are a real number by its own wish.
func (p *Plan) sized(name string) bool {
	at := slices.IndexFunc(p.Study.Cars, func(c vehicle.Car) bool { return c.Name == name })
	return at >= 0 && p.Study.Cars[at].SizeFor.Sizes()
}

// broken finds pieces that are no whole number in any draw: 142 cells in 8 strings.
func (j *judge) broken() {
	for k, l := range j.x.looks {
		v, _ := Split(l.name)
		if !l.quantity.Whole || l.node || len(j.raw[k]) == 0 || j.plan.sized(v) || j.asBaseline(k, v) {
			continue
		}
		x := l.quantity.Unit.FromSI(j.raw[k][0])
		same := !slices.ContainsFunc(j.raw[k], func(y float64) bool { return y != j.raw[k][0] })
		if same && math.Abs(x-math.Round(x)) > 1e-9*math.Abs(x) {
			j.texts = append(j.texts, fmt.Sprintf("%s comes to %s, which is no whole number, and counts pieces.", l.name, number(x)))
		}
	}
}

// band is the quantity that an input states, if it has a usual band.
func (p *Plan) band(in study.Input) (model.Quantity, bool) {
	if p.Study.System == nil || in.Default {
		return model.Quantity{}, false
	}
	q, ok := p.Study.System.Quantity(in.Quantity)
	return q, ok && q.Usual != (model.Band{})
}

func median(in study.Input) (float64, bool) {
	switch in.Kind {
	case study.Constant:
		return in.Value, true
	case study.Uncertain:
		return in.Marginal.Quantile(0.5), true
	}
	return 0, false
}

// oddText tells a value outside its band, and what may have been meant.
func oddText(name string, q model.Quantity, x float64) string {
	text := fmt.Sprintf("%s is %s; usual is %s to %s (%s).", name, shown(x, q.Unit), number(q.Unit.FromSI(q.Usual.Low)), shown(q.Usual.High, q.Unit), q.Usual.Source)
	if meant := meant(q, x); meant != "" {
		text += " Did you mean " + meant + "?"
	}
	if q.Usual.Slip != "" {
		text += " Often it is " + q.Usual.Slip + "."
	}
	return text
}

// meant is a usual value that a slip of a prefix, of % or of the point makes this one.
func meant(q model.Quantity, x float64) string {
	if q.Unit.Absolute() || q.Whole {
		return ""
	}
	if q.Unit.Dimension() == unit.One {
		for _, by := range []float64{1. / 100, 100} {
			if y := x * by; !q.Usual.Odd(y) && by < 1 && q.Unit.String() == "1" {
				return number(x) + " %"
			} else if !q.Usual.Odd(y) {
				return shown(y, q.Unit)
			}
		}
	}
	for _, by := range []float64{1000, 1. / 1000, 10, 1. / 10} {
		if y := x * by; !q.Usual.Odd(y) && y > q.Usual.High/100 {
			return shown(y, q.Unit)
		}
	}
	return ""
}

// neverFeasible names the asked outputs and claims without a value in any draw.
func (p *Plan) neverFeasible(rows int) []string {
	var names []string
	for _, c := range p.Columns {
		if p.never[c.Output] && c.Input == nil && !c.Aside {
			names = append(names, c.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	text := fmt.Sprintf("Infeasible in all of %d draws, so no model runs are spent on what decides them: %s.", rows, strings.Join(names, ", "))
	for _, c := range p.Contradictions {
		if c.Share > mostly {
			return []string{text + " See: " + c.Text + "."}
		}
	}
	return []string{text}
}

func middle(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	x = slices.Clone(x)
	slices.Sort(x)
	return x[len(x)/2]
}

func number(x float64) string {
	text := strconv.FormatFloat(x, 'g', 4, 64)
	if math.Abs(x) >= 1e4 && math.Abs(x) < 1e9 {
		text = strconv.FormatFloat(x, 'f', 0, 64)
	}
	return text
}

func shown(x float64, u unit.Unit) string {
	if u.String() == "1" {
		return number(u.FromSI(x))
	}
	return number(u.FromSI(x)) + " " + u.String()
}
