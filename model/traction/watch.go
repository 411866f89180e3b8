package traction

import (
	"math"

	"proofmass/model/schedule"
)

// A Watch is what one worker's evaluations over reduced schedules have seen. The zero Watch
// has seen nothing.
type Watch struct {
	Exact bool // evaluate all steps, and see nothing

	Rows    int     // evaluated
	Outside int     // of them outside the box: over all steps
	Checked int     // of them evaluated over all steps too
	Missed  int     // of these more than Tolerance off
	Worst   float64 // relative error of these
}

// Clear forgets what was seen.
func (w *Watch) Clear() { *w = Watch{Exact: w.Exact} }

// checkedOf is how many rows there are to each that is checked: 16 in a slice of 8192. Which
// ones follows from the row's own numbers, whatever stands beside it.
const checkedOf = 512

// strip is how many rows are told inside from outside at a time.
const strip = 128

// whereabouts tell rows inside the box from those outside.
type whereabouts struct {
	outside [strip]bool
	hash    [strip]uint64
}

// checked reports whether a row is to be evaluated over all steps too.
func (p *whereabouts) checked(i int) bool { return !p.outside[i] && mixed(p.hash[i])%checkedOf == 0 }

// mixed is the last step of splitmix64.
func mixed(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// look looks at n rows from the given one on, column by column.
func (r *Reduced) look(p *whereabouts, car *Car, from, n int) {
	outside, hash := p.outside[:n], p.hash[:n]
	clear(outside)
	clear(hash)
	box, odd := r.box.columns(), uint64(1)
	for j, column := range car.columns() {
		low, high := box[j][0], box[j][1]
		column = column[from : from+n][:len(hash)]
		odd = odd*0x9e3779b97f4a7c15 | 1
		// bits of numbers that are not negative are in their order, and those of all others beyond
		least := math.Float64bits(low)
		width := math.Float64bits(high) - least
		switch {
		case least>>63 != 0:
			for i, x := range column {
				if !(x >= low && x <= high) {
					outside[i] = true
				}
				hash[i] += math.Float64bits(x) * odd
			}
		case width == 0:
			for i, x := range column {
				if math.Float64bits(x) != least {
					outside[i] = true
				}
			}
		default:
			for i, x := range column {
				bits := math.Float64bits(x)
				if bits-least > width {
					outside[i] = true
				}
				hash[i] += bits * odd
			}
		}
	}
}

// Total is the function Total over the reduced schedule; it tells w of what it saw.
func (r *Reduced) Total(energy []float64, car *Car, w *Watch) {
	if w.Exact || r.Made.Points == r.Made.Steps {
		Total(energy, car, r.schedule)
		return
	}
	var where whereabouts
	inside, outside := group{form: chosen, motion: r.motion}, group{form: chosen, motion: r.schedule.Motion()}
	for from := 0; from < len(energy); from += strip {
		n := min(strip, len(energy)-from)
		r.look(&where, car, from, n)
		for i := range n {
			if where.outside[i] {
				w.Outside++
				outside.total(energy, car, from+i)
			} else {
				inside.total(energy, car, from+i)
			}
		}
		inside.totals(energy)
		outside.totals(energy)
		for i := range n {
			if where.checked(i) {
				w.check(energy[from+i], exactly(car, from+i, outside.motion))
			}
		}
	}
	w.Rows += len(energy)
}

// exactly is the energy of row i over all steps.
func exactly(car *Car, i int, m *schedule.Motion) float64 {
	var c row
	switch {
	case !c.load(car, i):
		return math.NaN()
	case c.quick(m):
		return finite(c.folded(m))
	}
	return finite(c.general(m))
}

func (w *Watch) check(energy, exact float64) {
	w.Checked++
	error := apart(energy, exact)
	w.Worst = max(w.Worst, error)
	if error > Tolerance {
		w.Missed++
	}
}

// Split is the function Split over the reduced schedule; it tells w of what it saw.
func (r *Reduced) Split(out *Sinks, car *Car, w *Watch) {
	if w.Exact || r.Made.Points == r.Made.Steps {
		Split(out, car, r.schedule)
		return
	}
	columns := out.columns()
	rows := rowsOf(&columns)
	var where whereabouts
	inside, outside := group{form: chosen, motion: r.motion}, group{form: chosen, motion: r.schedule.Motion()}
	for from := 0; from < rows; from += strip {
		n := min(strip, rows-from)
		r.look(&where, car, from, n)
		for i := range n {
			if where.outside[i] {
				w.Outside++
				outside.split(&columns, car, from+i)
			} else {
				inside.split(&columns, car, from+i)
			}
		}
		inside.splits(&columns)
		outside.splits(&columns)
		for i := range n {
			if where.checked(i) {
				w.check(r.totalOf(car, from+i), exactly(car, from+i, outside.motion))
			}
		}
	}
	w.Rows += rows
}

// totalOf is the energy of row i over the steps that stay.
func (r *Reduced) totalOf(car *Car, i int) float64 { return exactly(car, i, r.motion) }
