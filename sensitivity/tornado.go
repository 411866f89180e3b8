package sensitivity

import "slices"

// TornadoPoints lays out the 2d+1 points of a tornado of d inputs, each moved alone.
// Column i of the result holds input i: all medians in row 0, then for input k its low
// end in row 1+2k and its high end in row 2+2k. Ends are usually the 5th and the 95th
// percentile. The three slices have length d. Both ends of a bar may lie on one side
// of the output at the medians, and bars do not add up: what inputs do together is not
// seen.
func TornadoPoints(median, low, high []float64) [][]float64 {
	columns := make([][]float64, len(median))
	for i, m := range median {
		columns[i] = slices.Repeat([]float64{m}, 2*len(median)+1)
		columns[i][1+2*i] = low[i]
		columns[i][2+2*i] = high[i]
	}
	return columns
}
