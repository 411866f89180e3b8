package analyse

import (
	"proofmass/sensitivity/estimate"
)

// mostRanked bounds the memory of ranks: a megabyte an input.
const mostRanked = 131_072

// A TiedPair is the rank correlation of two inputs, wanted and in the sample.
type TiedPair struct {
	Input    string   `json:"input"`
	Other    string   `json:"other"`
	Wanted   float64  `json:"wanted"`
	Achieved *float64 `json:"achieved"` // nil where a column has one value
}

// Tied gives the rank correlations of all tied inputs, group by group, in the first
// 131,072 rows of the sample.
func (a *Analyst) Tied() ([]TiedPair, error) {
	var pairs []TiedPair
	for _, group := range a.Plan.Study.Together {
		columns := make([][]float64, len(group.Inputs))
		err := a.forEach(len(columns), func(i int, read reader, _ *estimate.Scratch) error {
			x, err := read(a.column(group.Inputs[i]).Stored())
			if err != nil {
				return err
			}
			return x.Each(0, min(x.Rows(), mostRanked), func(piece []float64) error {
				columns[i] = append(columns[i], piece...)
				return nil
			})
		})
		if err != nil {
			return nil, err
		}
		achieved := estimate.RankCorrelations(columns)
		for j := range columns {
			for i := range j {
				pair := TiedPair{Input: group.Inputs[i], Other: group.Inputs[j], Wanted: group.Spearman[i][j]}
				if r := achieved[i][j]; r == r {
					pair.Achieved = &r
				}
				pairs = append(pairs, pair)
			}
		}
	}
	return pairs, nil
}
