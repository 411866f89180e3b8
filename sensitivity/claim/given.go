package claim

import (
	"fmt"

	"proofmass/sensitivity/estimate"
)

// A Conditional is the chance of a claim in the rows where another holds.
type Conditional struct {
	estimate.Proportion
	Both, Rows int // rows where both hold, and where the other does
	All        int // all rows
}

// Given is the chance that a claim holds where another does: rows of the other alone have
// weight, so that the interval is that of weighted rows ([estimate.WeightedChance]; of
// independent rows Wilson's or Clopper and Pearson's on the counts). Where the claim is
// infeasible it does not hold. Both columns are read at once.
func Given(holds, other estimate.Column, d estimate.Rows, o estimate.Options) (Conditional, error) {
	c := Conditional{All: holds.Rows()}
	if other.Rows() != c.All {
		return c, fmt.Errorf("claim: %d rows of the one claim, %d of the other", c.All, other.Rows())
	}
	bounds, err := d.Blocks(c.All)
	if err == nil {
		err = d.CheckWeights(c.All)
	}
	if err != nil {
		return c, err
	}
	columns := []estimate.Column{holds, other}
	if d.HasWeights() {
		columns = append(columns, d.OfRows())
	}
	weighings := make([]estimate.Weighing, len(bounds)-1)
	for r := range weighings {
		if err := estimate.EachTogether(columns, bounds[r], bounds[r+1], func(pieces [][]float64) error {
			for i, h := range pieces[0] {
				if pieces[1][i] != 1 {
					continue
				}
				c.Rows++
				if h == 1 {
					c.Both++
				}
				weight := 1.0
				if len(pieces) > 2 {
					weight = pieces[2][i]
				}
				weighings[r].Add(weight, h == 1)
			}
			return nil
		}); err != nil {
			return c, err
		}
	}
	if d.Independent && !d.HasWeights() {
		c.Proportion, err = estimate.Chance([]estimate.Count{{Held: c.Both, Rows: c.Rows}}, true, o)
	} else {
		c.Proportion, err = estimate.WeightedChance(weighings, o)
	}
	return c, err
}

// expected is how many rows two claims should share were they independent, from which on it
// tells that they share none.
const expected = 10

// Excludes reports that the two hold together in no row, though independent claims of their
// chances would do so in more than 10. chance is that of the claim among all rows.
func (c *Conditional) Excludes(chance float64) bool {
	return c.Both == 0 && float64(c.Rows)*chance > expected
}
