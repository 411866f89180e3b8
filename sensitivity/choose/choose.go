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
// as far as t holds, however the choices hang together. Where there is one look alone, the
// one before is at half of its replicates. Two looks and Hall's test are there because t alone does not keep that: of outputs that are lognormal with 19 equals of
// the best it lost it in up to .16 of the runs where .05 is stated; these rules lose
// it in at most 5 of 500 seeded races of 20 equals (race_long_test.go: normal, lognormal up and
// down, a rare loss), and no member of a front of six in any.
//
// Only a choice that surely keeps the demands may send another away: else one that does not
// would remove the best of those that do.
package choose

import "slices"

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
	if r.rules.Looks == 1 {
		l.before = n / 2
	}
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

// settle says yes of what surely is the best or on the front.
func (l *look) settle() {
	if l.rules.Best != nil {
		alpha, left := l.bestAlpha(), l.still(func(s *Standing) Word { return s.Best })
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
