package plan

import "slices"

// A StoredInput is one uncertain input as samples store it, for what is told from the
// sample's own rows.
type StoredInput struct {
	Name   string
	Stored string // its column
	Factor int    // the factor that it is, or is part of
	Tied   bool   // other inputs come with it
}

// StoredInputs lists the inputs of the factors in their order. Hidden inputs are not stored;
// the columns that they make are, and go together.
func (p *Plan) StoredInputs() []StoredInput {
	var stored []StoredInput
	for f, factor := range p.Factors {
		for _, name := range factor.Columns {
			i := slices.IndexFunc(p.Columns, func(c Column) bool { return c.Name == name })
			if i >= 0 {
				stored = append(stored, StoredInput{Name: name, Stored: p.Columns[i].Stored(), Factor: f, Tied: len(factor.Inputs) > 1})
			}
		}
	}
	return stored
}
