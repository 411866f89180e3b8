package run

import (
	"proofmass/jobs/plan"
	"proofmass/sampling/portable"
)

// pointRows is how many points are evaluated at once.
const pointRows = 256

// A Probe evaluates a requirement at points of normal scores, those of a row in the order of
// its scores; every other input lies at its middle. It writes nothing. One goroutine at a time.
type Probe struct {
	runner *Runner
	of     *plan.Requirement
	drawer *drawer
	inputs [][]float64
	run    func(n int)
	input  func(i int) []float64
	output func(i int) []float64
}

// A Held is a drawn input that has a value, in SI, whatever its score.
type Held struct {
	Input int
	Value float64
}

// NewProbe prepares it.
func NewProbe(r *Runner, of *plan.Requirement) *Probe {
	w := of.Program.NewWorker(pointRows)
	return &Probe{runner: r, of: of, inputs: columns(len(r.Plan.Drawn), pointRows), run: w.Run, input: w.Input, output: w.Output,
		drawer: &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample, round: r.Plan.Sample.Number}}
}

// At gives a column of SI values for each output of the program.
func (p *Probe) At(z [][]float64) [][]float64 { return p.at(z, nil) }

// Alone gives the margins where every input lies at its middle but for one, a row each.
func (p *Probe) Alone(held []Held) []float64 {
	z, middle := make([][]float64, len(held)), make([]float64, len(p.of.Scores))
	for row := range z {
		z[row] = middle
	}
	return p.at(z, held)[0]
}

func (p *Probe) at(z [][]float64, held []Held) [][]float64 {
	values := columns(len(p.of.Program.Outputs()), len(z))
	for from := 0; from < len(z); from += pointRows {
		part := z[from:min(from+pointRows, len(z))]
		p.place(part)
		for row, h := range held[min(from, len(held)):min(from+pointRows, len(held))] {
			p.inputs[h.Input][row] = h.Value
		}
		for i, drawn := range p.of.Inputs {
			copy(p.input(i), p.inputs[drawn][:len(part)])
		}
		p.run(len(part))
		for k := range values {
			copy(values[k][from:], p.output(k)[:len(part)])
		}
	}
	return values
}

// place turns scores into values of every drawn input.
func (p *Probe) place(z [][]float64) {
	n := len(z)
	for i := range p.inputs {
		for row := range n {
			p.inputs[i][row] = 0.5
		}
	}
	for k, i := range p.of.Scores {
		for row := range n {
			p.inputs[i][row] = portable.NormalCDF(z[row][k])
		}
	}
	p.drawer.values(p.inputs, n)
}

// Own are the normal scores of the inputs themselves at a point: of those that are tied, once
// mixed.
func (p *Probe) Own(z []float64) []float64 {
	scores := make([][]float64, len(p.inputs))
	for i := range scores {
		scores[i] = []float64{0.5}
	}
	for k, i := range p.of.Scores {
		scores[i][0] = portable.NormalCDF(z[k])
	}
	own := make([]float64, len(z))
	copy(own, z)
	for _, t := range p.runner.Plan.Ties {
		tied := make([][]float64, len(t.Inputs))
		for j, i := range t.Inputs {
			tied[j] = scores[i]
		}
		t.Dependence.Scores(tied)
		for k, i := range p.of.Scores {
			for j, of := range t.Inputs {
				if of == i {
					own[k] = tied[j][0]
				}
			}
		}
	}
	return own
}

// Drawn are the normal scores of the first rows of each replicate of the sample.
func (p *Probe) Drawn(rows int) [][]float64 {
	var z [][]float64
	u := make([]float64, rows)
	sample := p.runner.Plan.Sample
	for r := range sample.Replicates {
		n := min(rows, sample.Bound(r+1)-sample.Bound(r))
		from := len(z)
		for range n {
			z = append(z, make([]float64, len(p.of.Scores)))
		}
		for k, i := range p.of.Scores {
			p.drawer.points(u[:n], i, r, 0)
			for row := range n {
				z[from+row][k] = portable.NormalQuantile(u[row])
			}
		}
	}
	return z
}

// Limits are what the quantity of a drawn input allows.
func (p *Probe) Limits(input int) (low, high float64) {
	in := &p.runner.Plan.Drawn[input]
	return in.Low, in.High
}

// Width is how wide a drawn input is believed to be: its nine in ten.
func (p *Probe) Width(input int) float64 {
	m := p.runner.Plan.Drawn[input].Marginal
	return m.Quantile(0.95) - m.Quantile(0.05)
}
