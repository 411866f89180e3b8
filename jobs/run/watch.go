package run

import (
	"encoding/binary"
	"errors"
	"math"

	"proofmass/jobs/plan"
	"proofmass/model"
)

// Seen is what slices saw of evaluations over reduced schedules.
type Seen struct {
	model.Seen
	Redone int64 // slices, over all steps: a row that was checked was too far off
}

// Add adds what other slices saw.
func (s *Seen) Add(more Seen) {
	s.Seen.Add(more.Seen)
	s.Redone += more.Redone
}

// A Watched part is what a slice gave, with what it saw.
type Watched struct {
	Part
	Seen Seen
}

// File is the file that a slice of the sample gave, nil for any other.
func (w *Watched) File() *File {
	f, _ := w.Part.(*File)
	return f
}

// FileIn is the file of a part that is to be kept.
func FileIn(part Part) *File {
	if w, ok := part.(*Watched); ok {
		return w.File()
	}
	return nil
}

const seenBytes = 6 * 8

// AppendBinary appends what was seen, then the part.
func (w *Watched) AppendBinary(b []byte) ([]byte, error) {
	s := &w.Seen
	for _, x := range [...]uint64{uint64(s.Evaluations), uint64(s.Outside), uint64(s.Checked), uint64(s.Missed), uint64(s.Redone), math.Float64bits(s.Worst)} {
		b = binary.LittleEndian.AppendUint64(b, x)
	}
	return w.Part.AppendBinary(b)
}

// UnmarshalBinary reads what was seen, and a part of the same shape.
func (w *Watched) UnmarshalBinary(b []byte) error {
	if len(b) < seenBytes {
		return errors.New("a stored part is cut off")
	}
	at := func(k int) uint64 { return binary.LittleEndian.Uint64(b[8*k:]) }
	s := &w.Seen
	s.Evaluations, s.Outside, s.Checked, s.Missed = int64(at(0)), int64(at(1)), int64(at(2)), int64(at(3))
	s.Redone, s.Worst = int64(at(4)), math.Float64frombits(at(5))
	return w.Part.UnmarshalBinary(b[seenBytes:])
}

// saving is the plan for the workers of one goroutine, and by what they save.
func (r *Runner) saving() (*plan.Plan, model.Saving) {
	if r.Plan.Reduction == nil {
		return r.Plan, nil
	}
	own, by := *r.Plan, r.Plan.Reduction.Saving()
	own.Program = own.Program.With(by)
	return &own, by
}

// watched is what one worker does with slices of a round. A slice that misses is made again
// over all steps: what it gives is a function of the slice alone.
func (r *Runner) watched(step *plan.Step, round plan.Round) (func(plan.Slice) (*Watched, error), error) {
	own := *r
	var by model.Saving
	own.Plan, by = r.saving()
	evaluate, err := own.evaluator(step, round)
	return func(s plan.Slice) (*Watched, error) {
		part, err := evaluate(s)
		w := &Watched{Part: part}
		if by == nil || err != nil {
			return w, err
		}
		if w.Seen.Seen = by.Seen(); w.Seen.Missed == 0 {
			return w, nil
		}
		w.Seen.Redone = 1
		if file := w.File(); file != nil {
			file.pending.Drop()
		}
		tick := own.Tick
		by.SetExact(true)
		own.Tick = nil // its runs are told of already
		w.Part, err = evaluate(s)
		own.Tick = tick
		by.SetExact(false)
		return w, err
	}, err
}
