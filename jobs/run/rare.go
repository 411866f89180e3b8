package run

import (
	"encoding/binary"
	"errors"
	"math"

	"proofmass/jobs/plan"
	"proofmass/sampling/portable"
	"proofmass/sensitivity/sequential"
)

// Moved is the part of a slice of a population: its rows after their moves, and how many of
// these were accepted.
type Moved struct {
	sequential.Population
	Accepted int
}

// AppendBinary appends the rows.
func (m *Moved) AppendBinary(b []byte) ([]byte, error) {
	for _, n := range []int{m.Accepted, m.Scores, m.Rows()} {
		b = binary.LittleEndian.AppendUint64(b, uint64(n))
	}
	return (&Points{[][]float64{m.Value, m.Z}}).AppendBinary(b)
}

// UnmarshalBinary reads rows.
func (m *Moved) UnmarshalBinary(b []byte) error {
	const head = 3 * 8
	if len(b) < head {
		return errors.New("a stored population is cut off")
	}
	at := func(k int) uint64 { return binary.LittleEndian.Uint64(b[8*k:]) }
	scores, rows, numbers := at(1), at(2), uint64(len(b)/8-3)
	if len(b)%8 != 0 || rows > numbers || rows > 0 && scores != numbers/rows-1 || rows*(scores+1) != numbers || at(0) > math.MaxInt32 {
		return errors.New("a stored population has another length than it says")
	}
	m.Accepted, m.Population = int(at(0)), sequential.NewPopulation(int(rows), int(scores))
	for i := range numbers {
		x := math.Float64frombits(at(3 + int(i)))
		if i < rows {
			m.Value[i] = x
		} else {
			m.Z[i-rows] = x
		}
	}
	return nil
}

// scorer is one worker's evaluation of rows of normal scores.
type scorer struct {
	sampler *sampler
	scores  []int
	read    func(n int, value []float64) // of the rows that were run
}

// evaluate places scores into the inputs, all others at their middles, and reads the values.
func (s *scorer) evaluate(z [][]float64, value []float64) {
	w := s.sampler
	for from := 0; from < len(z); from += block {
		n := min(block, len(z)-from)
		s.place(z[from : from+n])
		w.worker.Run(n)
		s.read(n, value[from:from+n])
		w.tick(n)
	}
}

// below1 is the greatest number below 1: no quantile of it is infinite.
var below1 = math.Nextafter(1, 0)

func (s *scorer) place(z [][]float64) { s.sampler.drawer.place(s.sampler.inputs, s.scores, z) }

// place fills columns with the SI values of rows of normal scores of some inputs, all others at
// their middles.
func (d *drawer) place(columns [][]float64, scores []int, z [][]float64) {
	for i := range columns {
		if d.plan.Drawn[i].Choice > 0 {
			continue
		}
		for row := range z {
			columns[i][row] = 0.5
		}
	}
	for k, i := range scores {
		for row := range z {
			columns[i][row] = min(below1, portable.NormalCDF(z[row][k]))
		}
	}
	d.values(columns, len(z))
}

// newPlaced is a sampler of rows that are placed, not drawn.
func newPlaced(r *Runner) *sampler {
	w := &sampler{Runner: r, worker: r.Plan.Program.NewWorker(block), drawer: &drawer{plan: r.Plan, design: r.Plan.Design, purpose: plan.PurposeSample, round: r.Plan.Sample.Number}}
	w.inputs = inputColumns(w.worker, len(r.Plan.Drawn))
	return w
}

// newClimber evaluates slices of climbs: the value of a row is how far inside the claim it lies,
// or how far outside of it where the populations go to where it fails.
func newClimber(r *Runner, step *plan.Step, round plan.Round) func(plan.Slice) (Part, error) {
	w := newPlaced(r)
	return func(s plan.Slice) (Part, error) {
		c := &step.Climbs[s.Climb]
		claim := &r.Plan.Claims[c.Claim]
		at := &scorer{sampler: w, scores: c.Scores, read: func(n int, value []float64) {
			climbed(value, w.worker.Output(claim.Holds)[:n], w.worker.Output(claim.Margin)[:n], c.Fails)
		}}
		stream := sequential.NewStream(r.Plan.Study.Seed, "rare "+claim.Name)
		mover := sequential.NewMover(stream, at.evaluate)
		part := &Moved{Population: sequential.NewPopulation(s.Rows, len(c.Scores))}
		if step.Moves == 0 {
			mover.Draw(&part.Population, s.Replicate, s.From)
			return part, nil
		}
		from := &c.Populations[s.Replicate]
		from.Picked(&part.Population, stream.Pick(sequential.Alike(from.Rows()), s.Rows, round.Number, s.Replicate))
		part.Accepted = mover.Move(&part.Population, round.Number, s.Replicate, s.From, step.Moves, c.State.Step, c.State.Accept())
		return part, nil
	}
}

// climbed are values of rows by which a climb goes on: what is infeasible does not hold.
func climbed(value, holds, margin []float64, fails bool) {
	for i := range value {
		m := margin[i]
		if fails {
			m = -m
		}
		switch {
		case (holds[i] == 1) != fails:
			value[i] = sequential.Event
		case m != m:
			value[i] = math.Inf(-1)
		default:
			value[i] = min(m, math.MaxFloat64)
		}
	}
}
