package vehicle

import (
	"math"
	"sync"

	"proofmass/model"
	"proofmass/model/schedule"
	"proofmass/model/traction"
)

// A road is a schedule driven by cars whose numbers have one box: a schedule in the cold is
// another one than the same in the warm.
type road struct {
	name     string
	schedule *schedule.Schedule
}

func (d Drive) road() road { return road{d.Schedule.Name, d.Schedule} }

// inCold is the same schedule for cars in the cold.
func (r road) inCold() road { return road{"cold_" + r.name, r.schedule} }

// roads are all of a model's, by their names.
func (all Drives) roads() map[string]road {
	roads := map[string]road{}
	for _, d := range all {
		for _, r := range []road{d.road(), d.road().inCold()} {
			roads[r.name] = r
		}
	}
	return roads
}

// total makes energy per distance.
func (r road) total() start {
	distance := r.schedule.Distance()
	return onBench(func(b *bench, out, in [][]float64) {
		b.load(in)
		b.total(out[0], r)
		divide(out[0], distance)
	})
}

// split makes energy per distance by sink, in the order of sinks.
func (r road) split() start {
	distance := r.schedule.Distance()
	return onBench(func(b *bench, out, in [][]float64) {
		b.load(in)
		for i := range sinks {
			*sinks[i].column(&b.sinks) = out[i]
		}
		if list := b.saving.list(r); list != nil {
			list.Split(&b.sinks, &b.car, &b.saving.watch)
		} else {
			traction.Split(&b.sinks, &b.car, r.schedule)
		}
		for _, sink := range out {
			divide(sink, distance)
		}
	})
}

// total fills energy with what the loaded cars take over the road.
func (b *bench) total(energy []float64, r road) {
	if list := b.saving.list(r); list != nil {
		list.Total(energy, &b.car, &b.saving.watch)
	} else {
		traction.Total(energy, &b.car, r.schedule)
	}
}

// A Reduction holds schedules that are reduced for the cars of one study. It serves any
// number of goroutines.
type Reduction struct {
	boxes []roadBox
	make  sync.Once
	lists map[string]*traction.Reduced
	made  []traction.Made
}

// roadBox is a road, and the lowest and the highest numbers of the cars on it.
type roadBox struct {
	road road
	box  traction.Car
}

// A Box is what a rule over a road reads, in two rows: the lowest values and the highest.
type Box struct {
	Over    string // of the rule
	Columns [][]float64
}

// Reduce makes the reduction for the boxes of rules that go over roads of the model. The
// lists are made when the first worker asks for them.
func (m *Model) Reduce(boxes []Box) *Reduction {
	r := new(Reduction)
	roads := m.drives.roads()
	for _, b := range boxes {
		if road, ok := roads[b.Over]; ok && road.schedule.Grade == nil && len(b.Columns) == len(kernel) {
			var bench bench
			bench.load(b.Columns)
			r.boxes = append(r.boxes, roadBox{road, bench.car})
		}
	}
	return r
}

// Saving is one goroutine's.
func (r *Reduction) Saving() model.Saving {
	r.Made()
	return &saving{lists: r.lists}
}

// Made is what is known of each list, in the order of the boxes.
func (r *Reduction) Made() []traction.Made {
	r.make.Do(func() {
		r.lists = map[string]*traction.Reduced{}
		for _, b := range r.boxes {
			list := traction.Reduce(b.road.schedule, &b.box)
			list.Made.Schedule = b.road.name
			r.lists[b.road.name] = list
			r.made = append(r.made, list.Made)
		}
	})
	return r.made
}

// saving is what one goroutine's evaluations save work by.
type saving struct {
	lists map[string]*traction.Reduced // by road
	watch traction.Watch
}

// list is the reduced schedule of a road, nil where there is none.
func (s *saving) list(r road) *traction.Reduced {
	if s == nil {
		return nil
	}
	return s.lists[r.name]
}

func (s *saving) SetExact(exact bool) { s.watch.Exact = exact }

// Seen tells an error that is no number, of a car that is infeasible in one way alone, as
// the largest number: it must be written down.
func (s *saving) Seen() model.Seen {
	w := &s.watch
	seen := model.Seen{Evaluations: int64(w.Rows), Outside: int64(w.Outside), Checked: int64(w.Checked), Missed: int64(w.Missed),
		Worst: min(w.Worst, math.MaxFloat64)}
	w.Clear()
	return seen
}
