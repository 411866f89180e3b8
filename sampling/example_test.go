package sampling_test

import (
	"fmt"

	"proofmass/sampling/design"
	"proofmass/sampling/marginal"
)

// Sixteen rows a replicate: the mean of a replicate is already near the true
// one, and the same rows come from any slicing.
func Example() {
	latin, err := design.Latin(42, 256)
	if err != nil {
		fmt.Println(err)
		return
	}
	density, err := marginal.Triangular(350, 550, 900) // kg/m3
	if err != nil {
		fmt.Println(err)
		return
	}
	x := make([]float64, 16)
	latin.Fill(x, "sample", "filler_density", 0, 3, 0)
	density.Fill(x, x)
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	fmt.Printf("mean of 16 rows %.0f, of the distribution %.0f\n", sum/16, density.Mean())
	row9 := x[9]
	latin.Fill(x[:1], "sample", "filler_density", 0, 3, 9)
	density.Fill(x[:1], x[:1])
	fmt.Printf("row 9 made alone is the same: %t\n", x[0] == row9)
	// Output:
	// mean of 16 rows 605, of the distribution 600
	// row 9 made alone is the same: true
}
