package compare

import (
	"cmp"
	"context"
	"errors"
	"math"
	"os"
	"slices"
	"strings"

	"proofmass/jobs/plan"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
	"proofmass/model/unit"
	"proofmass/sensitivity/split"
)

// A figure is what a combination gives of one output or claim, and of each replicate of its
// draws, from which the interval of a cause is made.
type figure struct {
	all        float64
	replicates []float64
}

// figures of one column: of an output all three, of a claim its chance, which is a mean.
type figures struct{ mean, middle, width figure }

// An evaluator gives the figures of combinations.
type evaluator struct {
	*merger
	context context.Context
	workers int
	rows    int
	seed    uint64

	players [][]int // which lines change together
	names   []string
	units   map[string]unit.Unit    // of the new study's outputs
	values  map[split.Set][]figures // a column a name
	known   map[uint64]figures
}

// errApart says that a combination is no study: what it lacks comes with other lines.
var errApart = errors.New("these lines are no study")

// takes are the lines that a combination takes from the new study.
func (e *evaluator) takes(s split.Set) func(line int) bool {
	from := make([]bool, len(e.lines))
	for p, lines := range e.players {
		for _, k := range lines {
			from[k] = s&(1<<p) != 0
		}
	}
	return func(k int) bool { return k < len(from) && from[k] }
}

// plan reads a combination as a study. errApart wraps what is wrong with one that is none.
func (e *evaluator) plan(s split.Set) (*plan.Plan, error) {
	folder, err := os.MkdirTemp("", "proofmass-compare")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	path, err := e.write(folder, e.takes(s), e.rows, e.seed)
	if err != nil {
		return nil, err
	}
	read, err := study.Read(path, study.Options{})
	if err != nil {
		return nil, errors.Join(errApart, err)
	}
	p, err := plan.New(read)
	if err != nil {
		return nil, errors.Join(errApart, err)
	}
	return p, nil
}

// group joins lines that can't be changed one without another, until every line, and every
// line less, is a study.
func (e *evaluator) group() error {
	e.players = nil
	for k := range e.lines {
		e.players = append(e.players, []int{k})
	}
	for {
		one, other, err := e.bound()
		if err != nil || one < 0 {
			return err
		}
		e.join(split.Set(1)<<one | split.Set(1)<<other)
	}
}

// bound finds a player that is no study alone, or without which the rest is none, and the
// player that mends it; -1 if there is none.
func (e *evaluator) bound() (one, other int, err error) {
	all := split.Set(1)<<len(e.players) - 1
	for p := range e.players {
		for _, s := range []split.Set{1 << p, all &^ (1 << p)} {
			fine, err := e.readable(s)
			if err != nil {
				return -1, -1, err
			}
			if fine {
				continue
			}
			for q := range e.players {
				if q == p {
					continue
				}
				if fine, err = e.readable(s ^ 1<<q); err != nil {
					return -1, -1, err
				}
				if fine {
					return p, q, nil
				}
			}
			if p+1 < len(e.players) {
				return p, p + 1, nil
			}
			return p - 1, p, nil
		}
	}
	return -1, -1, nil
}

func (e *evaluator) readable(s split.Set) (bool, error) {
	_, err := e.plan(s)
	if errors.Is(err, errApart) {
		return false, nil
	}
	return err == nil, err
}

// join makes one player of those in a set.
func (e *evaluator) join(s split.Set) {
	var joined []int
	var rest [][]int
	at := -1
	for p, lines := range e.players {
		if s&(1<<p) == 0 {
			rest = append(rest, lines)
			continue
		}
		if at < 0 {
			at = len(rest)
		}
		joined = append(joined, lines...)
	}
	slices.Sort(joined)
	e.players = slices.Insert(rest, at, joined)
}

// evaluate fills the values of every combination that causes are made of. Where one turns
// out to be no study its players become one, and it begins anew.
func (e *evaluator) evaluate(tick func(done, of int)) error {
	for {
		e.values, e.known = map[split.Set][]figures{}, map[uint64]figures{}
		apart := split.Set(0)
		all := split.Combinations(len(e.players))
		for i, s := range all {
			tick(i, len(all))
			values, err := e.figures(s)
			if errors.Is(err, errApart) {
				apart = s
				break
			}
			if err != nil {
				return err
			}
			e.values[s] = values
		}
		if apart == 0 {
			return nil
		}
		if apart&(apart-1) == 0 { // it mends with any other
			apart = split.Set(1)<<len(e.players) - 1
		}
		e.join(apart)
	}
}

// figures evaluates one combination. What it has no column for is not a number.
func (e *evaluator) figures(s split.Set) ([]figures, error) {
	p, err := e.plan(s)
	if err != nil {
		return nil, err
	}
	outputs := make([]int, len(e.names))
	columns := map[string]int{}
	for _, c := range p.Columns {
		columns[c.Name] = c.Output
	}
	for _, c := range p.Claims {
		columns[study.HoldsName(c.Name)] = c.Holds
	}
	wanted, missing := []int{}, make([]bool, len(e.names))
	for i, name := range e.names {
		output, there := columns[name]
		if missing[i] = !there; there {
			outputs[i] = len(wanted)
			wanted = append(wanted, output)
		}
	}
	told := len(wanted)
	for _, f := range p.Facts {
		wanted = append(wanted, f.Output)
	}
	r := run.Runner{Plan: p, Workers: e.workers}
	values, err := r.Columns(e.context, wanted)
	if err != nil {
		return nil, err
	}
	weight := weights(p, values[told:])
	weighed := fingerprint(weight)
	result := make([]figures, len(e.names))
	work := make([]uint64, len(e.names))
	for i, name := range e.names {
		if missing[i] {
			continue
		}
		if x := values[outputs[i]]; strings.HasPrefix(name, study.HoldsName("")) {
			for row, v := range x {
				if v != v {
					x[row] = 0 // an infeasible draw does not hold
				}
			}
		}
		work[i] = fingerprint(values[outputs[i]]) ^ weighed
	}
	err = run.Each(e.context, e.workers, len(e.names), func() (func(int) error, error) {
		return func(i int) error {
			known, again := e.known[work[i]]
			switch {
			case missing[i]:
				result[i] = none(p.Sample.Replicates)
			case again:
				result[i] = known
			default:
				result[i] = describe(values[outputs[i]], weight, p.Sample)
			}
			return nil
		}, nil
	})
	for i, f := range result {
		if !missing[i] {
			e.known[work[i]] = f
		}
	}
	return result, err
}

// fingerprint is the FNV-1a hash of a column, by which a column that a change leaves alone
// is described once.
func fingerprint(x []float64) uint64 {
	h := uint64(14695981039346656037)
	for _, v := range x {
		h = (h ^ math.Float64bits(v)) * 1099511628211
		h ^= h >> 29
	}
	return h
}

func none(replicates int) figures {
	one := func() figure { return figure{math.NaN(), slices.Repeat([]float64{math.NaN()}, replicates)} }
	return figures{one(), one(), one()}
}

// weights are those of the rows after what was measured, nil where nothing was: every row
// counts alike.
func weights(p *plan.Plan, facts [][]float64) []float64 {
	if len(p.Facts) == 0 {
		return nil
	}
	weight := make([]float64, len(facts[0]))
	for i := range p.Facts {
		p.Facts[i].AddLog(weight, facts[i])
	}
	greatest := slices.Max(weight)
	for i, l := range weight {
		weight[i] = math.Exp(l - greatest) // NaN, and so no figure, where no row can have the facts
	}
	return weight
}

// describe gives the figures of a column, infeasible rows left out.
func describe(x, weight []float64, round plan.Round) figures {
	f := none(round.Replicates)
	of := func(from, to int) (mean, middle, width float64) {
		if weight != nil {
			return ofWeighted(x[from:to], weight[from:to])
		}
		return ofRows(x[from:to])
	}
	f.mean.all, f.middle.all, f.width.all = of(0, len(x))
	for r := range round.Replicates {
		f.mean.replicates[r], f.middle.replicates[r], f.width.replicates[r] = of(round.Bound(r), round.Bound(r+1))
	}
	return f
}

func ofRows(x []float64) (mean, middle, width float64) {
	feasible := slices.DeleteFunc(slices.Clone(x), func(v float64) bool { return v != v })
	if len(feasible) == 0 {
		return math.NaN(), math.NaN(), math.NaN()
	}
	sum, first := 0.0, feasible[0]
	for _, v := range feasible {
		sum += v - first // of numbers nearly alike the digits stay
	}
	slices.Sort(feasible)
	return first + sum/float64(len(feasible)), percentile(feasible, 0.5), percentile(feasible, 0.95) - percentile(feasible, 0.05)
}

// ofWeighted is ofRows where rows count differently: percentiles are linear between rows at
// the middle of their weights, as the tables have them.
func ofWeighted(x, weight []float64) (mean, middle, width float64) {
	type row struct{ x, w float64 }
	var rows []row
	all, sum := 0.0, 0.0
	for i, v := range x {
		if v == v && weight[i] > 0 {
			rows = append(rows, row{v, weight[i]})
			all += weight[i]
			sum += float64(weight[i] * v)
		}
	}
	if len(rows) == 0 {
		return math.NaN(), math.NaN(), math.NaN()
	}
	slices.SortFunc(rows, func(a, b row) int { return cmp.Compare(a.x, b.x) })
	at := func(p float64) float64 {
		below := 0.0
		for i, r := range rows {
			middle := (below + r.w/2) / all
			if middle >= p {
				if i == 0 {
					return r.x
				}
				last := (below - rows[i-1].w/2) / all
				return rows[i-1].x + float64((p-last)/(middle-last)*(r.x-rows[i-1].x))
			}
			below += r.w
		}
		return rows[len(rows)-1].x
	}
	return sum / all, at(0.5), at(0.95) - at(0.05)
}

// percentile of sorted values by definition 7 of Hyndman and Fan 1996, as the tables have it.
func percentile(sorted []float64, p float64) float64 {
	h := p * float64(len(sorted)-1)
	low := int(math.Floor(h))
	high := min(low+1, len(sorted)-1)
	return sorted[low] + float64((h-float64(low))*(sorted[high]-sorted[low]))
}

func root(x float64) float64 { return math.Sqrt(max(0, x)) }
