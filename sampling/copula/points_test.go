package copula

import (
	"fmt"
	"testing"

	"proofmass/sampling/design"
)

// names are n column names.
func names(n int) []string {
	list := make([]string, n)
	for j := range list {
		list[j] = fmt.Sprintf("x%d", j+1)
	}
	return list
}

// newDesign has these columns for one purpose.
func newDesign(t testing.TB, name string, seed uint64, rows int, columns ...string) design.Design {
	t.Helper()
	var all []design.Column
	for _, column := range columns {
		all = append(all, design.Column{Purpose: "sample", Name: column})
	}
	d, err := design.New(name, seed, rows, all)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// points are n points of a column in one replicate.
func points(d design.Design, n int, column string, replicate, from int) []float64 {
	u := make([]float64, n)
	d.Fill(u, "sample", column, 0, replicate, from)
	return u
}
