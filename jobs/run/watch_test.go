package run

import (
	"bytes"
	"slices"
	"testing"
	"time"

	"proofmass/jobs/plan"
	"proofmass/model"
	"proofmass/model/traction"
)

// stub is a reduction of which one slice in three misses.
type stub struct {
	asked int
	exact []bool
}

func (s *stub) Saving() model.Saving  { return s }
func (s *stub) Made() []traction.Made { return nil }
func (s *stub) SetExact(exact bool)   { s.exact = append(s.exact, exact) }
func (s *stub) Seen() model.Seen {
	s.asked++
	seen := model.Seen{Evaluations: 100, Outside: 2, Checked: 10, Worst: 1e-13}
	if s.asked%3 == 0 {
		seen.Missed, seen.Worst = 1, 1e-6
	}
	return seen
}

// remembered keeps each part's bytes.
type remembered struct{ parts map[plan.Key][]byte }

func (r *remembered) Known(step *plan.Step, key plan.Key) Part {
	data, ok := r.parts[key]
	if !ok {
		return nil
	}
	part := Blank(step)
	if part.UnmarshalBinary(data) != nil {
		return nil
	}
	return part
}

func (r *remembered) Keep(key plan.Key, part Part, _ time.Duration) (err error) {
	r.parts[key], err = part.AppendBinary(nil)
	return err
}

// TestAMissedSliceIsMadeAgain: exactly, told of, and remembered; its runs count once.
func TestAMissedSliceIsMadeAgain(t *testing.T) {
	p := planOf(t, product)
	var by stub
	p.Reduction = &by
	step := &plan.Step{Kind: plan.Index, Rounds: []plan.Round{p.IndexRound(0)}, Plan: p, Swaps: p.Index.Swaps, Slots: 16}
	round := step.Rounds[0]
	round.Kind = plan.Index
	store := &remembered{map[plan.Key][]byte{}}
	var seen [2]Seen
	var parts [2][][]byte
	ticks := 0
	for again := range seen {
		r := &Runner{Plan: p, Workers: 1, Tick: func(runs int) { ticks += runs }, Seen: func(s Seen) { seen[again].Add(s) }}
		if err := r.Make(t.Context(), step, round, round.Slices, store, func(_ plan.Slice, part Part) error {
			data, err := part.AppendBinary(nil)
			parts[again] = append(parts[again], data)
			return err
		}); err != nil {
			t.Fatal(err)
		}
	}
	n := int64(len(round.Slices))
	missed := n / 3
	want := Seen{model.Seen{Evaluations: 100 * n, Outside: 2 * n, Checked: 10 * n, Missed: missed, Worst: 1e-6}, missed}
	if missed == 0 || seen[0] != want || seen[1] != want {
		t.Errorf("seen %+v, then from what was kept %+v, want %+v", seen[0], seen[1], want)
	}
	if len(by.exact) != int(2*missed) || !slices.Equal(by.exact[:2], []bool{true, false}) {
		t.Errorf("exact: %v, want true and then false for each of %d slices", by.exact, missed)
	}
	if ticks != 2*round.Rows*step.Each() {
		t.Errorf("%d runs were told of, want %d", ticks, 2*round.Rows*step.Each())
	}
	if !slices.EqualFunc(parts[0], parts[1], bytes.Equal) {
		t.Error("kept parts have other bytes")
	}
	if new(Watched).UnmarshalBinary(make([]byte, seenBytes-1)) == nil {
		t.Error("a part that is cut off is read")
	}
}
