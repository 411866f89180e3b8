package analyse

import (
	"fmt"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity"
	"proofmass/sensitivity/estimate"
)

// mostRegressed bounds the memory of a regression, which needs all its columns at
// once: 64 MB.
const (
	mostRegressed     = 8 << 20 // values
	mostRegressedRows = 4096
)

// Regress adds what a straight line in all inputs explains of each output and
// margin.
func (g *GivenData) Regress(x *Indices) error {
	var targets []plan.Target
	for _, t := range g.Plan.Index.Targets {
		if t.Of != plan.OfHolds {
			targets = append(targets, t)
		}
	}
	if most := g.Budget.fitted(len(g.inputs)); most < len(targets) {
		g.left = append(g.left, fmt.Sprintf("regression (its coefficients and R2): the first %d of %d outputs and margins, in the order of the study", most, len(targets)))
		targets = targets[:most]
	}
	columns := len(g.inputs) + len(targets)
	if len(targets) == 0 || len(g.inputs) == 0 {
		return nil
	}
	rows, err := g.firstRows(min(mostRegressedRows, mostRegressed/columns))
	if err != nil {
		return err
	}
	all := make([][]float64, columns)
	err = g.forEach(columns, func(i int, read reader, _ *estimate.Scratch) error {
		name := ""
		if i < len(g.inputs) {
			name = g.inputs[i].Stored
		} else {
			name = g.stored(targets[i-len(g.inputs)])
		}
		c, err := read(name)
		if err == nil {
			all[i], err = rows.read(c)
		}
		return err
	})
	if err != nil {
		return err
	}
	dropped := make([]float64, len(targets))
	for t := range targets {
		dropped[t] = infeasible(all[len(g.inputs)+t])
	}
	r, err := sensitivity.Regress(all[:len(g.inputs)], all[len(g.inputs):], rows.design, g.Plan.Study.Level)
	if err != nil {
		return err
	}
	for t, target := range targets {
		g.addRegression(x, target, r, t, dropped[t])
	}
	return nil
}

func (g *GivenData) addRegression(x *Indices, target plan.Target, r *sensitivity.Regression, t int, dropped float64) {
	for i, s := range g.inputs {
		if g.Plan.Reaches(g.Plan.Factors[s.Factor], target.Output) {
			x.add(figure{target: target, input: s.Name, method: result.LeastSquares, order: result.SRC, Index: r.SRC[t][i], dropped: dropped})
			x.add(figure{target: target, input: s.Name, method: result.LeastSquares, order: result.SRRC, Index: r.SRRC[t][i], dropped: dropped})
		}
	}
	x.add(figure{target: target, method: result.LeastSquares, order: result.R2, Index: r.R2[t], dropped: dropped})
	x.add(figure{target: target, method: result.LeastSquares, order: result.RankR2, Index: r.RankR2[t], dropped: dropped})
}
