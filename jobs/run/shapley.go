package run

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/study"
	"proofmass/sampling/copula"
	"proofmass/sampling/marginal"
	"proofmass/sensitivity"
)

// walkRows is how many rows share one order of the players: few, so that a round
// has many orders (with ten tied inputs 32 rows have 1.5 times the error of 16), and
// enough to spread the cost of starting each step.
const walkRows = 16

// mostRedraws bounds the prepared sets of one group that a worker keeps.
const mostRedraws = 1024

// walker is one worker's small blocks of rows, in which one player after the other
// is drawn anew.
type walker struct {
	*Runner
	round plan.Round
	a, b  side
	ties  []tied

	in     []bool // the players drawn anew
	order  []int
	inputs []int // those drawn anew, and their columns
	lent   [][]float64
	steps  [][][]float64 // of a target and a step: the outputs
}

// tied is one group of inputs that are not independent: its normal scores in A and
// in B, and those drawn anew.
type tied struct {
	plan.Tie
	player     []int // of each input; -1 for none
	marginals  []marginal.Marginal
	a, b, anew [][]float64
	spare      []float64
	mask       []bool
	redraws    map[string]*copula.Redraw // of each set met so far
}

func newWalker(r *Runner, step *plan.Step, round plan.Round) func(plan.Slice) (Part, error) {
	players := r.Plan.Index.Players
	w := &walker{Runner: r, round: round, a: newSide(r, round, plan.PurposeA), b: newSide(r, round, plan.PurposeB),
		in: make([]bool, len(players)), order: make([]int, len(players))}
	for _, t := range r.Plan.Ties {
		w.ties = append(w.ties, newTied(r.Plan, t))
	}
	steps := len(players)
	if r.Plan.AllSubsets() {
		steps = 1<<len(players) - 1
	}
	for range r.Plan.Index.Targets {
		w.steps = append(w.steps, columns(steps, walkRows))
	}
	return func(s plan.Slice) (Part, error) {
		sums := blank(step).(*sensitivity.ShapleySums)
		w.slice(s, sums)
		return sums, nil
	}
}

func newTied(p *plan.Plan, t plan.Tie) tied {
	n := len(t.Inputs)
	g := tied{Tie: t, a: columns(n, walkRows), b: columns(n, walkRows), anew: columns(n, walkRows),
		spare: make([]float64, walkRows), mask: make([]bool, n), redraws: map[string]*copula.Redraw{}}
	for _, i := range t.Inputs {
		g.marginals = append(g.marginals, p.Drawn[i].Marginal)
		g.player = append(g.player, p.PlayerOf(i))
	}
	return g
}

func (w *walker) slice(s plan.Slice, sums *sensitivity.ShapleySums) {
	for done := 0; done < s.Rows; done += walkRows {
		n := min(walkRows, s.Rows-done)
		w.draw(s, s.From+done, n)
		if w.Plan.AllSubsets() {
			w.subsets(n, sums)
		} else {
			sensitivity.Permutation(w.order, w.Plan.Study.Seed, w.blockNumber(s, done))
			w.walk(n, sums)
		}
		w.tick(n * w.Plan.ShapleyEach())
	}
}

// blockNumber is a block's own in the whole run. The blocks of a replicate follow one
// another from an even number: an order and its reverse never part.
func (w *walker) blockNumber(s plan.Slice, done int) int {
	return (w.round.FirstReplicate+s.Replicate)<<24 + (s.From+done)/walkRows
}

// draw evaluates n rows of A, draws those of B, and both rows' normal scores of what
// is tied.
func (w *walker) draw(s plan.Slice, from, n int) {
	w.a.run(s, from, n)
	w.b.drawer.draw(w.b.inputs, n, s.Replicate, from)
	for _, t := range w.ties {
		for k, i := range t.Inputs {
			t.a[k], t.b[k] = t.a[k][:n], t.b[k][:n]
			w.a.drawer.points(t.a[k], i, s.Replicate, from)
			w.b.drawer.points(t.b[k], i, s.Replicate, from)
		}
		t.Dependence.Scores(t.a)
		t.Dependence.Scores(t.b)
	}
}

// walk draws one player after the other anew.
func (w *walker) walk(n int, sums *sensitivity.ShapleySums) {
	clear(w.in)
	for k, player := range w.order {
		w.in[player] = true
		w.evaluate(k, n)
	}
	w.hand(n, func(t int, fA []float64, steps [][]float64) { sums.AddWalk(t, w.order, fA, steps) })
}

// subsets draws every set of players anew.
func (w *walker) subsets(n int, sums *sensitivity.ShapleySums) {
	for set := range 1<<len(w.in) - 1 {
		for player := range w.in {
			w.in[player] = (set+1)>>player&1 == 1
		}
		w.evaluate(set, n)
	}
	w.hand(n, sums.AddSubsets)
}

// hand hands every target's outputs on.
func (w *walker) hand(n int, add func(target int, fA []float64, steps [][]float64)) {
	for t, target := range w.Plan.Index.Targets {
		steps := w.steps[t]
		for k := range steps {
			steps[k] = steps[k][:n]
		}
		add(t, w.a.worker.Output(target.Output)[:n], steps)
	}
}

// evaluate runs A's rows with the players that are in drawn anew, as a step.
func (w *walker) evaluate(step, n int) {
	w.inputs, w.lent = w.inputs[:0], w.lent[:0]
	for player, f := range w.Plan.Index.Players {
		for _, i := range f.Inputs {
			if w.in[player] && !w.Plan.Tied(i) {
				w.inputs, w.lent = append(w.inputs, i), append(w.lent, w.b.inputs[i][:n])
			}
		}
	}
	for k := range w.ties {
		w.redraw(&w.ties[k], n)
	}
	w.a.worker.RunSwapped(w.inputs, w.lent, n)
	for t, target := range w.Plan.Index.Targets {
		w.steps[t][step] = w.steps[t][step][:n]
		copy(w.steps[t][step], w.a.worker.SwappedOutput(target.Output))
	}
}

// redraw draws the inputs of a group whose players are in anew, given the others.
func (w *walker) redraw(t *tied, n int) {
	for k, player := range t.player {
		t.mask[k] = player >= 0 && w.in[player]
	}
	r := t.redraw()
	for k := range t.anew {
		t.anew[k] = t.anew[k][:n]
	}
	r.Fill(t.anew, t.a, t.b)
	for k := range t.anew {
		if !r.Redrawn(k) {
			t.anew[k] = t.anew[k][:0] // its value is that of A
		}
	}
	t.Dependence.Values(t.anew, t.marginals, t.spare)
	for k, i := range t.Inputs {
		if r.Redrawn(k) {
			study.Limit(t.anew[k], w.Plan.Drawn[i].Low, w.Plan.Drawn[i].High)
			w.inputs, w.lent = append(w.inputs, i), append(w.lent, t.anew[k])
		}
	}
}

// redraw is the prepared one of the present mask.
func (t *tied) redraw() *copula.Redraw {
	key := make([]byte, len(t.mask))
	for k, in := range t.mask {
		if in {
			key[k] = 1
		}
	}
	r := t.redraws[string(key)]
	if r == nil {
		if len(t.redraws) == mostRedraws {
			clear(t.redraws)
		}
		r = t.Dependence.Redraw(t.mask)
		t.redraws[string(key)] = r
	}
	return r
}
