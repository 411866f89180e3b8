package sequential

import (
	"math"
	"testing"

	"proofmass/sampling/portable"
)

// climbed climbs to g >= 0 as a run does, round by round.
func climbed(seed uint64, scores, rows int, g func(z []float64) float64, least float64) (c *Climb, runs int) {
	evaluate := func(z [][]float64, value []float64) {
		runs += len(z)
		for i, row := range z {
			if value[i] = g(row); value[i] >= 0 {
				value[i] = Event
			}
		}
	}
	stream := NewStream(seed, "climb")
	mover := NewMover(stream, evaluate)
	populations := make([]Population, Populations)
	for k := range populations {
		populations[k] = NewPopulation(rows, scores)
		mover.Draw(&populations[k], k, 0)
	}
	c = &Climb{}
	c.Tell(populations, 0, 0, least)
	for round := 1; !c.Done; round++ {
		accepted, tried := 0, 0
		for k := range populations {
			beyond := c.Beyond(&populations[k])
			populations[k] = Population{}
			if beyond.Rows() == 0 {
				continue
			}
			next := NewPopulation(rows, scores)
			beyond.Picked(&next, stream.Pick(Alike(beyond.Rows()), rows, round, k))
			accepted += mover.Move(&next, round, k, 0, ClimbMoves, c.Step, c.Accept())
			tried += rows * ClimbMoves
			populations[k] = next
		}
		c.Tell(populations, accepted, tried, least)
	}
	return c, runs
}

// t15 is Student's t of 95 % with 15 degrees of freedom.
const t15 = 2.1314495455597742

// told is the mean of what populations say, and the half-width of its interval.
func told(each []float64) (chance, half float64) {
	chance = mean(each)
	square := 0.0
	for _, p := range each {
		square += (p - chance) * (p - chance)
	}
	n := float64(len(each))
	return chance, t15 * math.Sqrt(square/n/(n-1))
}

// A limitState is a published benchmark: g is positive where it fails, of standard normal z.
type limitState struct {
	name   string
	scores int
	chance float64
	// off is by how much the published chance may be wrong, as a share: where it was sampled.
	off float64
	g   func(z []float64) float64
}

// limitStates are published cases with published chances (from memory).
func limitStates() []limitState {
	return []limitState{
		// A plane in ten inputs with reliability index 5: exact. Case RP107 of Rozsas and Slobbe (2019),
		// Black-box reliability challenge, TNO; printed there as 2.92e-7.
		{"plane in ten inputs, beta 5", 10, portable.NormalCDF(-5), 0, func(z []float64) float64 {
			sum := 0.0
			for _, x := range z {
				sum += x
			}
			return sum/math.Sqrt(10) - 5
		}},
		// The least of a sum of twenty exponential inputs, Engelund and Rackwitz (1993), Struct. Saf. 12,
		// case RP54 of the same challenge: 9.98e-4 printed. It is P(gamma(20) < 8.951), exact.
		{"twenty exponentials", 20, gammaBelow(20, 8.951), 0, func(z []float64) float64 {
			sum := 0.0
			for _, x := range z {
				sum -= math.Log(portable.NormalCDF(-x))
			}
			return 8.951 - sum
		}},
		// The oscillator of Bucher and Bourgund (1990), Struct. Saf. 7, with the force N(0.6, 0.1) of
		// Echard, Gayton, Lemaire and Relun (2013), Reliab. Eng. Syst. Saf. 111: 9.09e-6 printed. By the
		// integral over the force and 3 million weighted rows of the rest it is 9.15e-6 +- 0.02e-6.
		{"oscillator", 6, 9.09e-6, 0.012, func(z []float64) float64 {
			mass, c1, c2 := 1+float64(0.05*z[0]), 1+float64(0.1*z[1]), 0.1+float64(0.01*z[2])
			reach, force, time := 0.5+float64(0.05*z[3]), 0.6+float64(0.1*z[4]), 1+float64(0.2*z[5])
			w := math.Sqrt((c1 + c2) / mass)
			return math.Abs(2*force/(mass*w*w)*math.Sin(w*time/2)) - 3*reach
		}},
		// Four branches, four regions: Waarts (2000), Structural reliability using finite element
		// methods; with k = 7 printed as 2.22e-3 by Echard, Gayton and Lemaire (2011), Struct. Saf. 33.
		{"four branches", 2, 2.22e-3, 0.02, func(z []float64) float64 {
			a, b := z[0], z[1]
			q := 0.1 * (a - b) * (a - b)
			return -min(3+q-(a+b)/math.Sqrt2, 3+q+(a+b)/math.Sqrt2, a-b+7/math.Sqrt2, b-a+7/math.Sqrt2)
		}},
	}
}

// gammaBelow is the chance that a sum of n exponential inputs lies below x: that more than n - 1
// events of a Poisson process come until then.
func gammaBelow(n int, x float64) float64 {
	term, sum := math.Exp(-x), 0.0
	for k := 1; k <= n-1; k++ {
		term *= x / float64(k)
	}
	for k := n; k < n+200; k++ {
		term *= x / float64(k)
		sum += term
	}
	return sum
}

// TestLimitStates: the chances of the benchmarks lie within twice the intervals. Seeds are fixed,
// so that this raises no false alarm; of other seeds one in 10,000 would.
func TestLimitStates(t *testing.T) {
	for _, s := range limitStates() {
		c, runs := climbed(1, s.scores, 500, s.g, 1e-9)
		chance, half := told(c.Chances())
		if !c.Reached() || math.Abs(chance-s.chance) > 2*half+s.off*s.chance || half > s.chance {
			t.Errorf("%s: %.3g +- %.2g in %d runs, published %.3g", s.name, chance, half, runs, s.chance)
		}
	}
}

// What lies in no draw's reach is said to be rarer than asked; what has steps alone is climbed
// by them; what is all alike ends at once.
func TestClimbsThatEnd(t *testing.T) {
	low, runs := climbed(3, 2, 200, func(z []float64) float64 { return min(z[0], 2) - 9 }, 1e-4)
	if chance, _ := told(low.Chances()); low.Reached() || runs > 16*200*30 || chance < 1e-4/2 || chance > 0.2 {
		t.Errorf("cut off at 2: reached %v, chance of the last level %g", low.Reached(), chance)
	}
	never, _ := climbed(3, 2, 200, func(z []float64) float64 { return -1 - 1/(1+math.Exp(z[0])) }, 1e-4)
	if chance, _ := told(never.Chances()); never.Reached() || chance >= 1e-4 {
		t.Errorf("never: reached %v, chance of the last level %g", never.Reached(), chance)
	}
	flat, runs := climbed(3, 2, 200, func([]float64) float64 { return -1 }, 1e-4)
	if flat.Reached() || len(flat.Levels) != 0 || runs != 16*200 {
		t.Errorf("all alike: %d levels, %d runs", len(flat.Levels), runs)
	}
	steps, _ := climbed(3, 1, 500, func(z []float64) float64 { return math.Floor(z[0]) - 4 }, 1e-9)
	if chance, half := told(steps.Chances()); !steps.Reached() || math.Abs(chance-portable.NormalCDF(-4)) > 2*half {
		t.Errorf("steps: %g +- %g, exact %g", chance, half, portable.NormalCDF(-4))
	}
	common, runs := climbed(3, 1, 500, func(z []float64) float64 { return z[0] }, 1e-9)
	if chance, half := told(common.Chances()); runs != 16*500 || math.Abs(chance-0.5) > 2*half {
		t.Errorf("one in two: %g +- %g in %d runs", chance, half, runs)
	}
}

// Rows may be moved in any pieces: each has the same draws.
func TestMovesInPieces(t *testing.T) {
	evaluate := func(z [][]float64, value []float64) {
		for i, row := range z {
			value[i] = row[0] + float64(row[1]*row[1])
		}
	}
	accept := func(from, to, u float64) bool { return to > 0 && float64(u*from) < to }
	whole := NewPopulation(40, 2)
	mover := NewMover(NewStream(7, "pieces"), evaluate)
	mover.Draw(&whole, 3, 0)
	var pieces Population
	for _, piece := range [][2]int{{0, 1}, {1, 17}, {18, 22}} {
		own := NewMover(NewStream(7, "pieces"), evaluate)
		p := NewPopulation(piece[1], 2)
		own.Draw(&p, 3, piece[0])
		own.Move(&p, 2, 3, piece[0], 4, 0.7, accept)
		pieces.Append(&p)
	}
	if mover.Move(&whole, 2, 3, 0, 4, 0.7, accept) == 0 {
		t.Error("nothing was accepted")
	}
	for i, z := range whole.Z {
		if z != pieces.Z[i] {
			t.Fatalf("number %d: %g whole, %g in pieces", i, z, pieces.Z[i])
		}
	}
}

// Pick takes each row as often as its share of the weights, up to one; a row of no weight never.
func TestPick(t *testing.T) {
	weight := []float64{0, 3, 0, 1, 0.5, 0, 7.5, 0}
	for round := range 200 {
		times := make([]int, len(weight))
		for _, i := range NewStream(1, "pick").Pick(weight, 24, round, 0) {
			times[i]++
		}
		for i, n := range times {
			if want := 24 * weight[i] / 12; math.Abs(float64(n)-want) >= 1 {
				t.Fatalf("round %d: row %d %d times, its share is %g", round, i, n, want)
			}
		}
	}
	if NewStream(1, "pick").Pick(make([]float64, 3), 3, 0, 0) != nil {
		t.Error("rows were picked from none")
	}
}
