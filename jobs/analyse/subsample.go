package analyse

import (
	"slices"

	"proofmass/sensitivity/estimate"
)

// A subsample is the first rows of each replicate.
type subsample struct {
	from   []int // bounds of the replicates in what is thinned
	design estimate.Rows
}

// firstRows keeps at most that many rows of the sample, with their weights, as to does.
func (a *Analyst) firstRows(most int) (subsample, error) {
	return a.weighed(subsample{a.bounds, a.design()}.to(most))
}

// weighed reads the weights of the rows that are kept of the sample, if it has any.
func (a *Analyst) weighed(t subsample) (subsample, error) {
	if a.measured == nil {
		return t, nil
	}
	err := a.forEach(1, func(_ int, read reader, _ *estimate.Scratch) error {
		weights, err := a.measured.weights(read)
		if err == nil {
			t.design.Weight, err = t.read(weights)
		}
		return err
	})
	return t, err
}

// to keeps at most that many of the rows that t keeps, a like number of each replicate,
// but no fewer than fewestRows in all where there are so many. It thins what t has
// thinned.
func (t subsample) to(most int) subsample { return t.first(max(most, fewestRows)) }

// first is to without a least number.
func (t subsample) first(most int) subsample {
	from := t.design.Bounds
	replicates := len(from) - 1
	each := max(1, most/replicates)
	bounds := make([]int, replicates+1)
	for r := range replicates {
		bounds[r+1] = bounds[r] + min(each, from[r+1]-from[r])
	}
	thin := subsample{from, t.design}
	thin.design.Bounds = bounds
	if t.design.Weight != nil {
		thin.design.Weight = thin.of(t.design.Weight)
	}
	return thin
}

func (t subsample) rows() int { return t.design.Bounds[len(t.design.Bounds)-1] }

// read are the rows that are kept of a stored column.
func (t subsample) read(x estimate.Column) ([]float64, error) {
	bounds := t.design.Bounds
	kept := make([]float64, 0, t.rows())
	for r := range len(bounds) - 1 {
		err := x.Each(t.from[r], t.from[r]+bounds[r+1]-bounds[r], func(piece []float64) error {
			kept = append(kept, piece...)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return kept, nil
}

// of is a column of the rows that are kept, in memory of its own.
func (t subsample) of(x []float64) []float64 {
	bounds := t.design.Bounds
	kept := make([]float64, 0, t.rows())
	for r := range len(bounds) - 1 {
		kept = append(kept, x[t.from[r]:t.from[r]+bounds[r+1]-bounds[r]]...)
	}
	return slices.Clip(kept)
}
