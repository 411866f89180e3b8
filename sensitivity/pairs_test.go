package sensitivity

import (
	"math/rand/v2"
	"testing"
)

// pairsOf runs replicates with every input and every pair swapped: pair k of a, b is
// places[k].
func pairsOf(fn testFunction, seed uint64, rows int) (single, both *PickFreeze, places [][2]int) {
	d := len(fn.first)
	for j := range d {
		for i := range j {
			places = append(places, [2]int{i, j})
		}
	}
	random := rand.New(rand.NewPCG(seed, 13))
	single, both = NewPickFreeze(d, 1), NewPickFreeze(len(places), 1)
	for r := range replicates {
		u := latin(random, rows/replicates, 2*d)
		a, b := u[:d], u[d:]
		fA, fB := values(fn.f, a), values(fn.f, b)
		s, t := single.NewSums(), both.NewSums()
		s.AddBase(0, fA, fB)
		t.AddBase(0, fA, fB)
		for i := range d {
			s.AddSwapped(i, 0, fA, fB, values(fn.f, swapped(a, b, i)), values(fn.f, swapped(b, a, i)))
		}
		for k, p := range places {
			t.AddSwapped(k, 0, fA, fB, values(fn.f, swapped(swapped(a, b, p[0]), b, p[1])), values(fn.f, swapped(swapped(b, a, p[0]), a, p[1])))
		}
		single.Join(r, s)
		both.Join(r, t)
	}
	return single, both, places
}

// Second-order index, closed index of the pair and what an input does together with
// others, in Ishigami's function and the product of three |4u - 2| (V_i = 1/3, all of it
// 1.3704): S_ij of the first is 0, 0.243684, 0, of the second (1/9)/V each.
func TestCoveragePairs(t *testing.T) { coveragePairs(t, 200, 2048) }

func coveragePairs(t *testing.T, trials, rows int) {
	second := map[string][]float64{"ishigami": {0, 0.24368366406214773298, 0}, "g3": {0.081081081081081, 0.081081081081081, 0.081081081081081}}
	for _, fn := range testFunctions()[:2] {
		t.Run(fn.name, func(t *testing.T) {
			hits := tally{}
			for trial := range trials {
				single, both, places := pairsOf(fn, uint64(trial), rows)
				closed, own := both.Indices(0.95)[0], single.Indices(0.95)[0]
				for k, p := range places {
					name := " x" + string(rune('1'+p[0])) + " x" + string(rune('1'+p[1]))
					exact := second[fn.name][k]
					hits.add("second"+name, single.Interaction(0, p[0], p[1], both, k, 0.95).Interval, exact)
					hits.add("closed"+name, closed[k].First.Interval, exact+fn.first[p[0]]+fn.first[p[1]])
				}
				for i, pair := range own {
					hits.add("beyond x"+string(rune('1'+i)), pair.Beyond.Interval, fn.total[i]-fn.first[i])
				}
			}
			hits.check(t, trials)
		})
	}
}
