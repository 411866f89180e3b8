package sensitivity

import (
	"math"
	"math/bits"
	"slices"
	"testing"
)

// games are all functions of exact.csv that have Shapley effects, with their rows.
func games(t *testing.T) (all map[string]game, rows map[string][]reference) {
	all, rows = map[string]game{}, map[string][]reference{}
	functions := exactFunctions()
	for _, r := range references(t, "exact.csv") {
		name := r.function + " " + r.parameters
		if fn, ok := functions[name]; ok && r.function != "morris" {
			all[name] = independently(fn)
		} else if r.function == "gaussian" {
			all[name] = parseGaussian(r.parameters)
		} else {
			continue
		}
		rows[name] = append(rows[name], r)
	}
	return all, rows
}

// Closed forms of linear functions of dependent normals (Owen and Prieur, 2017),
// computed here from conditional covariances, and by reference.py over all subsets.
func TestShapleyClosedForms(t *testing.T) {
	all, rows := games(t)
	checked := 0
	for name, g := range all {
		for _, r := range rows[name] {
			if r.function == "gaussian" {
				checked++
				if got := exactValue(g.testFunction, r.quantity); !(math.Abs(got-r.value) <= 1e-12*max(1, r.value)) {
					t.Errorf("%s %s: %.17g, want %.17g", name, r.quantity, got, r.value)
				}
			}
		}
	}
	if checked != 69 {
		t.Errorf("%d rows checked, want 69", checked)
	}
}

// Every Shapley effect of exact.csv, by walks, and up to 8 inputs by subsets too; of
// dependent normals, first-order and total indices as well, the gain of the
// player who goes last or first. Each interval has the level 0.999 and a fixed seed.
// Right intervals miss more than 4 times of 170 with a chance below 1e-6 were they
// independent; effects of one game are not, and 1e-3 is a safe figure. A miss by
// more than twice the half-width has a chance below 1e-6 each.
func TestShapleyExact(t *testing.T) {
	all, rows := games(t)
	missed, checked := 0, 0
	check := func(what string, got Index, want float64) {
		t.Helper()
		checked++
		if !(got.Low-1e-15 <= want && want <= got.High+1e-15) {
			missed++
			t.Logf("%s: %g not in [%g, %g]", what, want, got.Low, got.High)
		}
		if half := got.High - got.Estimate; !(math.Abs(got.Estimate-want) <= 2*half+1e-12) || half > 0.06 {
			t.Errorf("%s: %g -+ %g, want %g", what, got.Estimate, half, want)
		}
	}
	for name, g := range all {
		const n, level = replicates * 2048, 0.999
		d := g.inputs
		walks := g.byWalks(41, n, 8, singles(d), permutations(d, 41)).Effects(level)[0]
		var subsets []Index
		if d <= 8 {
			subsets = g.bySubsets(42, n/4, singles(d)).Effects(level)[0]
		}
		for _, r := range rows[name] {
			what, u := splitQuantity(r.quantity)
			i := bits.TrailingZeros32(u)
			switch {
			case what == "Shapley":
				check(name+" by walks, "+r.quantity, walks[i], r.value)
				if subsets != nil {
					check(name+" by subsets, "+r.quantity, subsets[i], r.value)
				}
			case r.function == "gaussian" && (what == "S" || what == "ST"):
				order := []int{1, 0}
				if what == "ST" {
					order = []int{0, 1}
				}
				players := []uint32{u, (1<<d - 1) &^ u}
				two := g.byWalks(43, n, n, players, func(int) []int { return order })
				check(name+" "+r.quantity, two.Effects(level)[0][0], r.value)
			}
		}
	}
	t.Logf("%d of %d missed", missed, checked)
	if missed > 4 || checked != 170 {
		t.Errorf("%d of %d exact values lie outside, want at most 4 of 170", missed, checked)
	}
}

// All orders of the same rows, one after the other, are the subsets; effects add up to 1.
func TestShapleySubsetsAreAllWalks(t *testing.T) {
	all, _ := games(t)
	for name, g := range all {
		d := g.inputs
		if d > 4 {
			continue
		}
		subsets := g.bySubsets(7, replicates*8, singles(d)).Effects(0)[0]
		joined := NewShapley(d, 1, replicates)
		for _, order := range orders(d) {
			one := g.byWalks(7, replicates*8, 8, singles(d), func(int) []int { return order })
			for r := range replicates {
				joined.sums[r][0].add(one.sums[r][0], 1)
			}
		}
		walks, sum := joined.Effects(0.95)[0], 0.0
		for i, e := range subsets {
			sum += e.Estimate
			if math.Abs(e.Estimate-walks[i].Estimate) > 1e-13 || math.Abs(e.Low-walks[i].Low) > 1e-12 {
				t.Errorf("%s x%d: %v by subsets, %v by all walks", name, i+1, e, walks[i])
			}
		}
		if math.Abs(sum-1) > 1e-14 {
			t.Errorf("%s: the effects add up to 1%+g", name, sum-1)
		}
	}
}

// orders are all orders of d players.
func orders(d int) [][]int {
	if d == 0 {
		return [][]int{nil}
	}
	var all [][]int
	for _, o := range orders(d - 1) {
		for at := range d {
			all = append(all, slices.Insert(slices.Clone(o), at, d-1))
		}
	}
	return all
}

// Independent players: the same runs walk back from B, for the reversed order.
func TestShapleyWalkBack(t *testing.T) {
	g := independently(ishigami())
	a, b := g.draw(newRandom(3), 64)
	x12, x1 := g.redraw(a, b, 3), g.redraw(a, b, 1)
	back := NewShapley(3, 1, 1)
	s := back.NewSums()
	s.AddWalk(0, []int{2, 1, 0}, values(g.f, b), [][]float64{values(g.f, x12), values(g.f, x1), values(g.f, a)})
	back.Join(0, s)
	own := NewShapley(3, 1, 1)
	s = own.NewSums()
	s.AddWalk(0, []int{2, 1, 0}, values(g.f, b), [][]float64{
		values(g.f, g.redraw(b, a, 4)), values(g.f, g.redraw(b, a, 6)), values(g.f, g.redraw(b, a, 7))})
	own.Join(0, s)
	for i, e := range own.Effects(0)[0] {
		if got := back.Effects(0)[0][i].Estimate; got != e.Estimate {
			t.Errorf("x%d: %g walking back, %g from B", i+1, got, e.Estimate)
		}
	}
}

// Neither the cut into slices nor equal calls change more than the last digits.
func TestShapleySlices(t *testing.T) {
	g := independently(ishigami())
	whole := g.byWalks(5, replicates*64, 64, singles(3), permutations(3, 1))
	again := g.byWalks(5, replicates*64, 64, singles(3), permutations(3, 1))
	parts := g.byWalks(5, replicates*64, 5, singles(3), func(block int) []int { return permutations(3, 1)(block / 13) })
	for i, e := range whole.Effects(0)[0] {
		if got := again.Effects(0)[0][i]; got != e {
			t.Errorf("x%d: %v, then %v", i+1, e, got)
		}
		if got := parts.Effects(0)[0][i]; math.Abs(got.Estimate-e.Estimate) > 1e-12 || math.Abs(got.High-e.High) > 1e-12 {
			t.Errorf("x%d: %v whole, %v in parts", i+1, e, got)
		}
	}
}

// An independent player that the output does not use has exactly 0 in [0, 0], walked
// or left out; the only player has exactly 1; two that are one and the same, half each.
func TestShapleyInertAndAlone(t *testing.T) {
	g := independently(linear("linear", 1, 2, 0))
	for name, s := range map[string]*Shapley{
		"walks":    g.byWalks(8, replicates*32, 8, singles(3), permutations(3, 1)),
		"left out": g.byWalks(8, replicates*32, 8, singles(3), permutations(2, 1)),
		"subsets":  g.bySubsets(8, replicates*32, singles(3)),
	} {
		if e := s.Effects(0)[0]; e[2] != (Index{}) || math.Abs(e[0].Estimate+e[1].Estimate-1) > 1e-15 {
			t.Errorf("%s: %v", name, e)
		}
	}
	for _, s := range []*Shapley{g.byWalks(8, replicates*8, 8, []uint32{7}, permutations(1, 1)), g.bySubsets(8, replicates*8, []uint32{7})} {
		if e := s.Effects(0)[0][0]; e.Estimate != 1 || e.Low != 1 || e.High != 1 {
			t.Errorf("the only player: %v", e)
		}
	}
	tied := g
	tied.redraw = func(a, b [][]float64, set uint32) [][]float64 {
		if set != 3 { // each is fixed by the other
			return a
		}
		return g.redraw(a, b, set)
	}
	for _, s := range []*Shapley{tied.byWalks(8, replicates*32, 8, singles(2), permutations(2, 1)), tied.bySubsets(8, replicates*32, singles(2))} {
		if e := s.Effects(0)[0]; math.Abs(e[0].Estimate-0.5) > 0.2 || math.Abs(e[1].Estimate-1+e[0].Estimate) > 1e-15 {
			t.Errorf("tied players: %v", e)
		}
	}
}

// Rows with an infeasible run count as if they had never been drawn, for that output
// and no other; a constant output, an infeasible one or no rows have no effects.
func TestShapleyBadCases(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	fA := []float64{1, 2, nan, 4, 5, 6, 7}
	one := []float64{2, 2, 3, inf, 4, 7, -1}
	two := []float64{0, 1, 2, 3, nan, 5, 7}
	both := []float64{3, 5, 1, 9, 2, -inf, 4}
	keep := func(x []float64) []float64 { return []float64{x[0], x[1], x[6]} }
	walked := func(x []float64) []float64 { return []float64{x[0], x[1], x[3], x[6]} }
	add := func(s *Shapley, r int) {
		sums := s.NewSums()
		sums.AddWalk(0, []int{1, 0}, fA, [][]float64{two, both})
		sums.AddWalk(1, []int{1, 0}, walked(fA), [][]float64{walked(two), walked(both)})
		sums.AddSubsets(2, fA, [][]float64{one, two, both})
		sums.AddSubsets(3, keep(fA), [][]float64{keep(one), keep(two), keep(both)})
		same := slices.Repeat([]float64{7.1}, 7)
		sums.AddWalk(4, []int{0, 1}, same, [][]float64{same, same})
		sums.AddSubsets(5, same, [][]float64{same, same, same})
		sums.AddWalk(6, []int{0, 1}, fA, [][]float64{one, slices.Repeat([]float64{nan}, 7)})
		s.Join(r, sums)
	}
	s := NewShapley(2, 8, 3)
	for r := range 3 {
		add(s, r)
	}
	e := s.Effects(0.9)
	for j, want := range []float64{3.0 / 7, 0, 4.0 / 7, 0, 0, 0, 1, 0} {
		if got := s.Dropped(j); got != want {
			t.Errorf("output %d: dropped %g, want %g", j, got, want)
		}
		for i, got := range e[j] {
			switch {
			case j < 4 && (got != e[j|1][i] || !(math.Abs(got.Estimate) < 10)):
				t.Errorf("output %d player %d: %v with infeasible rows, %v without", j, i, got, e[j|1][i])
			case j >= 4 && !(math.IsNaN(got.Estimate) && math.IsNaN(got.Low) && math.IsNaN(got.High)):
				t.Errorf("output %d player %d: %v, want NaN", j, i, got)
			}
		}
	}
	single := NewShapley(2, 8, 1)
	add(single, 0)
	if got := single.Effects(0)[0][0]; math.IsNaN(got.Estimate) || !math.IsNaN(got.Low) {
		t.Errorf("one replicate: %v, want an estimate without interval", got)
	}
}
