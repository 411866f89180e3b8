package analyse

import (
	"cmp"
	"fmt"
	"slices"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sensitivity"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// What is told from the sample's own rows shall cost little beside the run: of each
// replicate the first rows are read, as many as these bounds allow, but no fewer than
// fewestRows in all. mostPairRows is of rows times pairs of an input and a target,
// mostRegions of rows times pairs of an input and a claim, mostKept of rows times
// targets, which are held in memory. Of more pairs than the budget has only those are looked
// at where the input has most of the target, by its first-order share in lookedRows rows.
const (
	lookedRows   = 1024
	mostPairRows = 4_000_000
	mostRegions  = 1_000_000
	mostKept     = 4 << 20
	fewestRows   = 4096
)

// GivenData is what the sample's own rows tell of every input (estimation from given
// data, as the field says), in the order of the plan's stored inputs.
type GivenData struct {
	*Analyst
	inputs  []plan.StoredInput
	found   [][]*finding // of a single and a target; nil where nothing is told
	rows    subsample    // that are read
	targets [][]float64  // their values

	truths, apart subsample // of those rows: for where claims hold, and for distances
	chosen        [][]bool
	left          []string // what the budget left out
}

// finding is what the rows tell of one input and one target.
type finding struct {
	dropped   float64 // share of the rows where the target is infeasible
	first     sensitivity.Index
	curve     []sensitivity.Point
	low, high sensitivity.Point
	distances *sensitivity.Distances // nil where it was not worth its time
	region    claim.Region           // of a claim's truth
}

// GivenData reads the sample for each input and each target that it reaches.
func (a *Analyst) GivenData() (*GivenData, error) {
	if err := a.weigh(); err != nil {
		return nil, err
	}
	g := &GivenData{Analyst: a, inputs: a.Plan.StoredInputs()}
	if err := g.reaching(); err != nil {
		return nil, err
	}
	pairs, claims := g.count()
	var err error
	if g.rows, err = a.firstRows(min(mostPairRows/max(1, pairs), mostKept/max(1, len(a.Plan.Index.Targets)))); err != nil {
		return nil, err
	}
	g.truths, g.apart = g.rows.to(mostRegions/max(1, claims)), g.rows.to(mostDistanceRows)
	if err := g.readTargets(); err != nil {
		return nil, err
	}
	if err := g.forInputs(func(int) bool { return true }, g.means); err != nil {
		return nil, err
	}
	g.choose()
	return g, g.forInputs(func(i int) bool { return slices.Contains(g.chosen[i], true) }, g.distances)
}

// readTargets reads their values in the rows that are read.
func (g *GivenData) readTargets() error {
	g.targets = make([][]float64, len(g.Plan.Index.Targets))
	return g.forEach(len(g.targets), func(t int, read reader, _ *estimate.Scratch) error {
		y, err := read(g.stored(g.Plan.Index.Targets[t]))
		if err == nil {
			g.targets[t], err = g.rows.read(y)
		}
		return err
	})
}

// reaching finds the inputs that reach each target; of too many those with most of it.
func (g *GivenData) reaching() error {
	g.found = make([][]*finding, len(g.inputs))
	for i, s := range g.inputs {
		g.found[i] = make([]*finding, len(g.Plan.Index.Targets))
		for t, target := range g.Plan.Index.Targets {
			if g.Plan.Reaches(g.Plan.Factors[s.Factor], target.Output) {
				g.found[i][t] = new(finding)
			}
		}
	}
	most := g.Budget.pairs()
	pairs, _ := g.count()
	if pairs <= most {
		return nil
	}
	var err error
	if g.rows, err = g.weighed(subsample{g.bounds, g.design()}.first(lookedRows)); err != nil {
		return err
	}
	if err := g.readTargets(); err != nil {
		return err
	}
	if err := g.forInputs(func(int) bool { return true }, g.glance); err != nil {
		return err
	}
	for t := range g.Plan.Index.Targets {
		order := g.strongest(t)
		for _, i := range order[min(len(order), most/len(g.Plan.Index.Targets)):] {
			g.found[i][t] = nil
		}
	}
	told, _ := g.count()
	g.leave("shares, curves and regions from the sample's own rows", told, pairs)
	return nil
}

// count counts pairs with all targets and with claims.
func (g *GivenData) count() (pairs, claims int) {
	for i := range g.found {
		for t, target := range g.Plan.Index.Targets {
			if g.found[i][t] == nil {
				continue
			}
			pairs++
			if target.Of == plan.OfHolds {
				claims++
			}
		}
	}
	return pairs, claims
}

// glance takes the share that one input has of each target, without an interval.
func (g *GivenData) glance(i int, x []float64) error {
	classes, err := sensitivity.NewClasses(x, g.rows.design)
	if err != nil {
		return err
	}
	for t, f := range g.found[i] {
		if f != nil {
			f.first.High = classes.Of(g.targets[t]).Share()
		}
	}
	return nil
}

// strongest are the inputs of a target, those first whose share may be greatest.
func (g *GivenData) strongest(t int) []int {
	var order []int
	for i := range g.inputs {
		if g.found[i][t] != nil {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(g.found[b][t].first.High, g.found[a][t].first.High) })
	return order
}

// forInputs hands the rows of each wanted input to look.
func (g *GivenData) forInputs(wanted func(i int) bool, look func(i int, x []float64) error) error {
	return g.forEach(len(g.inputs), func(i int, read reader, _ *estimate.Scratch) error {
		if !wanted(i) {
			return nil
		}
		column, err := read(g.inputs[i].Stored)
		if err != nil {
			return err
		}
		x, err := g.rows.read(column)
		if err != nil {
			return err
		}
		if err := look(i, x); err != nil {
			return fmt.Errorf("%s: %w", g.inputs[i].Name, err)
		}
		return nil
	})
}

// means looks at one input's effect on the means of every target that it reaches, and
// where claims hold.
func (g *GivenData) means(i int, x []float64) error {
	classes, err := sensitivity.NewClasses(x, g.rows.design)
	if err != nil {
		return err
	}
	level := g.Plan.Study.Level
	claims := false
	for t, target := range g.Plan.Index.Targets {
		f := g.found[i][t]
		if f == nil {
			continue
		}
		seen := classes.Of(g.targets[t])
		f.dropped = infeasible(g.targets[t])
		f.first = seen.First(level)
		f.low, f.high = seen.Ends(level)
		f.curve = seen.Curve(level)
		claims = claims || target.Of == plan.OfHolds
	}
	if !claims {
		return nil
	}
	return g.regions(i, x)
}

// regions looks at one input where each claim holds and where it fails.
func (g *GivenData) regions(i int, x []float64) error {
	regions, err := claim.NewRegions(g.truths.of(x), g.truths.design)
	if err != nil {
		return err
	}
	for t, target := range g.Plan.Index.Targets {
		if f := g.found[i][t]; f != nil && target.Of == plan.OfHolds {
			if f.region, err = regions.Of(g.truths.of(g.targets[t]), g.Plan.Study.Level); err != nil {
				return fmt.Errorf("%s: %w", target.Name, err)
			}
		}
	}
	return nil
}

// infeasible is the share of rows that are NaN.
func infeasible(y []float64) float64 {
	count := 0
	for _, v := range y {
		if v != v {
			count++
		}
	}
	return float64(count) / float64(max(1, len(y)))
}

// stored is the column of samples that has a target.
func (a *Analyst) stored(t plan.Target) string {
	switch t.Of {
	case plan.OfMargin:
		return study.MarginColumn(t.Name)
	case plan.OfHolds:
		return t.Name
	}
	return a.column(t.Name).Stored()
}

// conditionalBars are the inputs' conditional means of one target.
func (g *GivenData) conditionalBars(target int) []bar {
	var bars []bar
	for i, s := range g.inputs {
		f := g.found[i][target]
		if f == nil {
			continue
		}
		shape := result.OneWay
		if !sensitivity.Monotone(f.curve) {
			shape = result.Turns
		}
		bars = append(bars, bar{input: s.Name, form: result.Conditional, shape: shape, inputUnit: g.column(s.Name).Quantity.Unit.String(),
			inLow: f.low.Input, inHigh: f.high.Input, low: f.low.Mean, high: f.high.Mean, lowBand: f.low.Interval, highBand: f.high.Interval})
	}
	return bars
}

// Add adds what the rows tell to the table of indices.
func (g *GivenData) Add(x *Indices) {
	for t, target := range g.Plan.Index.Targets {
		for i, s := range g.inputs {
			f := g.found[i][t]
			order := result.FirstOrder
			if s.Tied {
				order = result.WithCompanions
			}
			switch {
			case f != nil:
				x.add(figure{target: target, input: s.Name, method: result.Classes, order: order, Index: f.first, dropped: f.dropped})
			case g.Plan.Index.FirstRounds() == 0 && !g.Plan.Reaches(g.Plan.Factors[s.Factor], target.Output): // else swaps say so
				x.add(figure{target: target, input: s.Name, method: result.CannotReach, order: order})
			}
			if f != nil && f.distances != nil {
				d := f.distances
				x.add(figure{target: target, input: s.Name, method: result.Classes, order: result.KSDistance, Index: d.KS, dropped: f.dropped})
				x.add(figure{target: target, input: s.Name, method: result.Classes, order: result.DeltaDistance, Index: d.Delta, dropped: f.dropped})
			}
		}
	}
}
