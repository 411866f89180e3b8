// Package choose tells which of several choices is the best, or on the front, from figures
// of independent replicates in which all choices saw the same draws.
//
// A choice leaves the race when it is surely worse than another. With D the differences of
// two choices' figures over the n replicates so far, x their mean in standard deviations and
// g their skewness, k is surely better than i where both
//
//	sqrt(n) x  and  sqrt(n) (x + g x^2/3 + g^2 x^3/27 + g/(6n))
//
// exceed t of n-1 degrees of freedom at 1 - a', at two looks in a row; the second is
// Hall's (1992, J. R. Stat. Soc. B 54) for skewed values. Johnson's (1978, J. Am. Stat.
// Assoc. 73), which lacks the cubic term, is no use here: it falls again where x is large,
// and what is clearly off would stay. With K choices, J looks and
// C demands, a' = a / ((K-1+C) J) for the best and a / ((K-1) J) for the front: by
// Bonferroni the best, or any one member of the front, is lost with a chance of at most a
// as far as t holds, however the choices hang together. Two looks and Hall's test are
// there because t alone does not keep that: of outputs that are lognormal with 19 equals of
// the best it lost it in up to .16 of the runs where .05 is stated; these rules lose
// it in at most 5 of 500 seeded races of 20 equals (race_long_test.go: normal, lognormal up and
// down, a rare loss), and no member of a front of six in any.
//
// Only a choice that surely keeps the demands may send another away: else one that does not
// would remove the best of those that do.
package choose

import (
	"cmp"
	"math"
	"slices"

	"proofmass/sensitivity/estimate"
)

// A Figure is a number of each choice and replicate.
type Figure struct {
	Percentile float64 // its share where it is a percentile, else NaN
	Chance     bool    // the share of rows that something holds in
	Rows       int     // of a replicate
}

// Rows that a replicate needs for its own figure to decide: beyond a percentile, since
// replicates' percentiles are biased, differently by choice; that hold and that fail.
const tailRows, eventRows = 50, 5

// decides reports whether a figure of about that size is known well enough in each
// replicate.
func (f Figure) decides(size float64) bool {
	switch {
	case f.Chance:
		return float64(f.Rows)*min(size, 1-size) >= eventRows
	case f.Percentile == f.Percentile:
		return f.MayDecide()
	}
	return true
}

// MayDecide reports whether replicates have rows enough for the figure to send any choice
// away.
func (f Figure) MayDecide() bool {
	return f.Percentile != f.Percentile || float64(f.Rows)*min(f.Percentile, 1-f.Percentile) >= tailRows
}

// An Aim is a figure that is to be high, or low.
type Aim struct {
	Figure int
	Lower  bool
}

// A Demand is what a figure of the best choice must reach, or not go above.
type Demand struct {
	Figure int
	Limit  float64
	Below  bool
}

// Rules are what choices are compared by.
type Rules struct {
	Figures []Figure
	Best    *Aim // nil: the best is not asked for
	Demands []Demand
	Front   []Aim   // none: the front is not asked for
	Level   float64 // 1 - Level is the chance of losing the best, or one member of the front
	Looks   int
}

// A Word is what is known of a choice at the end.
type Word string

// The words. Maybe is a choice that may be so as far as sampling tells.
const (
	Yes   Word = "yes"
	Maybe Word = "maybe"
	No    Word = "no"
)

// Unfit stands for the choice that sent another away where that does not keep the demands.
const Unfit = -1

// A Standing is what became of a choice.
type Standing struct {
	Best, Front Word // No from the look at which it is known; the others at the end
	Out         bool // of the race
	Look        int  // at which it left, from 0
	For         int  // the choice that is surely better, or Unfit
}

// A Race follows choices from look to look. Values are not changed by it.
type Race struct {
	rules    Rules
	values   [][][]float64 // choice, figure, replicate
	standing []Standing
	looks    int
	before   int // replicates at the look before
}

// NewRace begins with all choices in it.
func NewRace(rules Rules, choices int) *Race {
	r := &Race{rules: rules, values: make([][][]float64, choices), standing: make([]Standing, choices)}
	for i := range r.values {
		r.values[i] = make([][]float64, len(rules.Figures))
		r.standing[i] = Standing{Best: Maybe, Front: Maybe, For: i}
		if rules.Best == nil {
			r.standing[i].Best = No
		}
		if len(rules.Front) == 0 {
			r.standing[i].Front = No
		}
	}
	return r
}

// Add adds the next replicates of a choice's figure.
func (r *Race) Add(choice, figure int, values []float64) {
	r.values[choice][figure] = append(r.values[choice][figure], values...)
}

// Values are those of a choice's figure, a replicate each.
func (r *Race) Values(choice, figure int) []float64 { return r.values[choice][figure] }

// In are the choices that are in the race.
func (r *Race) In() []int {
	var in []int
	for i := range r.standing {
		if !r.standing[i].Out {
			in = append(in, i)
		}
	}
	return in
}

// Standings are those of all choices.
func (r *Race) Standings() []Standing { return r.standing }

// Look sends away what is surely off the best and off the front. All choices in the race
// have the same replicates.
func (r *Race) Look() {
	in := r.In()
	if len(in) == 0 {
		return
	}
	n := len(r.values[in[0]][0])
	l := &look{Race: r, now: n, before: r.before}
	if r.rules.Best != nil {
		l.best(r.still(func(s *Standing) Word { return s.Best }))
	}
	if len(r.rules.Front) > 0 {
		l.front(r.still(func(s *Standing) Word { return s.Front }))
	}
	for _, i := range in {
		if s := &r.standing[i]; s.Best == No && s.Front == No {
			s.Out, s.Look = true, r.looks
		}
	}
	r.looks, r.before = r.looks+1, n
	if r.looks == r.rules.Looks {
		l.settle()
	}
}

// still are the choices of which a word is not no.
func (r *Race) still(word func(*Standing) Word) []int {
	var in []int
	for i := range r.standing {
		if word(&r.standing[i]) != No {
			in = append(in, i)
		}
	}
	return in
}

// look is one look at the figures.
type look struct {
	*Race
	now, before int // replicates at this look and at the last, 0 where this is the first
	d           []float64
	quantiles   map[[2]float64]float64
}

// Of outcomes of one test.
type outcome int

const (
	open  outcome = iota
	equal         // in every replicate
	sure          // by the interval
	exact         // the same difference in every replicate
)

// test looks whether differences are surely positive, at a chance of error alpha.
func (l *look) test(d []float64, alpha float64) outcome {
	n := float64(len(d))
	var shift float64
	for _, v := range d {
		shift += v - d[0]
	}
	m := d[0] + shift/n
	var square, cube float64
	for _, v := range d {
		e := v - m
		square += float64(e * e)
		cube += float64(float64(e*e) * e)
	}
	switch {
	case m != m || math.IsInf(m, 0):
		return open
	case square == 0 && m == 0:
		return equal
	case square == 0 && m > 0:
		return exact
	case square == 0 || m <= 0 || n < 3:
		return open
	}
	s, root := math.Sqrt(square/(n-1)), math.Sqrt(n)
	x, g := m/s, cube/n/float64(s*float64(s*s))
	if s == 0 { // a square too small for a float64: no doubt that is worth the name
		return exact
	}
	t := l.quantile(alpha, len(d)-1)
	gx := g * x
	skewed := x + float64(gx*x/3) + float64(float64(gx*gx)*x/27) + float64(g/(6*n))
	if float64(root*x) > t && float64(root*skewed) > t {
		return sure
	}
	return open
}

func (l *look) quantile(alpha float64, freedom int) float64 {
	key := [2]float64{alpha, float64(freedom)}
	if t, known := l.quantiles[key]; known {
		return t
	}
	if l.quantiles == nil {
		l.quantiles = map[[2]float64]float64{}
	}
	t := estimate.StudentQuantile(1-2*alpha, freedom)
	l.quantiles[key] = t
	return t
}

// twice is the test at this look and at the one before: what is not exact has to be sure at
// both.
func (l *look) twice(d []float64, alpha float64) outcome {
	o := l.test(d, alpha)
	if o == sure && (l.before == 0 || l.test(d[:l.before], alpha) < sure) {
		return open
	}
	return o
}

// better are how much k is better than i in an aim, a replicate each.
func (l *look) better(k, i int, a Aim) []float64 {
	x, y := l.values[k][a.Figure][:l.now], l.values[i][a.Figure][:l.now]
	if a.Lower {
		x, y = y, x
	}
	l.d = l.d[:0]
	for r := range x {
		l.d = append(l.d, x[r]-y[r])
	}
	return l.d
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func (l *look) mean(choice, figure int) float64 { return mean(l.values[choice][figure][:l.now]) }

// may reports whether a figure of the size of both may decide.
func (l *look) may(k, i, figure int) bool {
	f := l.rules.Figures[figure]
	return f.decides((l.mean(k, figure) + l.mean(i, figure)) / 2)
}

// keeps tells whether a choice surely keeps a demand, and misses whether it surely does not.
func (l *look) demand(i int, d Demand, alpha float64) (keeps, misses bool) {
	f, x := l.rules.Figures[d.Figure], l.values[i][d.Figure][:l.now]
	if !f.decides((mean(x) + d.Limit) / 2) {
		return false, false
	}
	above := make([]float64, len(x))
	below := make([]float64, len(x))
	for r, v := range x {
		above[r], below[r] = v-d.Limit, d.Limit-v
	}
	up, down := l.twice(above, alpha), l.twice(below, alpha)
	if d.Below {
		up, down = down, up
	}
	return up != open, down >= sure // exactly at the limit keeps it
}

// mostRivals is how many of the best are held against each choice: what loses to any of
// them is lost, and fewer tests only keep more.
const mostRivals = 64

// best sends away what cannot be the best.
func (l *look) best(in []int) {
	aim := *l.rules.Best
	alpha := (1 - l.rules.Level) / float64(max(1, len(l.values)-1+len(l.rules.Demands))*l.rules.Looks)
	var rivals []int
	for _, i := range in {
		fit := true
		for _, d := range l.rules.Demands {
			keeps, misses := l.demand(i, d, alpha)
			fit = fit && keeps
			if misses || l.never(i, d.Figure) {
				l.lose(i, Unfit, false)
			}
		}
		if l.never(i, aim.Figure) {
			l.lose(i, Unfit, false)
		}
		if fit && l.standing[i].Best != No {
			rivals = append(rivals, i)
		}
	}
	slices.SortStableFunc(rivals, func(a, b int) int {
		if aim.Lower {
			a, b = b, a
		}
		return cmp.Compare(l.mean(b, aim.Figure), l.mean(a, aim.Figure))
	})
	rivals = rivals[:min(len(rivals), mostRivals)]
	for _, i := range in {
		for _, k := range rivals {
			if k != i && l.standing[i].Best != No && l.may(k, i, aim.Figure) && l.twice(l.better(k, i, aim), alpha) >= sure {
				l.lose(i, k, false)
				break
			}
		}
	}
}

// never reports whether no replicate of the choice has the figure.
func (l *look) never(i, figure int) bool {
	for _, v := range l.values[i][figure][:l.now] {
		if v == v {
			return false
		}
	}
	return true
}

func (l *look) lose(i, to int, front bool) {
	s := &l.standing[i]
	switch {
	case front && s.Front != No:
		s.Front, s.For = No, to
	case !front && s.Best != No:
		s.Best, s.For = No, to
	}
}

// front sends away what another choice surely beats.
func (l *look) front(in []int) {
	alpha := l.frontAlpha()
	rivals := l.ahead(in)
	for _, i := range in {
		for _, a := range l.rules.Front {
			if l.never(i, a.Figure) {
				l.lose(i, Unfit, true)
			}
		}
		for _, k := range rivals {
			if k != i && l.standing[i].Front != No && l.beats(k, i, alpha) {
				l.lose(i, k, true)
				break
			}
		}
	}
}

func (l *look) frontAlpha() float64 {
	return (1 - l.rules.Level) / float64(max(1, len(l.values)-1)*l.rules.Looks)
}

// ahead are the choices that none beats by their means.
func (l *look) ahead(in []int) []int {
	order := slices.Clone(in)
	first := l.rules.Front[0]
	size := func(i int, a Aim) float64 {
		if a.Lower {
			return -l.mean(i, a.Figure)
		}
		return l.mean(i, a.Figure)
	}
	means := make(map[int][]float64, len(in))
	for _, i := range in {
		for _, a := range l.rules.Front {
			means[i] = append(means[i], size(i, a))
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(size(b, first), size(a, first)) })
	var ahead []int
	for _, i := range order {
		beaten := slices.ContainsFunc(ahead, func(k int) bool {
			some := false
			for f := range means[i] {
				if !(means[k][f] >= means[i][f]) {
					return false
				}
				some = some || means[k][f] > means[i][f]
			}
			return some
		})
		if !beaten {
			ahead = append(ahead, i)
		}
	}
	return ahead
}

// beats reports whether k is surely no worse than i in anything, and surely better in
// something. Equal in all replicates counts as no worse.
func (l *look) beats(k, i int, alpha float64) bool {
	better := false
	for _, a := range l.rules.Front {
		o := l.twice(l.better(k, i, a), alpha)
		if o == open || o != equal && !l.may(k, i, a.Figure) {
			return false
		}
		better = better || o >= sure
	}
	return better
}

// settle says yes of what surely is the best or on the front.
func (l *look) settle() {
	if l.rules.Best != nil {
		alpha := (1 - l.rules.Level) / float64(max(1, len(l.values)-1+len(l.rules.Demands))*l.rules.Looks)
		left := l.still(func(s *Standing) Word { return s.Best })
		if len(left) == 1 && !slices.ContainsFunc(l.rules.Demands, func(d Demand) bool { keeps, _ := l.demand(left[0], d, alpha); return !keeps }) {
			l.standing[left[0]].Best = Yes
		}
	}
	if len(l.rules.Front) == 0 {
		return
	}
	left := l.still(func(s *Standing) Word { return s.Front })
	alpha := l.frontAlpha()
	for _, i := range left {
		if !slices.ContainsFunc(left, func(k int) bool { return k != i && l.mayBeat(k, i, alpha) }) {
			l.standing[i].Front = Yes
		}
	}
}

// mayBeat reports whether k may be better than i in everything, as far as is known.
func (l *look) mayBeat(k, i int, alpha float64) bool {
	same := true
	for _, a := range l.rules.Front {
		switch o := l.test(l.better(i, k, a), alpha); {
		case o >= sure && (o == exact || l.may(k, i, a.Figure)):
			return false
		case o != equal:
			same = false
		}
	}
	return !same
}
