package sensitivity_test

import (
	"fmt"
	"math/rand/v2"

	"proofmass/sensitivity"
)

// Range in km of an energy in kWh and a consumption in Wh/km: which of the two
// decides? One slice a replicate, independent rows. To first order the variances
// of the two logarithms are as 0.064 to 0.936.
func ExamplePickFreeze() {
	random := rand.New(rand.NewPCG(1, 2))
	energy := func() float64 { return 60 + 2*random.Float64() }
	consumption := func() float64 { return 150 + 20*random.Float64() }
	p := sensitivity.NewPickFreeze(2, 1)
	for replicate := range 16 {
		var fA, fB, fAEnergy, fBEnergy, fAConsumption, fBConsumption []float64
		for range 1000 {
			eA, cA, eB, cB := energy(), consumption(), energy(), consumption()
			fA = append(fA, 1000*eA/cA)
			fB = append(fB, 1000*eB/cB)
			fAEnergy = append(fAEnergy, 1000*eB/cA) // A with the energy of B
			fBEnergy = append(fBEnergy, 1000*eA/cB)
			fAConsumption = append(fAConsumption, 1000*eA/cB)
			fBConsumption = append(fBConsumption, 1000*eB/cA)
		}
		s := p.NewSums()
		s.AddBase(0, fA, fB)
		s.AddSwapped(0, 0, fA, fB, fAEnergy, fBEnergy)
		s.AddSwapped(1, 0, fA, fB, fAConsumption, fBConsumption)
		p.Join(replicate, s)
	}
	for i, pair := range p.Indices(0.95)[0] {
		fmt.Printf("%-11s %.2f of the variance, %.2f with what it does together with the other\n",
			[]string{"energy", "consumption"}[i], pair.First.Estimate, pair.Total.Estimate)
	}
	// Output:
	// energy      0.06 of the variance, 0.06 with what it does together with the other
	// consumption 0.94 of the variance, 0.94 with what it does together with the other
}
