package sensitivity

import (
	"math"
	"slices"
)

// Swing is one bar of a tornado: an output with one input low, then high, all
// other inputs at their medians. Both ends may lie on one side of the output at
// the medians, and bars do not add up: what inputs do together is not seen.
type Swing struct {
	Input, Output       int
	InputLow, InputHigh float64
	AtLow, AtHigh       float64 // the output; NaN if infeasible
	Swing               float64 // AtHigh - AtLow
}

// TornadoPoints lays out the 2d+1 points of a tornado of d inputs. Column i of
// the result holds input i: all medians in row 0, then for input k its low end in
// row 1+2k and its high end in row 2+2k. Ends are usually the 5th and the 95th
// percentile. The three slices have length d.
func TornadoPoints(median, low, high []float64) [][]float64 {
	columns := make([][]float64, len(median))
	for i, m := range median {
		columns[i] = slices.Repeat([]float64{m}, 2*len(median)+1)
		columns[i][1+2*i] = low[i]
		columns[i][2+2*i] = high[i]
	}
	return columns
}

// ReadTornado reads back the outputs of the points of TornadoPoints: outputs[j]
// is the column of output j, of length 2d+1. Swings come by output, then input.
func ReadTornado(low, high []float64, outputs [][]float64) []Swing {
	swings := make([]Swing, 0, len(outputs)*len(low))
	for j, y := range outputs {
		for i := range low {
			a, b := y[1+2*i], y[2+2*i]
			swings = append(swings, Swing{
				Input: i, Output: j,
				InputLow: low[i], InputHigh: high[i],
				AtLow: a, AtHigh: b, Swing: b - a,
			})
		}
	}
	return swings
}

// SortSwings sorts by output, and inside an output from the longest bar to the
// shortest, infeasible ones last; equal ones keep their order.
func SortSwings(s []Swing) {
	slices.SortStableFunc(s, func(a, b Swing) int {
		if a.Output != b.Output {
			return a.Output - b.Output
		}
		return compareLengths(math.Abs(a.Swing), math.Abs(b.Swing))
	})
}

// compareLengths puts the longer first and NaN last.
func compareLengths(a, b float64) int {
	switch {
	case a > b || a == a && b != b:
		return -1
	case a < b || a != a && b == b:
		return 1
	}
	return 0
}
