package run

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/sampling/design"
	"proofmass/sampling/marginal"
)

// drawer fills columns of inputs from a design. It belongs to one worker.
type drawer struct {
	plan    *plan.Plan
	design  design.Design
	purpose string
	round   int

	tied      [][]float64 // columns of one group
	marginals []marginal.Marginal
	spare     []float64
}

// draw fills the first n values of every column, one an input of the program, with
// the SI values of rows [from, from+n) of a replicate. A value outside the
// quantity's limits is infeasible.
func (d *drawer) draw(columns [][]float64, n, replicate, from int) {
	for i := range d.plan.Drawn {
		if d.plan.Drawn[i].Choice == 0 {
			d.points(columns[i][:n], i, replicate, from)
		}
	}
	d.values(columns, n)
}

// values turns points, a column a drawn input, into SI values in their place. A value outside
// the quantity's limits is infeasible.
func (d *drawer) values(columns [][]float64, n int) {
	for _, t := range d.plan.Ties {
		d.tie(columns, n, t)
	}
	for i := range d.plan.Drawn {
		in, x := &d.plan.Drawn[i], columns[i][:n]
		if !d.plan.Tied(i) {
			in.Marginal.Fill(x, x)
		}
		study.Limit(x, in.Low, in.High)
	}
}

// points fills x with the design's points of one input, before they become values.
func (d *drawer) points(x []float64, input, replicate, from int) {
	d.design.Fill(x, d.purpose, d.plan.Drawn[input].Name, d.round, replicate, from)
}

// tie turns the points of one group into values.
func (d *drawer) tie(columns [][]float64, n int, t plan.Tie) {
	d.tied, d.marginals = d.tied[:0], d.marginals[:0]
	for _, i := range t.Inputs {
		d.tied = append(d.tied, columns[i][:n])
		d.marginals = append(d.marginals, d.plan.Drawn[i].Marginal)
	}
	if len(d.spare) < n {
		d.spare = make([]float64, n)
	}
	t.Dependence.Fill(d.tied, d.marginals, d.spare)
}

// inputColumns are the columns that a worker of the program reads.
func inputColumns(w *model.Worker, count int) [][]float64 {
	c := make([][]float64, count)
	for i := range c {
		c[i] = w.Input(i)
	}
	return c
}
