package run

import (
	"math"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/model"
	"proofmass/model/unit"
	"proofmass/sampling/portable"
)

// newFileWriter evaluates slices of the sample and writes one file each into the folder; it
// is there once the part is committed.
func newFileWriter(r *Runner, round plan.Round) (func(plan.Slice) (Part, error), error) {
	w, err := newSampler(r, round, r.Meta)
	return func(s plan.Slice) (Part, error) {
		w.slice(s)
		digest, pending, err := w.writer.Begin(r.Folder, result.SliceName(result.SampleKind, round.Number, s.Number), &w.out)
		return &File{digest, w.figures.Of(s, func(stored int) []float64 { return w.kept[stored] }), pending}, err
	}, err
}

// sampler is one worker's slice of columns in display units.
type sampler struct {
	*Runner
	round   plan.Round
	drawer  *drawer
	inputs  [][]float64
	worker  *model.Worker
	writer  *result.SliceWriter
	store   []stored
	kept    [][]float64 // a column of the largest slice for each stored one
	out     result.Slice
	figures Figures

	weight   []float64 // of the rows of the largest slice; nil without facts
	feasible []bool
	greatest float64 // logarithm of the likelihood that no row exceeds
}

// stored is a column of samples: which output of the program, and how it becomes
// a number in display units.
type stored struct {
	output int
	unit   unit.Unit
}

func newSampler(r *Runner, round plan.Round, meta map[string]string) (*sampler, error) {
	w := &sampler{Runner: r, round: round, figures: Figures{Plan: r.Plan}, worker: r.Plan.Program.NewWorker(block),
		drawer: &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample, round: round.Number}}
	w.inputs = inputColumns(w.worker, len(r.Plan.Drawn))
	var columns []result.Column
	for _, s := range r.Plan.StoredColumns() {
		w.store = append(w.store, stored{s.Output, s.Unit})
		columns = append(columns, column(s))
	}
	longest := 0
	for _, s := range round.Slices {
		longest = max(longest, s.Rows)
	}
	w.kept = make([][]float64, len(columns))
	for i := range w.kept {
		w.kept[i] = make([]float64, longest)
	}
	w.out.Columns = make([][]float64, len(columns))
	if len(r.Plan.Facts) > 0 {
		w.weight, w.feasible = make([]float64, longest), make([]bool, longest)
		for _, f := range r.Plan.Facts {
			w.greatest += f.Greatest()
		}
	}
	var err error
	w.writer, err = result.NewSliceWriter(columns, meta)
	return w, err
}

// slice evaluates a slice into w.out.
func (w *sampler) slice(s plan.Slice) {
	if s.Choice != w.drawer.plan.Choice {
		w.drawer.plan = w.Plan.ForChoice(s.Choice)
	}
	rest := s.Pieces()
	for done := 0; done < s.Rows; done += block {
		n := min(block, s.Rows-done)
		rest = w.draw(rest, n)
		w.keep(done, n)
	}
	w.out.FirstRow, w.out.Replicate, w.out.Choice = int64(w.round.FirstRow+s.First), int32(w.round.FirstReplicate+s.Pieces()[0].Number), int32(s.Choice)
	w.out.Replicates = w.out.Replicates[:0]
	if len(s.Parts) > 1 {
		for _, part := range s.Parts {
			for range part.Rows {
				w.out.Replicates = append(w.out.Replicates, int32(w.round.FirstReplicate+part.Number))
			}
		}
	}
	for c := range w.kept {
		w.out.Columns[c] = w.kept[c][:s.Rows]
	}
	if w.weight != nil {
		w.out.Weight, w.out.Feasible = w.weight[:s.Rows], w.feasible[:s.Rows]
		w.sayFeasible()
	}
}

// keep evaluates the n rows that the worker's inputs have, and keeps them from a row on.
func (w *sampler) keep(from, n int) {
	w.worker.Run(n)
	for c := range w.store {
		col := &w.store[c]
		if col.output == plan.Likelihood {
			w.weigh(w.kept[c][from:from+n], w.weight[from:from+n])
			continue
		}
		col.unit.Fill(w.kept[c][from:from+n], w.worker.Output(col.output)[:n])
	}
	w.tick(n)
}

// weigh fills in the logarithm of the likelihood of the rows that the worker has, NaN where
// it is nil, and their weights: the likelihood over its greatest value.
func (w *sampler) weigh(log, weight []float64) {
	clear(log)
	for i := range w.Plan.Facts {
		f := &w.Plan.Facts[i]
		f.AddLog(log, w.worker.Output(f.Output)[:len(log)])
	}
	for i, l := range log {
		weight[i] = portable.Exp(l - w.greatest)
		if math.IsInf(l, -1) {
			log[i] = math.NaN()
		}
	}
}

// sayFeasible says which rows have all that is stored of the model; that what was measured
// could not come of a row makes it no less so.
func (w *sampler) sayFeasible() {
	for i := range w.out.Feasible {
		w.out.Feasible[i] = true
	}
	for c, column := range w.out.Columns {
		if w.store[c].output == plan.Likelihood {
			continue
		}
		for i, v := range column {
			if v != v {
				w.out.Feasible[i] = false
			}
		}
	}
}

// draw fills the next n rows of what is left of a slice, and says what is left then.
func (w *sampler) draw(rest []plan.Part, n int) []plan.Part {
	into := w.inputs
	for done := 0; done < n; {
		part := &rest[0]
		rows := min(part.Rows, n-done)
		w.drawer.draw(into, rows, part.Replicate, part.From)
		if done += rows; rows == part.Rows {
			rest = rest[1:]
		} else {
			left := *part
			left.From, left.Rows = left.From+rows, left.Rows-rows
			rest = append([]plan.Part{left}, rest[1:]...)
		}
		if done < n {
			into = behind(w.inputs, done)
		}
	}
	return rest
}

// behind are the columns from a row on.
func behind(columns [][]float64, row int) [][]float64 {
	rest := make([][]float64, len(columns))
	for i, c := range columns {
		rest[i] = c[row:]
	}
	return rest
}

// column is a stored column as a file declares it.
func column(s plan.Stored) result.Column {
	return result.Column{Name: s.Name, Unit: s.Unit.String(), Meaning: s.Meaning, Source: s.Source}
}
