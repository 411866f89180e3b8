package traction

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"slices"

	"proofmass/model/schedule"
)

// A Reduced schedule has fewer steps, with weights, which give cars within a box the energies
// of all steps to Tolerance of them. It is read-only.
//
// A step is certain if for no car of the box any of the kernel's branches can change in it
// (interval arithmetic) and it cannot be the one that the battery fails first. Open steps
// stay. Of the certain ones so many stay, with positive weights in place of 1, that the
// energies of training cars keep their sums, and so do the parts of the energy split: a
// quadrature by moments. The method never looks at the kernel's formula; the result is a
// schedule like any other for the same kernel.
type Reduced struct {
	schedule *schedule.Schedule
	motion   *schedule.Motion // of the schedule, with fewer steps
	box      Car              // two rows: the lowest and the highest
	Made     Made
}

// Made is what is known of a reduced schedule.
type Made struct {
	Schedule string  // its name
	Steps    int     // moving steps that differ
	Points   int     // those that stay; as many as Steps where reducing failed
	Open     int     // of them with weight 1
	Worst    float64 // relative error of the energy of cars that it was not made from
	Digest   string  // SHA-256 of speed, acceleration and weighted duration of the steps that stay
}

// Tolerance is the relative error of an energy below which a reduced schedule counts as
// exact. One is accepted where cars that it was not made from err three times less.
const Tolerance = 1e-9

const (
	accepted   = 3e-10
	closeness  = 1e-13 // of training energies, as vectors of unit length, to what is kept
	trainings  = 200   // half of them corners
	splits     = 40    // of them, whose split is kept too
	checks     = 1500  // half of them corners
	widened    = 0.03  // of the box's width, at each end, for training
	worthwhile = 0.7   // the most of the steps that may stay
)

// Reduce makes the list for cars between the rows of box, the lowest and the highest value
// of each column. Where reducing fails or does not pay, all steps stay.
func Reduce(s *schedule.Schedule, box *Car) *Reduced {
	full := s.Motion()
	r := &Reduced{schedule: s, motion: full, box: *box, Made: Made{Schedule: s.Name, Steps: len(full.Steps), Points: len(full.Steps)}}
	cars := sampleOf(box)
	wide := cars.widened()
	certain := wide.limits().certain(full.Steps)
	motion, open := wide.reduced(full, certain)
	if motion != nil && float64(len(motion.Steps)) <= worthwhile*float64(len(full.Steps)) {
		r.accept(motion, open, cars.worst(full, motion))
	}
	r.Made.Digest = digest(r.motion.Steps)
	return r
}

// accept takes the list if it is close enough.
func (r *Reduced) accept(motion *schedule.Motion, open int, worst float64) {
	if worst <= accepted {
		r.motion, r.Made.Points, r.Made.Open, r.Made.Worst = motion, len(motion.Steps), open, worst
	}
}

// digest is the same on every machine: so are the bits of a list.
func digest(steps []schedule.Moving) string {
	var bytes []byte
	for _, step := range steps {
		for _, x := range [...]float64{step.V, step.A, step.DT} {
			bytes = binary.LittleEndian.AppendUint64(bytes, math.Float64bits(x))
		}
	}
	sum := sha256.Sum256(bytes)
	return hex.EncodeToString(sum[:])
}

// A sample draws cars of a box, always the same.
type sample struct {
	low, high [inputs]float64
	state     uint64
}

func sampleOf(box *Car) *sample {
	s := &sample{}
	for j, column := range box.columns() {
		s.low[j], s.high[j] = column[0], column[1]
	}
	return s
}

// widened is the box with more room at each end where it has any, on the same side of nil.
func (s *sample) widened() *sample {
	w := &sample{low: s.low, high: s.high, state: 1 << 32}
	for j := range w.low {
		room := float64(widened * (s.high[j] - s.low[j]))
		if !(room > 0) {
			continue
		}
		w.low[j], w.high[j] = s.low[j]-room, s.high[j]+room
		if s.low[j] >= 0 {
			w.low[j] = max(0, w.low[j])
		}
	}
	return w
}

// limits are those of the box.
func (s *sample) limits() *limits {
	car := newCar(2)
	for j, column := range car.columns() {
		column[0], column[1] = s.low[j], s.high[j]
	}
	l := limitsOf(car)
	return &l
}

// next draws 53 bits (splitmix64: Steele, Lea and Flood, 2014).
func (s *sample) next() uint64 {
	s.state += 0x9e3779b97f4a7c15
	return mixed(s.state) >> 11
}

// draw fills the car's one row: a corner of the box, or any place in it. Fade speeds come in
// their order.
func (s *sample) draw(car *Car, corner bool) {
	for j, column := range car.columns() {
		u := float64(s.next()) / (1 << 53)
		if corner {
			u = math.Round(u)
		}
		switch u {
		case 0:
			column[0] = s.low[j]
		case 1:
			column[0] = s.high[j]
		default:
			column[0] = s.low[j] + float64(u*(s.high[j]-s.low[j]))
		}
		if s.low[j] == s.high[j] {
			column[0] = s.low[j] // also where it is infinite
		}
	}
	if car.RegenFadeLow[0] > car.RegenFadeHigh[0] {
		car.RegenFadeLow[0], car.RegenFadeHigh[0] = car.RegenFadeHigh[0], car.RegenFadeLow[0]
	}
}

// reduced puts a few of the certain steps in the place of all; nil where that fails.
func (s *sample) reduced(full *schedule.Motion, certain []bool) (motion *schedule.Motion, open int) {
	var at []int
	for j, is := range certain {
		if is {
			at = append(at, j)
		}
	}
	if len(at) < quickSteps {
		return nil, 0
	}
	rows := span(s.train(full, at), closeness)
	if len(rows) >= len(at) {
		return nil, 0
	}
	weight, ok := fewer(rows)
	if !ok {
		return nil, 0
	}
	less := *full
	less.Steps = nil
	for j, step := range full.Steps {
		if k, found := slices.BinarySearch(at, j); found {
			if weight[k] == 0 {
				continue
			}
			step.DT *= weight[k]
		} else {
			open++
		}
		less.Steps = append(less.Steps, step)
	}
	return &less, open
}

// train makes the vectors whose sums are to be kept, each of unit length, over the certain
// steps: their durations, the energies of training cars and parts of the split of some.
func (s *sample) train(full *schedule.Motion, at []int) [][]float64 {
	durations := make([]float64, len(at))
	for k, j := range at {
		durations[k] = full.Steps[j].DT
	}
	unit(durations)
	vectors := [][]float64{durations}
	car := newCar(1)
	for drawn, tries := 0, 0; drawn < trainings && tries < 4*trainings; tries++ {
		s.draw(car, drawn%2 == 0)
		own := make([][]float64, 6)
		for i := range own {
			own[i] = make([]float64, len(at))
		}
		var c row
		if !c.load(car, 0) || !c.overSteps(full, at, own) {
			continue
		}
		kept := own[:1]
		if drawn < splits {
			kept = own
		}
		for _, v := range kept {
			if dot(v, v) > 0 {
				unit(v)
				vectors = append(vectors, v)
			}
		}
		drawn++
	}
	return vectors
}

// overSteps fills the flows of single steps; false if one of them is infeasible.
func (c *row) overSteps(full *schedule.Motion, at []int, flows [][]float64) bool {
	for k, j := range at {
		one := schedule.Motion{Steps: full.Steps[j : j+1]}
		f := c.generalFlows(&one)
		if !isFinite(f.charge) {
			return false
		}
		for i, x := range [...]float64{f.charge, f.heat, f.positive, f.negative, f.back, f.rim2} {
			flows[i][k] = x
		}
	}
	return true
}

// worst is the largest relative error of the energies of cars that nothing was made from.
func (s *sample) worst(full, less *schedule.Motion) float64 {
	worst := 0.0
	car := newCar(1)
	for k := range checks {
		s.draw(car, k%2 == 0)
		var c row
		if !c.load(car, 0) {
			continue
		}
		worst = max(worst, apart(c.general(less), c.general(full)))
	}
	return worst
}

// apart is the relative distance of two energies; those of infeasible cars are alike, and
// infinitely far from any other.
func apart(x, exact float64) float64 {
	switch {
	case isFinite(x) != isFinite(exact):
		return math.Inf(1)
	case !isFinite(exact) || x == exact:
		return 0
	}
	return math.Abs(x-exact) / math.Abs(exact)
}
