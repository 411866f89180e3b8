package vehicle

import "proofmass/model"

// each makes a way of a function of one row: x holds the needs' values in their order.
func each(f func(x []float64) float64, needs ...string) way {
	return way{needs: needs, start: func(model.Saving) evaluate { return rowByRow(f, make([]float64, len(needs))) }}
}

// rowByRow evaluates f over the rows; row is its memory, as long as there are columns.
func rowByRow(f func(x []float64) float64, row []float64) evaluate {
	return func(out, in [][]float64) {
		for i := range out[0] {
			for k, column := range in {
				row[k] = column[i]
			}
			out[0][i] = f(row)
		}
	}
}

// eachOf is each for fitted ways, whose needs are known only when they are fitted.
func eachOf(f func(x []float64) float64, needs []string) plan {
	return plan{ok: true, needs: needs, start: func(model.Saving) evaluate { return rowByRow(f, make([]float64, len(needs))) }}
}
