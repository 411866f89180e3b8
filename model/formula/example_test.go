package formula_test

import (
	"fmt"

	"proofmass/model/formula"
	"proofmass/model/unit"
)

// Two draws of the mass saved for each cell.
func Example() {
	e, err := formula.Parse("(boxed.kerb_mass - bonded.kerb_mass) / bonded.cell_count >= 77 g")
	if err != nil {
		fmt.Println(err)
		return
	}
	kilogram, _ := unit.Parse("kg")
	kind, err := e.Check(func(name string) (formula.Type, error) {
		if name == "bonded.cell_count" {
			return formula.Type{}, nil
		}
		return formula.Type{Dimension: kilogram.Dimension()}, nil
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	in := [][]float64{{1436, 1440}, {1359, 1357}, {1014, 1014}} // columns of e.Names()
	holds, inside := make([]float64, 2), make([]float64, 2)
	e.Program().Eval(holds, in)
	if margin, ok := e.Margin(); ok {
		margin.Program().Eval(inside, in)
	}
	fmt.Println(e.Names(), kind)
	fmt.Println(holds)
	fmt.Printf("%.4f kg\n", inside)
	// Output:
	// [boxed.kerb_mass bonded.kerb_mass bonded.cell_count] yes/no
	// [0 1]
	// [-0.0011 0.0049] kg
}
