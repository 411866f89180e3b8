package run

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"time"

	"proofmass/jobs/files"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/sensitivity"
)

// A Part is what one slice gave. Stored and read back it has the same bits.
type Part interface {
	encoding.BinaryAppender
	encoding.BinaryUnmarshaler
}

// A Store keeps parts, and knows those that were kept before. Several goroutines call it
// at once.
type Store interface {
	Known(*plan.Step, plan.Key) Part // nil: must be made
	// Keep is told how long a part took to make. It commits a File, now or later.
	Keep(key plan.Key, part Part, took time.Duration) error
}

// Make gives the parts of slices of one round of a step, all of them or some, to join: in
// the order of their numbers, whatever the order in which they are made, by one goroutine at
// a time. What the store knows is not evaluated again. A part is let go once it is joined.
func (r *Runner) Make(ctx context.Context, step *plan.Step, round plan.Round, slices []plan.Slice, store Store, join func(plan.Slice, Part) error) error {
	on := *r
	on.Plan = step.Plan
	line := newLine(slices, func(s plan.Slice, part Part) error {
		w := part.(*Watched)
		if r.Seen != nil {
			r.Seen(w.Seen)
		}
		return join(s, w.Part)
	})
	return Each(ctx, r.Workers, len(slices), func() (func(int) error, error) {
		var evaluate func(plan.Slice) (*Watched, error)
		return func(i int) (err error) {
			s, key := slices[i], round.Key(slices[i])
			if part := store.Known(step, key); part != nil {
				r.tick(s.Rows * step.Each())
				return line.join(i, part)
			}
			if evaluate == nil {
				if evaluate, err = on.watched(step, round); err != nil {
					return err
				}
			}
			began := time.Now()
			part, err := evaluate(s)
			if err == nil {
				err = store.Keep(key, part, time.Since(began))
			}
			if err != nil {
				return err
			}
			return line.join(i, part)
		}, nil
	})
}

// A line hands parts on in the order of their slices.
type line struct {
	lock   sync.Mutex
	slices []plan.Slice
	order  []int // of the slices, by their numbers
	parts  []Part
	next   int // in order
	hand   func(plan.Slice, Part) error
}

func newLine(of []plan.Slice, hand func(plan.Slice, Part) error) *line {
	l := &line{slices: of, order: make([]int, len(of)), parts: make([]Part, len(of)), hand: hand}
	for i := range l.order {
		l.order[i] = i
	}
	slices.SortFunc(l.order, func(i, j int) int { return cmp.Compare(of[i].Number, of[j].Number) })
	return l
}

// join takes the part of slice i, and hands on what stands first in line.
func (l *line) join(i int, part Part) error {
	l.lock.Lock()
	defer l.lock.Unlock()
	l.parts[i] = part
	for ; l.next < len(l.order) && l.parts[l.order[l.next]] != nil; l.next++ {
		k := l.order[l.next]
		if err := l.hand(l.slices[k], l.parts[k]); err != nil {
			return err
		}
		l.parts[k] = nil
	}
	return nil
}

// evaluator is what one worker does with slices of a round.
func (r *Runner) evaluator(step *plan.Step, round plan.Round) (func(plan.Slice) (Part, error), error) {
	switch step.Kind {
	case plan.Sample:
		return newFileWriter(r, round)
	case plan.Rare:
		return newClimber(r, step, round), nil
	case plan.Temper:
		return newTemperer(r, step, round), nil
	case plan.Tornado:
		return newPointer(r, step.Plan.TornadoPoints(), step.Plan.TornadoOutputs()), nil
	case plan.Screen:
		return newScreener(r, step), nil
	case plan.Index, plan.Pairs:
		return newIndexer(r, step, round), nil
	case plan.Shapley:
		return newWalker(r, step, round), nil
	}
	return nil, fmt.Errorf("there are no slices of kind %s", step.Kind)
}

// Blank is an empty part of the step's shape, to be read into.
func Blank(step *plan.Step) *Watched { return &Watched{Part: blank(step)} }

func blank(step *plan.Step) Part {
	switch step.Kind {
	case plan.Sample:
		f := new(File)
		if c := step.Plan.Choosing; c != nil && len(c.Figures) > 0 {
			f.Figures = make([][]float64, len(c.Figures))
		}
		return f
	case plan.Rare, plan.Temper:
		return &Moved{}
	case plan.Tornado:
		return &Points{Values: make([][]float64, len(step.Plan.TornadoOutputs()))}
	case plan.Screen:
		return NewEffects(step).NewSums()
	case plan.Shapley:
		return NewShapley(step).NewSums()
	}
	return NewSwaps(step).NewSums()
}

// File is the part of a slice of the sample: its rows stand in a file, this is what the
// file must be. Of one that was just made, the file is there once it is committed.
type File struct {
	result.Digest
	Figures [][]float64 // by which choices are compared, of each replicate in it; nil without
	pending *files.Pending
}

// Commit makes the file last.
func (f *File) Commit() error { return f.pending.Commit() }

// AppendBinary appends the digest and the figures.
func (f *File) AppendBinary(b []byte) ([]byte, error) {
	b = append(binary.LittleEndian.AppendUint64(b, uint64(f.Bytes)), f.SHA256...)
	return (&Points{f.Figures}).AppendBinary(b)
}

// UnmarshalBinary reads a digest.
func (f *File) UnmarshalBinary(b []byte) error {
	if len(b) < 8 {
		return errors.New("a stored digest is cut off")
	}
	end := len(b)
	if f.Figures != nil {
		end = min(end, 8+2*sha256.Size)
	}
	f.Bytes, f.SHA256 = int64(binary.LittleEndian.Uint64(b)), string(b[8:end])
	return (&Points{f.Figures}).UnmarshalBinary(b[end:])
}

// Points is the part of a slice of single points: for each wanted output its values, in SI.
type Points struct{ Values [][]float64 }

// AppendBinary appends the values of one output after the other.
func (p *Points) AppendBinary(b []byte) ([]byte, error) {
	for _, column := range p.Values {
		for _, v := range column {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
	}
	return b, nil
}

// UnmarshalBinary reads values of the same number of outputs.
func (p *Points) UnmarshalBinary(b []byte) error {
	outputs := len(p.Values)
	if outputs == 0 && len(b) > 0 || outputs > 0 && len(b)%(8*outputs) != 0 {
		return errors.New("stored points have another length than these")
	}
	for o := range p.Values {
		p.Values[o] = make([]float64, len(b)/(8*outputs))
		for i := range p.Values[o] {
			p.Values[o][i] = math.Float64frombits(binary.LittleEndian.Uint64(b[8*(o*len(p.Values[o])+i):]))
		}
	}
	return nil
}

// NewEffects is what the parts of a screening are joined into.
func NewEffects(step *plan.Step) *sensitivity.Effects {
	s := &step.Plan.Index.Screening
	return sensitivity.NewEffectsWhere(len(s.Factors), len(s.Targets), s.Replicates, func(input, output int) bool {
		return step.Plan.Reaches(s.Factors[input], s.Targets[output].Output)
	})
}

// NewSwaps is what the parts of swapped rows are joined into.
func NewSwaps(step *plan.Step) *sensitivity.PickFreeze {
	targets := step.Plan.Index.Targets
	return sensitivity.NewPickFreezeWhere(len(step.Swaps), len(targets), step.Slots, func(input, output int) bool {
		return step.Plan.Reaches(step.Swaps[input].Factor, targets[output].Output)
	})
}

// NewShapley is what the parts of walks are joined into.
func NewShapley(step *plan.Step) *sensitivity.Shapley {
	x := &step.Plan.Index
	return sensitivity.NewShapley(len(x.Players), len(x.Targets), step.Slots)
}
