package run

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/model/unit"
)

// A SampleColumn is one column of samples: the program's output, its unit and
// what the file says of it.
type SampleColumn struct {
	result.Column
	Output int
	Unit   unit.Unit
}

// SampleColumns are the columns that samples store behind the fixed ones: the
// plan's columns, then whether each claim holds (1, 0, null) and by how much.
func SampleColumns(p *plan.Plan) []SampleColumn {
	var columns []SampleColumn
	for _, c := range p.Columns {
		columns = append(columns, SampleColumn{
			Column: result.Column{Name: c.Stored(), Unit: c.Quantity.Unit.String(), Meaning: c.Quantity.Meaning, Source: Source(c)},
			Output: c.Output, Unit: c.Quantity.Unit,
		})
	}
	return append(columns, ClaimColumns(p)...)
}

// ClaimColumns are what samples store of the claims.
func ClaimColumns(p *plan.Plan) []SampleColumn {
	var columns []SampleColumn
	for _, c := range p.Claims {
		one := unit.SI(unit.One)
		columns = append(columns, SampleColumn{
			Column: result.Column{Name: c.Name, Unit: "1", Meaning: "1 where the claim holds, 0 where it fails: " + c.Text},
			Output: c.Holds, Unit: one,
		})
		if c.Margin >= 0 {
			columns = append(columns, SampleColumn{
				Column: result.Column{Name: plan.MarginColumn(c.Name), Unit: c.Unit.String(), Meaning: "how far inside the claim the draw lies: " + c.Text},
				Output: c.Margin, Unit: c.Unit,
			})
		}
	}
	return columns
}

// Source is where a column's numbers come from: what the study says of an input,
// what the catalogue says of a quantity.
func Source(c plan.Column) string {
	if c.Input != nil && c.Input.Free.Source != "" {
		return c.Input.Free.Source
	}
	if c.Input != nil && !c.Input.Default {
		return "" // stated without a source; the catalogue's would be a false one
	}
	return c.Quantity.Source
}
