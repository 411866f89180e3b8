package sensitivity

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestRoundRows(t *testing.T) {
	// (0.35 * 2.131450 / 0.02)^2 = 1391.3, up to a multiple of 16; t of 15 degrees of
	// freedom as printed in tables.
	if n := RoundRows(0.02, 16); n != 1392 {
		t.Errorf("half-width 0.02: %d rows", n)
	}
	if a, b := RoundRows(0.005, 16), RoundRows(0.01, 16); math.Abs(float64(a)/float64(b)-4) > 0.01 {
		t.Errorf("half the width takes %d rows for %d, want 4 times", a, b)
	}
	if a, b := RoundRows(0.01, 16), RoundRows(0.01, 32); a <= b {
		t.Errorf("32 replicates need %d rows, 16 need %d", b, a)
	}
	for _, w := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 5e-324} {
		for _, r := range []int{-3, 0, 1, 16, 17} {
			if n := RoundRows(w, r); n < 1024 || n%max(r, 2) != 0 {
				t.Errorf("half-width %g, %d replicates: %d rows", w, r, n)
			}
		}
	}
}

func TestMoreRounds(t *testing.T) {
	for _, c := range []struct {
		done, most int
		wide       float64
		want       int
	}{
		{2, 100, 1, 0}, {2, 100, 0.3, 0}, {2, 100, math.NaN(), 0}, {2, 2, 5, 0}, {3, 2, 5, 0},
		{2, 100, 1.01, 1},  // 1.1 * 2 * 1.02 = 2.24
		{4, 100, 1.2, 3},   // 1.1 * 4 * 1.44 = 6.3
		{4, 100, 5, 4},     // no more than as many again
		{4, 6, 5, 2},       // no more than allowed
		{4, 100, 1e300, 4}, // nor does an infinite need overflow
	} {
		if got := MoreRounds(c.done, c.most, c.wide, 0.1); got != c.want {
			t.Errorf("%d of %d rounds, %g times too wide: %d more, want %d", c.done, c.most, c.wide, got, c.want)
		}
	}
	for _, c := range []struct {
		done, most int
		wide       float64
		want       int
	}{
		{1, 100, 1, 0}, {1, 100, 0, 0}, {1, 100, 1.0001, 1}, {10, 100, 1.05, 2}, {10, 100, 1.2, 5}, {10, 100, 9, 10},
		{10, 12, 9, 2}, {12, 12, 9, 0}, {1, 1, math.Inf(1), 0}, {3, 1000, math.Inf(1), 3},
	} {
		if got := MoreRounds(c.done, c.most, c.wide, 0); got != c.want {
			t.Errorf("no reserve, %d of %d rounds, %g times too wide: %d more, want %d", c.done, c.most, c.wide, got, c.want)
		}
	}
}

// outputs are ten functions, as the ten outputs of a study: those of the tests,
// and sums and an exponential with many inputs of which one dominates.
func outputs() []testFunction {
	few := slices.Repeat([]float64{0.1}, 9)
	one := append([]float64{1}, few...)
	scores := func(name string, f func(float64) float64, c ...float64) testFunction {
		l := linear(name, c...)
		l.f = func(u []float64) float64 {
			var y float64
			for i, c := range c {
				y += c * math.Sqrt2 * math.Erfinv(2*u[i]-1)
			}
			return f(y)
		}
		return l
	}
	same := func(x float64) float64 { return x }
	return append(testFunctions(),
		linear("one uniform dominates", one...),
		linear("ten uniforms", slices.Repeat([]float64{1}, 10)...),
		scores("one normal dominates", same, one...),
		scores("two normals dominate", same, append([]float64{1}, one...)...),
		scores("ten normals", same, slices.Repeat([]float64{1}, 10)...),
		scores("lognormal", math.Exp, append([]float64{0.3}, few...)...),
	)
}

const halfWidth = 0.025 // that growing is asked for

// addRound adds a round of the rows that halfWidth asks for, as replicates behind
// those of the rounds done.
func addRound(p *PickFreeze, fn testFunction, seed uint64, done int) {
	random, d := rand.New(rand.NewPCG(seed, 12)), len(fn.first)
	for r := range replicates {
		u := latin(random, RoundRows(halfWidth, replicates)/replicates, 2*d)
		a, b := u[:d], u[d:]
		s, fA, fB := p.NewSums(), values(fn.f, a), values(fn.f, b)
		s.AddBase(0, fA, fB)
		for i := range d {
			s.AddSwapped(i, 0, fA, fB, values(fn.f, swapped(a, b, i)), values(fn.f, swapped(b, a, i)))
		}
		p.Join(done*replicates+r, s)
	}
}

// Rounds added by these rules must end with intervals that hold the exact values
// although the half-width decides when to stop, and take few rounds.
func TestGrowingIndices(t *testing.T) { growing(t, 60) }

func growing(t *testing.T, trials int) {
	const most = 64
	for _, fn := range outputs() {
		hits, rounds := tally{}, 0
		for trial := range trials {
			p := NewPickFreeze(len(fn.first), 1)
			done, more := 0, 2
			for more > 0 {
				for range more {
					addRound(p, fn, uint64(1000*trial+done), done)
					done++
				}
				more = MoreRounds(done, most, widest(p)/halfWidth, 0.1)
			}
			rounds += done
			for i, pair := range p.Indices(0.95)[0] {
				if fn.name != "lognormal" { // the others have exact indices
					hits.add("first x"+string(rune('1'+i)), pair.First.Interval, fn.first[i])
					hits.add("total x"+string(rune('1'+i)), pair.Total.Interval, fn.total[i])
				}
			}
			if w := widest(p); w > halfWidth && done < most {
				t.Fatalf("%s: stopped at %g after %d rounds", fn.name, w, done)
			}
		}
		t.Logf("%s: %.1f rounds", fn.name, float64(rounds)/float64(trials))
		if mean := float64(rounds) / float64(trials); mean > 12 {
			t.Errorf("%s takes %.1f rounds on average", fn.name, mean)
		}
		hits.check(t, trials)
	}
}

// widest is the largest half-width of all indices of the only output.
func widest(p *PickFreeze) float64 {
	w := 0.0
	for _, pair := range p.Indices(0.95)[0] {
		w = max(w, (pair.First.High-pair.First.Low)/2, (pair.Total.High-pair.Total.Low)/2)
	}
	return w
}
