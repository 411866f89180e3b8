package estimate_test

import (
	"fmt"

	"proofmass/sensitivity/estimate"
)

// A kerb mass in 16 replicates of 64 rows each.
func ExampleDescribe() {
	var d estimate.Rows
	var mass []float64
	for r := range 16 {
		d.Bounds = append(d.Bounds, len(mass))
		for i := range 64 {
			mass = append(mass, 1500+float64((37*i+5*r)%101))
		}
	}
	d.Bounds = append(d.Bounds, len(mass))
	s, err := estimate.Describe(mass, d, estimate.Options{}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.1f [%.1f, %.1f] kg, sd %.1f kg, half of the rows below %.0f kg\n",
		s.Mean, s.MeanInterval.Low, s.MeanInterval.High, s.SD, s.P50)
	fmt.Println("intervals from", s.Method)
	// Output:
	// mean 1549.9 [1549.4, 1550.3] kg, sd 29.1 kg, half of the rows below 1550 kg
	// intervals from replicates and order_statistics
}
