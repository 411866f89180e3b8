package plan

import (
	"fmt"
	"slices"

	"proofmass/jobs/study"
	"proofmass/sampling/design"
	"proofmass/sensitivity"
)

// Indices is the plan of the sensitivity.
type Indices struct {
	Round              // its first round; the others are IndexRound
	Outputs   []int    // program outputs asked for
	Targets   []Target // all whose dependence is told: the outputs first, in their order
	Swaps     []Swap   // what is exchanged between rows in turn, factors before groups
	Players   []Factor // between whom Shapley effects share, where inputs are tied
	Screening Screening
	Aside     []Factor      // what screening found to do next to nothing; swapped as one
	Most      int           // rounds that at_most allows
	Design    design.Design // nil without index rows
	Short     bool          // at_most leaves fewer rounds than the half-width usually needs
}

// A Target is a program output that sensitivity speaks of, and as what.
type Target struct {
	Name   string // of the output or the claim
	Of     string // one of OfOutput, OfMargin, OfHolds
	Output int
}

// What a target is: an output, how far inside a claim a draw lies, whether the
// claim holds.
const (
	OfOutput = "output"
	OfMargin = "margin"
	OfHolds  = "holds"
)

// A Swap is what is exchanged at once between two rows.
type Swap struct {
	Factor
	Number int // of the factor; -1 for a group
}

// firstRounds are added before the half-widths are looked at for the first time: those of
// one round, with 15 degrees of freedom, say too little.
const firstRounds = 2

// usualRounds are enough for most outputs, see sensitivity.RoundRows.
const usualRounds = 4

// planIndices sizes the rounds of index rows: N base rows cost N times Each runs.
func (p *Plan) planIndices(g *graph) error {
	outputs, err := p.askedOutputs(g)
	if err != nil {
		return err
	}
	p.Index.Outputs = outputs
	p.Index.Targets = p.targets()
	s := p.Study.Indices
	if s.None {
		return nil
	}
	p.addSwaps()
	p.addPlayers()
	if len(p.Index.Swaps) == 0 {
		return nil
	}
	if err := p.planScreening(); err != nil {
		return err
	}
	return p.sizeIndices(s.AtMost - p.Index.Screening.Spent())
}

// sizeIndices cuts the runs that are allowed into rounds.
func (p *Plan) sizeIndices(most int) error {
	s := p.Study.Indices
	allowed := most / p.rowRuns()
	wanted := p.roundIndexRows(sensitivity.RoundRows(s.HalfWidth, Replicates))
	rows := wanted
	if p.Index.Short = allowed < usualRounds*wanted; p.Index.Short {
		rounds := max(1, (allowed+wanted-1)/wanted)
		rows = p.mostIndexRows(allowed / rounds) // few rounds, that use up what is allowed
	}
	if rows == 0 {
		return nil // at_most is too small for a row a replicate; tooFewRuns says so
	}
	p.Index.Round = newRound(0, Index, rows, Replicates)
	p.Index.Most = allowed / rows
	var err error
	p.Index.Design, err = p.indexDesign(rows)
	return err
}

// Each is the number of runs that one base row costs: A and B, and each swap both
// ways.
func (x *Indices) Each() int { return 2*len(x.Swaps) + 2 }

// manyReached pairs of a swap and a target that it reaches are where sums are kept of 16
// replicates in place of 32: they take 56 bytes each. Intervals then have 15 degrees of
// freedom, a twentieth wider.
const manyReached = 50_000

// swapSlots is how many replicates of swapped rows are told apart.
func (p *Plan) swapSlots() int {
	pairs := 0
	for _, s := range p.Index.Swaps {
		for _, t := range p.Index.Targets {
			if p.Reaches(s.Factor, t.Output) {
				pairs++
			}
		}
	}
	if pairs > manyReached {
		return sensitivity.MostSlots / 2
	}
	return sensitivity.MostSlots
}

// FirstRounds is the number of rounds to begin with, 0 without index rows.
func (x *Indices) FirstRounds() int { return min(firstRounds, x.Most) }

// FirstIndexRuns is the number of model runs that sensitivity begins with: screening,
// its first rounds, the walks over their rows where inputs are tied.
func (p *Plan) FirstIndexRuns() int {
	x := &p.Index
	return x.FirstRounds()*x.Rows*p.rowRuns() + x.Screening.Spent()
}

// LikelyIndexRuns is FirstIndexRuns with the rounds that usually follow.
func (p *Plan) LikelyIndexRuns() int {
	x := &p.Index
	return min(usualRounds, x.Most)*x.Rows*p.rowRuns() + x.Screening.Spent()
}

// rowRuns is the number of runs that one base row costs, walks included.
func (p *Plan) rowRuns() int {
	if len(p.Index.Players) == 0 {
		return p.Index.Each()
	}
	return p.Index.Each() + p.ShapleyEach()
}

// IndexRound is round number of the indices, each as large as the first.
func (p *Plan) IndexRound(number int) Round {
	r := p.Index.Round
	r.Number, r.FirstRow, r.FirstReplicate = number, number*r.Rows, number*r.Replicates
	return r
}

// targets are the asked outputs, then margin and truth of each claim: all claims,
// or those that `indices: {of: [...]}` lists.
func (p *Plan) targets() []Target {
	var targets []Target
	for _, output := range p.Index.Outputs {
		targets = append(targets, Target{p.Program.Outputs()[output], OfOutput, output})
	}
	of := p.Study.Indices.Of
	for _, c := range p.Claims {
		if len(of) > 0 && !slices.Contains(of, c.Name) && !slices.Contains(of, study.AllClaims) {
			continue
		}
		if c.Margin >= 0 && p.varies(c.Margin) && !p.isNever(c.Margin) {
			targets = append(targets, Target{c.Name, OfMargin, c.Margin})
		}
		if p.varies(c.Holds) && !p.isNever(c.Holds) {
			targets = append(targets, Target{c.Name, OfHolds, c.Holds})
		}
	}
	return targets
}

// addSwaps lists the factors that reach a target, then the groups.
func (p *Plan) addSwaps() {
	for f, factor := range p.Factors {
		if p.reachesAny(factor) {
			p.Index.Swaps = append(p.Index.Swaps, Swap{factor, f})
		}
	}
	for _, group := range p.groups() {
		if p.reachesAny(group) {
			p.Index.Swaps = append(p.Index.Swaps, Swap{group, -1})
		}
	}
}

func (p *Plan) reachesAny(f Factor) bool {
	return slices.ContainsFunc(p.Index.Targets, func(t Target) bool { return p.Reaches(f, t.Output) })
}

// Reaches reports whether the program's output can depend on the factor.
func (p *Plan) Reaches(f Factor, output int) bool {
	for _, input := range f.Inputs {
		if p.Program.Reaches(input, output) {
			return true
		}
	}
	return false
}

// ReachedTogether reports whether an input, or one that it is drawn with, reaches both outputs
// of the program: then one may tell of the other.
func (p *Plan) ReachedTogether(a, b int) bool {
	tied := make([]bool, len(p.Ties)) // of which an input reaches a, and b
	also := make([]bool, len(p.Ties))
	for input := range p.Drawn {
		toA, toB := p.Program.Reaches(input, a), p.Program.Reaches(input, b)
		if toA && toB {
			return true
		}
		for i, t := range p.Ties {
			if slices.Contains(t.Inputs, input) {
				tied[i], also[i] = tied[i] || toA, also[i] || toB
			}
		}
	}
	for i := range tied {
		if tied[i] && also[i] {
			return true
		}
	}
	return false
}

// Doubt says that the half-width of the indices may not be reached, "" if it
// should be.
func (p *Plan) Doubt() string {
	if !p.Index.Short || p.Index.Rows == 0 {
		return ""
	}
	return fmt.Sprintf("indices.at_most %d leaves %d base rows, fewer than a half-width of %g usually needs.",
		p.Study.Indices.AtMost, p.Index.Most*p.Index.Rows, p.Study.Indices.HalfWidth)
}

// tooFewRuns says that there are no index rows at all though they were wanted.
func (p *Plan) tooFewRuns() []string {
	if !p.Index.Short || p.Index.Rows > 0 {
		return nil
	}
	return []string{fmt.Sprintf("%d model runs are too few for sensitivity by swapped inputs, which takes at least %d (indices.at_most, or --rows): what decides is told from the sample's own rows.",
		p.Study.Indices.AtMost, Replicates*p.rowRuns())}
}
