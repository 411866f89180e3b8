package traction

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/model/schedule"
)

// oneCar is a box about an invented car: five per cent about most numbers, fade speeds
// constant, no wind and no slope.
func oneCar(spread float64) *Car {
	box := newCar(2)
	typical := [...]float64{2010, 0.03, 167, 0.5, 0, 0.365, 0, 0, 8.7, 0.337, 0.95, 0.034, 0.6, 2e-7, 270, 0.91, 1, 4, 60e3, 190, 346, 0.054}
	for j, column := range box.columns() {
		column[0], column[1] = typical[j]*(1-spread), typical[j]*(1+spread)
		if j == 16 || j == 17 {
			column[0], column[1] = typical[j], typical[j]
		}
	}
	return box
}

// drawn are rows of a box, a few of them corners.
func drawn(box *Car, n int) *Car {
	s, car, one := sampleOf(box), newCar(n), newCar(1)
	s.state = 99
	for i := range n {
		s.draw(one, i%16 == 0)
		from := one.columns()
		for j, column := range car.columns() {
			column[i] = from[j][0]
		}
	}
	return car
}

// windy is the box of oneCar on slopes of half a per cent and in wind from ahead and behind.
func windy() *Car {
	box := oneCar(0.05)
	box.HeadWind[0], box.HeadWind[1] = -1.5, 1.5
	box.GradeForce[0], box.GradeForce[1] = -99, 99
	return box
}

// weak is the box of a car whose battery cannot give what some steps ask for.
func weak() *Car {
	box := oneCar(0.05)
	box.Resistance[0], box.Resistance[1] = 0.5, 1.5
	return box
}

// faded is the box of a car whose recovery fades in where nobody knows, in part without
// inner resistance.
func faded() *Car {
	box := oneCar(0.05)
	box.RegenFadeLow[0], box.RegenFadeLow[1] = 0.5, 2
	box.RegenFadeHigh[0], box.RegenFadeHigh[1] = 3, 5
	box.Resistance[0] = 0
	return box
}

// TestReducedIsExact: rows that no list was made from, corners among them, have the energy of
// all steps, its parts and its infeasible rows; and lists are short.
func TestReducedIsExact(t *testing.T) {
	const n = 500
	for name, of := range map[string]struct {
		box   *Car
		fewer float64 // times, over UDDS
	}{"one car": {oneCar(0.05), 8}, "wind and slope": {windy(), 3.5}, "weak battery": {weak(), 1.4}, "fade unknown": {faded(), 5}} {
		for _, s := range []*schedule.Schedule{builtIn("udds"), builtIn("us06")} {
			r := Reduce(s, of.box)
			if times := float64(r.Made.Steps) / float64(r.Made.Points); s.Name == "udds" && times < of.fewer {
				t.Errorf("%s: %d of %d steps stay", name, r.Made.Points, r.Made.Steps)
			}
			car, got, want := drawn(of.box, n), make([]float64, n), make([]float64, n)
			w := new(Watch)
			r.Total(got, car, w)
			Total(want, car, s)
			infeasible := 0
			for i := range want {
				if want[i] != want[i] {
					infeasible++
				}
				if e := apart(got[i], want[i]); !(e <= Tolerance) {
					t.Errorf("%s on %s, row %d: %.12g, want %.12g: %.2g off", name, s.Name, i, got[i], want[i], e)
				}
			}
			if s.Name == "us06" && (infeasible > n/20) != (name == "weak battery") {
				t.Errorf("%s on %s: %d of %d rows are infeasible", name, s.Name, infeasible, n)
			}
			if r.Made.Points < r.Made.Steps && (w.Rows != n || w.Outside > 0 || w.Missed > 0) {
				t.Errorf("%s on %s: seen %+v", name, s.Name, *w)
			}
			splitsAgree(t, r, car, got)
		}
	}
}

// splitsAgree holds the split over a reduced schedule to that over all steps, to Tolerance of
// the energies that it is made of.
func splitsAgree(t *testing.T, r *Reduced, car *Car, total []float64) {
	t.Helper()
	out, got := sinkColumns(len(total))
	r.Split(out, car, new(Watch))
	out, want := sinkColumns(len(total))
	Split(out, car, r.schedule)
	for name, column := range want {
		for i, x := range column {
			gross := want["PositiveWheel"][i] + want["Auxiliaries"][i]
			if y := got[name][i]; !(math.Abs(y-x) <= Tolerance*gross) && (x == x || y == y) {
				t.Fatalf("%s, row %d, %s: %.12g, want %.12g", r.schedule.Name, i, name, y, x)
			}
		}
	}
	for i, x := range got["Total"] {
		if math.Float64bits(x) != math.Float64bits(total[i]) {
			t.Fatalf("%s, row %d: the split's total %v is not %v", r.schedule.Name, i, x, total[i])
		}
	}
}

// TestOutsideTheBox: such rows have the very bits of all steps; every form and every cut into
// blocks gives the same bits, and sees the same.
func TestOutsideTheBox(t *testing.T) {
	const n = 1500
	s := builtIn("udds")
	r := Reduce(s, oneCar(0.03))
	car, want := drawn(oneCar(0.031), n), make([]float64, n)
	for i := 0; i < n; i += 50 {
		(*columns(car)[i%inputs])[i] = []float64{math.NaN(), math.Inf(1), -1, 0}[i/50%4]
	}
	w := new(Watch)
	r.Total(want, car, w)
	if w.Outside < n/4 || w.Outside > n*3/4 || w.Checked > n {
		t.Errorf("seen %+v: want rows inside and outside", *w)
	}
	all := totalOf(car, n, s)
	same := 0
	for i := range all {
		if math.Float64bits(all[i]) == math.Float64bits(want[i]) {
			same++
		}
	}
	if same < w.Outside {
		t.Errorf("%d rows have the bits of all steps, %d are outside", same, w.Outside)
	}
	for _, f := range forms() {
		for _, block := range []int{1, 7, 100, 512} {
			got, again := make([]float64, n), new(Watch)
			inForm(f, func() {
				for from := 0; from < n; from += block {
					to := min(n, from+block)
					r.Total(got[from:to], rowsFrom(car, from), again)
				}
			})
			for i := range got {
				if math.Float64bits(got[i]) != math.Float64bits(want[i]) {
					t.Fatalf("%s, blocks of %d, row %d: %v, want %v", f.name, block, i, got[i], want[i])
				}
			}
			if *again != *w {
				t.Errorf("%s, blocks of %d: seen %+v, want %+v", f.name, block, *again, *w)
			}
		}
	}
}

// rowsFrom is the car without its first rows.
func rowsFrom(car *Car, from int) *Car {
	rest := new(Car)
	to := columns(rest)
	for j, column := range columns(car) {
		*to[j] = (*column)[from:]
	}
	return rest
}

// TestWatchFindsAWrongList: weights a millionth off are found out, in the energy and the split.
func TestWatchFindsAWrongList(t *testing.T) {
	const n = 8192
	r := Reduce(builtIn("udds"), oneCar(0.05))
	for i := range r.motion.Steps {
		r.motion.Steps[i].DT *= 1 + 1e-6
	}
	car := drawn(oneCar(0.05), n)
	out, _ := sinkColumns(n)
	total, split := new(Watch), new(Watch)
	r.Total(make([]float64, n), car, total)
	r.Split(out, car, split)
	for _, w := range []*Watch{total, split} {
		if w.Checked < 4 || w.Missed != w.Checked || w.Worst < 1e-7 {
			t.Errorf("seen %+v", *w)
		}
	}
	exact := &Watch{Exact: true}
	energy := make([]float64, n)
	r.Total(energy, car, exact)
	for i, want := range totalOf(car, n, r.schedule) {
		if math.Float64bits(energy[i]) != math.Float64bits(want) {
			t.Fatalf("row %d: %v, want %v", i, energy[i], want)
		}
	}
	if *exact != (Watch{Exact: true}) {
		t.Errorf("seen %+v", *exact)
	}
}

// TestOddBoxes: whatever the box, a list comes out, and what it gives is exact.
func TestOddBoxes(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, math.MaxFloat64, 1e-300}
	r := rand.New(rand.NewPCG(31, 32))
	for k := range 20 {
		box := oneCar(0.05)
		for range 1 + k%3 {
			(*columns(box)[r.IntN(inputs)])[r.IntN(2)] = odd[r.IntN(len(odd))]
		}
		list := Reduce(builtIn("nycc"), box)
		car, got := drawn(oneCar(0.05), 200), make([]float64, 200)
		list.Total(got, car, new(Watch))
		for i, want := range totalOf(car, 200, list.schedule) {
			if e := apart(got[i], want); !(e <= Tolerance) {
				t.Errorf("box %d, row %d: %.2g off", k, i, e)
			}
		}
	}
	if r := Reduce(schedule.Steady(20), oneCar(0.05)); r.Made.Points != 1 {
		t.Errorf("a single step: %+v", r.Made)
	}
}

// TestListsHaveTheSameBitsEverywhere: every worker makes them for itself.
func TestListsHaveTheSameBitsEverywhere(t *testing.T) {
	hash := sha256.New()
	for _, box := range []*Car{oneCar(0.05), windy()} {
		for _, step := range Reduce(builtIn("udds"), box).motion.Steps {
			_ = binary.Write(hash, binary.LittleEndian, []float64{step.V, step.A, step.DT})
		}
	}
	const want = "e934f3537986dd73"
	if got := hex.EncodeToString(hash.Sum(nil)[:8]); got != want {
		t.Errorf("hash %s, want %s: lists have changed, and with them bits of results", got, want)
	}
}

// BenchmarkReduced times reduced schedules beside all steps of the same in the same run.
func BenchmarkReduced(b *testing.B) {
	const n = 512
	energy := make([]float64, n)
	for _, s := range schedule.All() {
		box := oneCar(0.05)
		car := drawn(box, n)
		r := Reduce(s, box)
		for _, f := range forms() {
			b.Run(fmt.Sprintf("form=%s/schedule=%s", f.name, s.Name), func(b *testing.B) {
				b.ReportAllocs()
				inForm(f, func() {
					var w Watch
					for b.Loop() {
						r.Total(energy, car, &w)
					}
					reduced, whole := timed(func() { r.Total(energy, car, &w) }), timed(func() { Total(energy, car, s) })
					scalar := timed(func() {
						for i := range energy {
							energy[i] = scalarRow(car, i, s.Steps())
						}
					})
					b.ReportMetric(float64(reduced.Nanoseconds())/n, "ns/row")
					b.ReportMetric(float64(whole)/float64(reduced), "x-all-steps")
					b.ReportMetric(float64(scalar)/float64(reduced), "x-reference")
				})
			})
		}
	}
}
