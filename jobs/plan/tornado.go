package plan

import (
	"slices"

	"proofmass/sampling/portable"
	"proofmass/sensitivity"
)

// The ends of a bar.
const lowEnd, highEnd = 0.05, 0.95

// TornadoPoints lays out 2d+1 rows, d drawn inputs: medians, then each factor at
// its 5th and 95th percentile, all in SI. Inputs of one factor move together.
func (p *Plan) TornadoPoints() [][]float64 {
	d := len(p.Drawn)
	median, low, high := make([]float64, d), make([]float64, d), make([]float64, d)
	for i, in := range p.Drawn {
		median[i], low[i], high[i] = in.Marginal.Quantile(0.5), in.Marginal.Quantile(lowEnd), in.Marginal.QuantileUpper(1-highEnd)
	}
	points := sensitivity.TornadoPoints(median, low, high)
	for _, f := range p.Factors {
		lead := f.Inputs[0]
		for k, input := range f.Inputs {
			if k == 0 && f.Shift[k] == 1 {
				continue // stands there already
			}
			score := f.Shift[k] * portable.NormalQuantile(lowEnd)
			m := p.Drawn[input].Marginal
			points[input][1+2*lead] = m.Quantile(portable.NormalCDF(score))
			points[input][2+2*lead] = m.QuantileUpper(portable.NormalCDF(score))
		}
	}
	return points
}

// TornadoOutputs are the program outputs that the points are for: those asked for, then
// those by which the factors are shown.
func (p *Plan) TornadoOutputs() []int { return slices.Concat(p.Index.Outputs, p.shownOutputs()) }

// tornadoRound is the round of these points.
func (p *Plan) tornadoRound(int) Round { return newRound(0, Tornado, 1+2*len(p.Drawn), 1) }
