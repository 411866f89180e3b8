package run

import (
	"math"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/study"
)

// demo is the plan of the invented demo with that many rows.
func demo(t *testing.T, rows int) *plan.Plan {
	t.Helper()
	s, err := study.Read("../../testdata/studies/heron.yaml", study.Options{Rows: rows})
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A car's row evaluated alone has the bits that it has in its block, on both sides
// of the border between two blocks.
func TestRowAloneIsTheRowInItsBlock(t *testing.T) {
	p := demo(t, 16*700) // a replicate has more rows than a block
	r := Runner{Plan: p}
	w, err := newSampler(&r, p.Sample, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, number := range []int{0, 5, 15} {
		s := p.Sample.Slices[number]
		w.slice(s)
		for _, k := range []int{0, block - 1, block, s.Rows - 1} {
			alone := r.Row(s.First + k)
			for c, column := range w.store {
				in, out := w.kept[c][k], column.unit.FromSI(alone[column.output])
				if math.Float64bits(in) != math.Float64bits(out) {
					t.Fatalf("row %d, column %d: %v in its block, %v alone", s.First+k, c, in, out)
				}
			}
		}
	}
}

// Two cars, 45 inputs, 16 slices of pairs: the indices
// and their intervals have the same bits for any number of workers.
func TestIndicesOfCarsDoNotDependOnWorkers(t *testing.T) {
	p := demo(t, 2048)
	var want []uint64
	for _, workers := range []int{1, 2, 7} {
		r := Runner{Plan: p, Workers: workers}
		sums := NewSwaps(swapping(p))
		for round := range 2 {
			swapped(t, &r, p.IndexRound(round), sums)
		}
		var got []uint64
		for _, output := range sums.Indices(0.95) {
			for _, pair := range output {
				got = append(got, math.Float64bits(pair.First.Estimate), math.Float64bits(pair.First.Interval.Low),
					math.Float64bits(pair.Total.Estimate), math.Float64bits(pair.Total.Interval.High))
			}
		}
		if want == nil {
			want = got
		}
		for i := range want {
			if got[i] != want[i] {
				t.Fatalf("%d workers: figure %d differs from that of one worker", workers, i)
			}
		}
	}
}
