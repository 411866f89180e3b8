package sensitivity

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// Sums of only those pairs in which the input reaches the output give what sums of all give.
func TestSumsOfReachedPairs(t *testing.T) {
	const inputs, outputs, rows, replicates = 3, 4, 64, 16
	reaches := func(input, output int) bool { return (input+output)%2 == 0 }
	all, some := NewPickFreeze(inputs, outputs), NewPickFreezeWhere(inputs, outputs, MostSlots, reaches)
	effects, few := NewEffects(inputs, outputs, replicates), NewEffectsWhere(inputs, outputs, replicates, reaches)
	random := rand.New(rand.NewPCG(1, 2))
	column := func() []float64 {
		v := make([]float64, rows)
		for i := range v {
			v[i] = random.Float64()
		}
		return v
	}
	for r := range replicates {
		a, b, e, f := all.NewSums(), some.NewSums(), effects.NewSums(), few.NewSums()
		for j := range outputs {
			fA, fB := column(), column()
			a.AddBase(j, fA, fB)
			b.AddBase(j, fA, fB)
			for i := range inputs {
				if fAB, fBA := column(), column(); reaches(i, j) {
					a.AddSwapped(i, j, fA, fB, fAB, fBA)
					b.AddSwapped(i, j, fA, fB, fAB, fBA)
					e.Add(i, j, fA, fB, fA, fAB)
					f.Add(i, j, fA, fB, fA, fAB)
				}
			}
		}
		all.Join(r, a)
		some.Join(r, b)
		effects.Join(r, e)
		few.Join(r, f)
	}
	if want, got := fmt.Sprint(all.Indices(0)), fmt.Sprint(some.Indices(0)); got != want {
		t.Errorf("indices of the pairs that are reached: %s, want %s", got, want)
	}
	if want, got := fmt.Sprint(effects.Results(0)), fmt.Sprint(few.Results(0)); got != want {
		t.Errorf("effects of the pairs that are reached: %s, want %s", got, want)
	}
	if len(some.swaps[0]) != inputs*outputs/2 {
		t.Errorf("%d sums are kept, want %d", len(some.swaps[0]), inputs*outputs/2)
	}
}
