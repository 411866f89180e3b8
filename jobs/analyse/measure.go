package analyse

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sampling/design"
	"proofmass/sensitivity"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

const (
	mostLearnt   = 8_000_000 // rows times pairs of what would be learnt and a claim
	mostRead     = 262_144   // rows whatever the pairs: more take memory and tell no more
	mostTogether = 3         // of the best single ones are tried in pairs where none turns the answer
)

// MeasureNext makes the rows of measure_next.parquet: what it is worth to each claim to learn an
// input exactly, and to measure what the study says could be measured; none of a claim that hangs
// on none of them.
func (g *GivenData) MeasureNext() ([]result.MeasureRow, error) {
	m := &measuring{GivenData: g, claims: g.holdsTargets(), found: map[[2]int]*result.MeasureRow{}}
	m.items = append(g.exact(m.claims), g.gauges(m.claims)...)
	pairs := 0
	for i := range m.items {
		for _, t := range m.claims {
			if m.items[i].known[t] {
				pairs++
			}
		}
	}
	if pairs == 0 {
		return nil, nil
	}
	var err error
	if m.rows, err = g.firstRows(min(mostRead, mostLearnt/pairs)); err != nil {
		return nil, err
	}
	if err := m.readTargets(); err != nil {
		return nil, err
	}
	if err := m.single(); err != nil {
		return nil, err
	}
	var rows []result.MeasureRow
	for _, t := range m.claims {
		of, turns := m.ofClaim(t)
		if len(of) == 0 {
			continue // none of them reaches it
		}
		if first := &of[0]; !turns && first.Risk > 0 && first.Method != result.LearntByNone {
			pairs, err := m.together(t, of)
			if err != nil {
				return nil, err
			}
			of = append(of, pairs...)
		}
		rows = append(rows, of...)
	}
	return rows, nil
}

// measuring is the work on one table.
type measuring struct {
	*GivenData
	claims []int // targets that are whether a claim holds
	items  []learnable
	rows   subsample
	values map[int][]float64             // of the targets that are read
	found  map[[2]int]*result.MeasureRow // of an item and a target
	turns  map[[2]int]bool               // there: some class has another answer
}

// holdsTargets are the targets that are whether a claim holds.
func (g *GivenData) holdsTargets() []int {
	var targets []int
	for t, target := range g.Plan.Index.Targets {
		if target.Of == plan.OfHolds {
			targets = append(targets, t)
		}
	}
	return targets
}

// marginOf is the target that is how far inside a claim a draw lies, -1 where it has none.
func (g *GivenData) marginOf(holds int) int {
	name := g.Plan.Index.Targets[holds].Name
	return slices.IndexFunc(g.Plan.Index.Targets, func(t plan.Target) bool { return t.Of == plan.OfMargin && t.Name == name })
}

// readTargets reads whether claims hold, and how far inside them draws lie.
func (m *measuring) readTargets() error {
	wanted := slices.Clone(m.claims)
	for _, t := range m.claims {
		if k := m.marginOf(t); k >= 0 {
			wanted = append(wanted, k)
		}
	}
	values := make([][]float64, len(wanted))
	err := m.forEach(len(wanted), func(i int, read reader, _ *estimate.Scratch) error {
		y, err := read(m.stored(m.Plan.Index.Targets[wanted[i]]))
		if err == nil {
			values[i], err = m.rows.read(y)
		}
		return err
	})
	m.values = map[int][]float64{}
	for i, t := range wanted {
		m.values[t] = values[i]
	}
	return err
}

// single fills in what each item alone is worth to each claim.
func (m *measuring) single() error {
	m.turns = map[[2]int]bool{}
	type told struct {
		row   *result.MeasureRow
		turns bool
	}
	all := make([][]told, len(m.items))
	err := m.forEach(len(m.items), func(i int, read reader, _ *estimate.Scratch) error {
		all[i] = make([]told, len(m.claims))
		x, err := m.read(&m.items[i], read)
		if err != nil {
			return err
		}
		learnt, err := claim.NewLearnt(x, m.rows.design)
		if err != nil {
			return fmt.Errorf("%s: %w", m.items[i].name, err)
		}
		classes, err := sensitivity.NewClasses(x, m.rows.design)
		if err != nil {
			return fmt.Errorf("%s: %w", m.items[i].name, err)
		}
		for k, t := range m.claims {
			if !m.items[i].known[t] {
				continue
			}
			w, err := learnt.Of(m.values[t], m.Plan.Study.Level)
			if err != nil {
				return fmt.Errorf("%s: %w", m.items[i].name, err)
			}
			all[i][k] = told{m.row(t, &m.items[i], &w), w.Turns}
			if margin := m.marginOf(t); margin >= 0 {
				m.addSpread(all[i][k].row, margin, classes.Of(m.values[margin]).First(m.Plan.Study.Level))
			}
		}
		return nil
	})
	for i := range all {
		for k, t := range m.claims {
			if err == nil && all[i][k].row != nil {
				m.found[[2]int{i, t}], m.turns[[2]int{i, t}] = all[i][k].row, all[i][k].turns
			}
		}
	}
	return err
}

// read are the rows of an item that are looked at.
func (m *measuring) read(l *learnable, read reader) ([]float64, error) {
	column, err := read(l.stored)
	if err != nil {
		return nil, err
	}
	x, err := m.rows.read(column)
	if err == nil && l.sd > 0 {
		m.rows.addErrors(x, l.sd, design.NewKey(m.Plan.Study.Seed, "gauge", l.name, strconv.FormatFloat(l.sd, 'g', -1, 64)))
	}
	return x, err
}

// row is what an item is worth to a claim.
func (m *measuring) row(target int, l *learnable, w *claim.Worth) *result.MeasureRow {
	nan := math.NaN()
	r := &result.MeasureRow{Choice: int64(m.Plan.Choice), Claim: m.Plan.Index.Targets[target].Name, Item: l.name, ErrorUnit: l.unit, Price: nan,
		Error: l.sd, Risk: w.Risk, Gain: w.Gain.Estimate, GainLow: w.Gain.Low, GainHigh: w.Gain.High, Share: w.Share,
		SD: nan, SDLeft: nan, SDLeftLow: nan, SDLeftHigh: nan, GainPerPrice: nan, Method: result.LearntByClasses}
	if r.Gain != r.Gain {
		r.Method = result.LearntByNone
	}
	m.priced(r, l.price)
	return r
}

// addSpread tells how far the spread of the margin shrinks: the share of its variance that goes
// is the item's first-order index.
func (m *measuring) addSpread(r *result.MeasureRow, margin int, first sensitivity.Index) {
	r.Unit = m.unitOf(m.Plan.Index.Targets[margin]).String()
	r.SD = m.deviations[m.stored(m.Plan.Index.Targets[margin])].sd
	left := func(share float64) float64 { return r.SD * math.Sqrt(min(1, max(0, 1-share))) }
	r.SDLeft, r.SDLeftLow, r.SDLeftHigh = left(first.Estimate), left(first.High), left(first.Low)
}

// ofClaim are the rows of a claim, the best first, and whether some single item turns the
// likelier answer.
func (m *measuring) ofClaim(t int) (rows []result.MeasureRow, turns bool) {
	for i := range m.items {
		if r := m.found[[2]int{i, t}]; r != nil {
			rows = append(rows, *r)
			turns = turns || m.turns[[2]int{i, t}]
		}
	}
	rank(rows)
	return rows, turns
}

// together tries pairs of the best single items.
func (m *measuring) together(t int, single []result.MeasureRow) ([]result.MeasureRow, error) {
	var best []*learnable
	for _, r := range single {
		if r.Error == 0 && len(best) < mostTogether { // a gauge is not tried beside what it tells of
			best = append(best, &m.items[slices.IndexFunc(m.items, func(l learnable) bool { return l.sd == 0 && l.name == r.Item })])
		}
	}
	var pairs [][2]*learnable
	for i := range best {
		for k := range i {
			pairs = append(pairs, [2]*learnable{best[k], best[i]})
		}
	}
	rows := make([]result.MeasureRow, len(pairs))
	err := m.forEach(len(pairs), func(i int, read reader, _ *estimate.Scratch) error {
		var x [2][]float64
		for k, l := range pairs[i] {
			var err error
			if x[k], err = m.read(l, read); err != nil {
				return err
			}
		}
		learnt, err := claim.NewLearntPair(x[0], x[1], m.rows.design)
		if err != nil {
			return err
		}
		w, err := learnt.Of(m.values[t], m.Plan.Study.Level)
		if err != nil {
			return err
		}
		rows[i] = *m.row(t, pairs[i][0], &w)
		rows[i].Other = pairs[i][1].name
		m.priced(&rows[i], pairs[i][0].price+pairs[i][1].price)
		if rows[i].Method == result.LearntByClasses {
			rows[i].Method = result.LearntByPairs
		}
		return nil
	})
	rank(rows)
	return rows, err
}
