package run

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"proofmass/jobs/plan"
	"proofmass/jobs/study"
	"proofmass/sensitivity"
)

func planOf(t *testing.T, text string) *plan.Plan {
	t.Helper()
	path := filepath.Join(t.TempDir(), "study.yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	s, err := study.Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

const product = `format: 1
study: product
model: formulas
inputs: {x1: {between: [0, 1]}, x2: {between: [0, 1]}}
outputs: {y: x1 * x2}
sample: {rows: 4096, seed: 5}
indices: {half_width: 0.02}
`

func TestEachReturnsTheEarliestError(t *testing.T) {
	for _, workers := range []int{1, 3, 8} {
		var started atomic.Int64
		err := Each(t.Context(), workers, 1000, func() (func(int) error, error) {
			return func(i int) error {
				started.Add(1)
				if i >= 5 {
					return fmt.Errorf("slice %d", i)
				}
				return nil
			}, nil
		})
		if err == nil || err.Error() != "slice 5" {
			t.Errorf("%d workers: %v, want that of slice 5", workers, err)
		}
		if n := started.Load(); n > 1000/2 {
			t.Errorf("%d workers: %d slices were begun after a failure", workers, n)
		}
	}
}

func TestEachHonoursTheContext(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	done := 0
	err := Each(ctx, 1, 100, func() (func(int) error, error) {
		return func(int) error {
			if done++; done == 3 {
				stop()
			}
			return nil
		}, nil
	})
	if !errors.Is(err, context.Canceled) || done != 3 {
		t.Errorf("%v after %d slices, want canceled after 3", err, done)
	}
}

func TestEachTellsThatAWorkerCouldNotStart(t *testing.T) {
	want := errors.New("no worker")
	if err := Each(t.Context(), 0, 2, func() (func(int) error, error) { return nil, want }); !errors.Is(err, want) {
		t.Errorf("got %v", err)
	}
}

// nowhere keeps nothing.
type nowhere struct{}

func (nowhere) Known(*plan.Step, plan.Key) Part { return nil }
func (nowhere) Keep(_ plan.Key, part Part, _ time.Duration) error {
	if file, ok := part.(*File); ok {
		return file.Commit()
	}
	return nil
}

// swapped joins what a round of rows with each of the plan's swaps tells into all.
func swapping(p *plan.Plan) *plan.Step {
	return &plan.Step{Kind: plan.Index, Plan: p, Swaps: p.Index.Swaps, Slots: sensitivity.MostSlots}
}

func swapped(t *testing.T, r *Runner, round plan.Round, all *sensitivity.PickFreeze) {
	t.Helper()
	step := swapping(r.Plan)
	err := r.Make(t.Context(), step, round, round.Slices, nowhere{}, func(s plan.Slice, part Part) error {
		all.Join(round.FirstReplicate+s.Replicate, part.(*sensitivity.PickFreezeSums))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestIndicesDoNotDependOnWorkers(t *testing.T) {
	p := planOf(t, product)
	want := ""
	for _, workers := range []int{1, 2, 7} {
		ticks := atomic.Int64{}
		r := Runner{Plan: p, Workers: workers, Tick: func(n int) { ticks.Add(int64(n)) }}
		sums := NewSwaps(swapping(p))
		swapped(t, &r, p.IndexRound(0), sums)
		got := fmt.Sprintf("%+v", sums.Indices(0.95))
		if want == "" {
			want = got
		}
		if got != want {
			t.Errorf("%d workers: %s, want %s", workers, got, want)
		}
		if int(ticks.Load()) != p.Index.Rows*p.Index.Each() {
			t.Errorf("%d runs were told of, %d planned", ticks.Load(), p.Index.Rows*p.Index.Each())
		}
	}
}

// A tornado of more points than a block has rows gives the same at each of them.
func TestTornadoRunsInBlocks(t *testing.T) {
	p := planOf(t, product)
	const rows = 3*block + 7
	points := columns(2, rows)
	for i := range rows {
		points[0][i], points[1][i] = float64(i), 2
	}
	part, err := newPointer(&Runner{Plan: p}, points, p.Index.Outputs)(plan.Slice{First: 5, Rows: rows - 5})
	if err != nil {
		t.Fatal(err)
	}
	at := part.(*Points).Values
	if len(at[0]) != rows-5 {
		t.Fatalf("%d points, want %d", len(at[0]), rows-5)
	}
	for i, y := range at[0] {
		i += 5
		if y != 2*float64(i) {
			t.Fatalf("point %d: %g, want %g", i, y, 2*float64(i))
		}
	}
}

// Row gives what the slices gave, for rows of the first, an inner and the last
// replicate.
func TestRowIsThatOfTheSample(t *testing.T) {
	p := planOf(t, product)
	r := &Runner{Plan: p}
	w, err := newSampler(r, p.Sample, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range p.Sample.Slices {
		w.slice(s)
		for _, k := range []int{0, s.Rows / 2, s.Rows - 1} {
			row := r.Row(s.First + k)
			for c, column := range p.Columns {
				if got, want := row[column.Output], w.out.Columns[c][k]; got != want {
					t.Fatalf("row %d: %s = %g, the slice has %g", s.First+k, column.Name, got, want)
				}
			}
		}
	}
}
