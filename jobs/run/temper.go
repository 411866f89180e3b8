package run

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity/sequential"
)

// newTemperer evaluates slices of a tempering: the value of a row is the logarithm of the
// likelihood of what was measured.
func newTemperer(r *Runner, step *plan.Step, round plan.Round) func(plan.Slice) (Part, error) {
	w, t := newPlaced(r), step.Tempering
	at := &scorer{sampler: w, scores: t.Scores, read: func(n int, value []float64) {
		clear(value)
		for i := range r.Plan.Facts {
			f := &r.Plan.Facts[i]
			f.AddLog(value, w.worker.Output(f.Output)[:n])
		}
	}}
	stream := sequential.NewStream(r.Plan.Study.Seed, "temper")
	mover := sequential.NewMover(stream, at.evaluate)
	return func(s plan.Slice) (Part, error) {
		part := &Moved{Population: sequential.NewPopulation(s.Rows, len(t.Scores))}
		if step.Moves == 0 {
			mover.Draw(&part.Population, s.Replicate, s.From)
			return part, nil
		}
		from := &t.Populations[s.Replicate]
		from.Picked(&part.Population, stream.Pick(t.State.Weights(from), s.Rows, round.Number, s.Replicate))
		part.Accepted = mover.Move(&part.Population, round.Number, s.Replicate, s.From, step.Moves, t.State.Step, t.State.Accept())
		return part, nil
	}
}

// Tempered are the rows after what was measured, of populations that were moved there; nil where
// draws have weights.
type Tempered struct {
	Scores []int
	Rows   [][]float64 // of all populations
	Bounds []int       // of the populations
	Weight []float64   // of each row: what its population counts
}

// NewTempered lists the rows that a tempering came to.
func NewTempered(t *plan.Tempering) *Tempered {
	x := &Tempered{Scores: t.Scores, Bounds: []int{0}}
	share, _ := t.State.Shares()
	for k := range t.Populations {
		p := &t.Populations[k]
		for i := range p.Rows() {
			x.Rows, x.Weight = append(x.Rows, p.Row(i)), append(x.Weight, share[k])
		}
		if p.Rows() > 0 {
			x.Bounds = append(x.Bounds, len(x.Rows))
		}
	}
	return x
}

// WriteTempered evaluates them and writes them as a table of the folder, whose columns are those
// of samples.
func (r *Runner) WriteTempered(x *Tempered) (result.Digest, error) {
	own := *r
	own.Plan, _ = r.saving()
	round := plan.Round{Number: r.Plan.Sample.Number, Slices: []plan.Slice{{Rows: len(x.Rows)}}}
	w, err := newSampler(&own, round, r.Meta)
	if err != nil {
		return result.Digest{}, err
	}
	for from := 0; from < len(x.Rows); from += block {
		n := min(block, len(x.Rows)-from)
		w.drawer.place(w.inputs, x.Scores, x.Rows[from:from+n])
		w.keep(from, n)
	}
	w.out.Weight, w.out.Feasible = x.Weight, w.feasible
	for k := range x.Bounds[1:] {
		for range x.Bounds[k+1] - x.Bounds[k] {
			w.out.Replicates = append(w.out.Replicates, int32(k))
		}
	}
	copy(w.out.Columns, w.kept)
	w.sayFeasible()
	digest, pending, err := w.writer.Begin(r.Folder, result.TemperedTable, &w.out)
	if err != nil {
		return digest, err
	}
	return digest, pending.Commit()
}
