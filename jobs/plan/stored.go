package plan

import (
	"proofmass/jobs/study"
	"proofmass/model/unit"
)

// A Stored is a column that samples store behind the fixed ones: the program's output that
// it holds, or Likelihood, in its unit, and what the file says of it.
type Stored struct {
	Name, Meaning, Source string
	Unit                  unit.Unit
	Output                int
}

// StoredColumns are the plan's columns, then whether each claim holds (1, 0, null) and by
// how much, then how likely the draw is after the facts.
func (p *Plan) StoredColumns() []Stored {
	var columns []Stored
	for _, c := range p.Columns {
		columns = append(columns, Stored{Name: c.Stored(), Meaning: c.Quantity.Meaning, Source: c.Source(), Unit: c.Quantity.Unit, Output: c.Output})
	}
	return append(append(columns, p.StoredClaims()...), p.storedLikelihood()...)
}

// StoredClaims are what samples store of the claims.
func (p *Plan) StoredClaims() []Stored {
	var columns []Stored
	for _, c := range p.Claims {
		columns = append(columns, Stored{Name: c.Name, Meaning: "1 where the claim holds, 0 where it fails: " + c.Text, Unit: unit.SI(unit.One), Output: c.Holds})
		if c.Margin >= 0 {
			columns = append(columns, Stored{Name: study.MarginColumn(c.Name), Meaning: "how far inside the claim the draw lies: " + c.Text, Unit: c.Unit, Output: c.Margin})
		}
		for i, r := range c.Readings {
			columns = append(columns, Stored{Name: study.ReadingColumn(c.Name, i+1), Meaning: "1 where the claim so read holds, 0 where it fails: " + r.Text, Unit: unit.SI(unit.One), Output: r.Holds})
		}
	}
	return columns
}

// Source is where a column's numbers come from: what the study says of an input,
// what the catalogue says of a quantity.
func (c Column) Source() string {
	if c.Input != nil && c.Input.Free.Source != "" {
		return c.Input.Free.Source
	}
	if c.Input != nil && !c.Input.Default {
		return "" // stated without a source; the catalogue's would be a false one
	}
	return c.Quantity.Source
}
