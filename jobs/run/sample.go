package run

import (
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/model"
)

// newFileWriter evaluates slices of the sample and writes one file each into the folder; it
// is there once the part is committed.
func newFileWriter(r *Runner, round plan.Round) (func(plan.Slice) (Part, error), error) {
	w, err := newSampler(r, round, r.Meta)
	return func(s plan.Slice) (Part, error) {
		w.slice(s)
		digest, pending, err := w.writer.Begin(r.Folder, result.SliceName(result.SampleKind, round.Number, s.Number), &w.out)
		return &File{digest, pending}, err
	}, err
}

// sampler is one worker's slice of columns in display units.
type sampler struct {
	*Runner
	round  plan.Round
	drawer *drawer
	inputs [][]float64
	worker *model.Worker
	writer *result.SliceWriter
	store  []stored
	kept   [][]float64 // a column of the largest slice for each stored one
	out    result.Slice
}

// stored is a column of samples: which output of the program, and how it becomes
// a number in display units.
type stored struct {
	output  int
	display func(float64) float64
}

func newSampler(r *Runner, round plan.Round, meta map[string]string) (*sampler, error) {
	w := &sampler{Runner: r, round: round, worker: r.Plan.Program.NewWorker(block),
		drawer: &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample, round: round.Number}}
	w.inputs = inputColumns(w.worker, len(r.Plan.Drawn))
	var columns []result.Column
	for _, s := range r.Plan.StoredColumns() {
		w.store = append(w.store, stored{s.Output, s.Unit.FromSI})
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
	var err error
	w.writer, err = result.NewSliceWriter(columns, meta)
	return w, err
}

// slice evaluates a slice into w.out.
func (w *sampler) slice(s plan.Slice) {
	for done := 0; done < s.Rows; done += block {
		n := min(block, s.Rows-done)
		w.drawer.draw(w.inputs, n, s.Replicate, s.From+done)
		w.worker.Run(n)
		for c, col := range w.store {
			to := w.kept[c][done : done+n]
			for k, v := range w.worker.Output(col.output)[:n] {
				to[k] = col.display(v)
			}
		}
		w.tick(n)
	}
	w.out.FirstRow, w.out.Replicate = int64(w.round.FirstRow+s.First), int32(w.round.FirstReplicate+s.Replicate)
	for c := range w.kept {
		w.out.Columns[c] = w.kept[c][:s.Rows]
	}
}

// column is a stored column as a file declares it.
func column(s plan.Stored) result.Column {
	return result.Column{Name: s.Name, Unit: s.Unit.String(), Meaning: s.Meaning, Source: s.Source}
}
