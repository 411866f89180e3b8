package compare

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/model/unit"
	"proofmass/sensitivity/estimate"
	"proofmass/sensitivity/split"
)

// work is about how many rows all combinations together have, where nobody says.
const work, leastRows = 1 << 20, 16384

// explain works out the causes.
func (c *Comparison) explain(ctx context.Context, a, b *folder, o Options) error {
	c.Method = Method{Name: NoCauses, Seed: b.facts.Seed}
	var sides [2]*side
	for i, f := range []*folder{a, b} {
		s, err := o.Read(filepath.Join(f.path, result.StudyFile))
		if err == nil {
			sides[i], err = sideOf(s)
		}
		if err != nil {
			c.Method.Why = "the study in " + f.path + " can't be read by this version of the program: " + err.Error()
			return nil
		}
	}
	e := &evaluator{merger: newMerger(sides[0], sides[1]), context: ctx, workers: o.Workers, rows: leastRows, seed: b.facts.Seed}
	for _, x := range c.Outputs {
		e.names = append(e.names, x.Name)
	}
	for _, x := range c.Claims {
		e.names = append(e.names, study.HoldsName(x.Name))
	}
	why, err := e.prepare()
	if err != nil || why != "" {
		c.Method.Why = why
		return err
	}
	n := len(e.players)
	e.rows = rowsOfEach(o.Rows, n, b.facts.Rows)
	tick := func(done, of int) {
		if o.Tick != nil {
			o.Tick(done*e.rows, of*e.rows)
		}
	}
	if err := e.evaluate(tick); err != nil {
		return err
	}
	n = len(e.players)
	c.Method = Method{Name: AllOrders, Changes: n, Combinations: len(split.Combinations(n)), Rows: e.rows, Seed: e.seed}
	if n > split.Exact {
		c.Method.Name, c.Method.Orders = RandomOrders, split.Orders
	}
	for i := range c.Outputs {
		x := &c.Outputs[i]
		level := func(v float64) float64 { return e.units[x.Name].FromSI(v) }
		size := func(v float64) float64 { return level(v) - level(0) }
		e.causes(&x.Middle, i, level, func(f *figures) *figure { return &f.middle })
		e.causes(&x.Mean, i, level, func(f *figures) *figure { return &f.mean })
		e.causes(&x.Width, i, size, func(f *figures) *figure { return &f.width })
	}
	for i := range c.Claims {
		e.causes(&c.Claims[i].Chance, len(c.Outputs)+i, func(v float64) float64 { return v }, func(f *figures) *figure { return &f.mean })
	}
	return nil
}

// rowsOfEach is how many draws a combination has.
func rowsOfEach(asked, players int, stored int64) int {
	if asked > 0 {
		return asked
	}
	rows := leastRows
	for int64(2*rows) <= stored && 2*rows*len(split.Combinations(players)) <= work {
		rows *= 2
	}
	if n := len(split.Combinations(players)); int64(rows) < stored && int(stored)*n <= work || int64(rows) > stored {
		rows = int(stored)
	}
	return max(rows, 512)
}

// prepare sorts the lines into changes. It returns why that can't be.
func (e *evaluator) prepare() (why string, err error) {
	for _, e.extra = range []bool{false, true} {
		e.find()
		if len(e.lines) > split.Most {
			return fmt.Sprintf("%d lines of the study differ; causes are worked out for %d at most", len(e.lines), split.Most), nil
		}
		e.players = nil
		for k := range e.lines {
			e.players = append(e.players, []int{k})
		}
		var bad error
		for _, s := range []split.Set{0, split.Set(1)<<len(e.lines) - 1} {
			p, err := e.plan(s)
			if err != nil && !errors.Is(err, errApart) {
				return "", err
			}
			if err != nil {
				bad = err
				continue
			}
			e.units = map[string]unit.Unit{}
			for _, c := range p.Columns {
				e.units[c.Name] = c.Quantity.Unit
			}
		}
		if bad == nil {
			return "", e.group()
		}
		why = "the two studies can't be put together line by line: " + bad.Error()
	}
	return why, nil
}

// name is what a player is called: its lines, of which any may be many.
func (e *evaluator) name(player int) string {
	text := ""
	for i, k := range e.players[player] {
		if i == 3 && len(e.players[player]) > 4 {
			return text + " and " + strconv.Itoa(len(e.players[player])-3) + " more together"
		}
		if i > 0 {
			text += ", "
		}
		text += e.lines[k].name
	}
	return text
}

// causes fills the causes of a figure of column i.
func (e *evaluator) causes(c *Change, i int, display func(float64) float64, of func(*figures) *figure) {
	n := len(e.players)
	value := func(s split.Set) float64 { return display(of(&e.values[s][i]).all) }
	mean, wide := split.Shares(n, value)
	replicates := len(of(&e.values[0][i]).replicates)
	each := make([][]float64, n)
	for r := range replicates {
		one, _ := split.Shares(n, func(s split.Set) float64 { return display(of(&e.values[s][i]).replicates[r]) })
		for p, x := range one {
			each[p] = append(each[p], x)
		}
	}
	all := 0.0
	for p, by := range mean {
		if math.IsNaN(by) {
			c.Causes = []Cause{}
			return
		}
		all += by
		cause := Cause{Cause: e.name(p), By: by}
		if half := estimate.HalfWidth(each[p], 0.95); !math.IsNaN(half) {
			half = root(float64(half*half) + float64(wide[p]*wide[p]))
			cause.Low, cause.High = report.Known(by-half), report.Known(by+half)
		}
		c.Causes = append(c.Causes, cause)
	}
	slices.SortStableFunc(c.Causes, func(a, b Cause) int {
		switch x, y := math.Abs(a.By), math.Abs(b.By); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	if c.By != nil {
		rest := *c.By - all
		if math.Abs(rest) <= 1e-9*max(math.Abs(*c.Before), math.Abs(*c.After)) {
			rest = 0 // rounding: the very draws of the tables
		}
		c.Draws = &rest
	}
}
