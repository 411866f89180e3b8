package run

import (
	"context"

	"proofmass/jobs/plan"
	"proofmass/model/unit"
)

// First are the first rows of each replicate of the sample: the points that samples have,
// whatever the plan makes of them.
type First struct {
	Bounds  []int       // of the replicates
	Columns [][]float64 // of what was wanted, in its display units
	Log     []float64   // logarithm of the likelihood of what was measured, -Inf where it is nil; nil without facts
}

// A Wanted is an output of a program, and the unit in which it is shown; an output of -1 is
// one that the program has not, and nothing but NaN.
type Wanted struct {
	Output int
	Unit   unit.Unit
}

// FirstRows evaluates the first rows of each replicate of the sample of a plan, at most so
// many of each. It writes nothing.
func (r *Runner) FirstRows(ctx context.Context, p *plan.Plan, each int, wanted []Wanted) (*First, error) {
	f := &First{Bounds: []int{0}, Columns: make([][]float64, len(wanted))}
	for k := range p.Sample.Replicates {
		f.Bounds = append(f.Bounds, f.Bounds[k]+min(each, p.Sample.Bound(k+1)-p.Sample.Bound(k)))
	}
	rows := f.Bounds[p.Sample.Replicates]
	for c := range f.Columns {
		f.Columns[c] = make([]float64, rows)
	}
	if len(p.Facts) > 0 {
		f.Log = make([]float64, rows)
	}
	err := Each(ctx, r.Workers, p.Sample.Replicates, func() (func(int) error, error) {
		d := &drawer{plan: p, design: p.Design, purpose: plan.PurposeSample, round: p.Sample.Number}
		worker := p.Program.NewWorker(block)
		inputs := inputColumns(worker, len(p.Drawn))
		return func(replicate int) error {
			for from, end := f.Bounds[replicate], f.Bounds[replicate+1]; from < end; from += block {
				n := min(block, end-from)
				d.draw(inputs, n, replicate, from-f.Bounds[replicate])
				worker.Run(n)
				f.take(p, wanted, from, n, worker.Output)
				if err := ctx.Err(); err != nil {
					return err
				}
			}
			return nil
		}, nil
	})
	return f, err
}

// take keeps the n rows that a worker has, from a row on.
func (f *First) take(p *plan.Plan, wanted []Wanted, from, n int, output func(int) []float64) {
	for c, w := range wanted {
		if into := f.Columns[c][from : from+n]; w.Output < 0 {
			for i := range into {
				into[i] = nan
			}
		} else {
			w.Unit.Fill(into, output(w.Output)[:n])
		}
	}
	if f.Log == nil {
		return
	}
	for i := range p.Facts {
		fact := &p.Facts[i]
		fact.AddLog(f.Log[from:from+n], output(fact.Output)[:n])
	}
}
