package traction

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/model/schedule"
)

// inForm runs f with the quick loop in the given form.
func inForm(f form, do func()) {
	before := chosen
	defer func() { chosen = before }()
	chosen = f
	do()
}

// everything is Total and each of Split's columns, one behind the other.
func everything(car *Car, n int, s *schedule.Schedule) []float64 {
	out, _ := sinkColumns(n)
	Split(out, car, s)
	all := totalOf(car, n, s)
	for _, column := range sinksOf(out) {
		all = append(all, column...)
	}
	return all
}

func sameBits(t *testing.T, car *Car, n int, s *schedule.Schedule) {
	t.Helper()
	var want []float64
	inForm(plain, func() { want = everything(car, n, s) })
	for _, f := range forms() {
		var got []float64
		inForm(f, func() { got = everything(car, n, s) })
		for i := range want {
			if math.Float64bits(got[i]) != math.Float64bits(want[i]) {
				t.Fatalf("%s, %s, block of %d: column %d row %d is %v (%x), plain Go gives %v (%x)",
					f.name, s.Name, n, i/n, i%n, got[i], math.Float64bits(got[i]), want[i], math.Float64bits(want[i]))
			}
		}
	}
}

// quickRows makes most rows of a car right for the quick loop.
func quickRows(r *rand.Rand, car *Car) {
	for i := range car.Resistance {
		if r.IntN(8) > 0 {
			car.Resistance[i] = car.Voltage[i] * car.Voltage[i] * math.Pow(10, -7+2*r.Float64())
			car.HeadWind[i] = math.Abs(car.HeadWind[i])
		}
	}
}

// TestFormsGiveTheSameBits: random rows, corners and infeasible ones, in blocks that fill
// groups, leave a rest and are smaller than a group.
func TestFormsGiveTheSameBits(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for _, s := range allSchedules() {
		for _, n := range []int{1, 2, 3, 7, 8, 9, 16, 17, 100} {
			car := randomCar(r, n)
			quickRows(r, car)
			sameBits(t, car, n, s)
		}
	}
}

// TestFormsWithOddNumbers: the same with infinities, zeros of both signs and numbers at
// the ends of the range thrown in, and recovery that fades in nowhere or everywhere.
func TestFormsWithOddNumbers(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), math.MaxFloat64, -math.MaxFloat64,
		math.SmallestNonzeroFloat64, -1, 1}
	r := rand.New(rand.NewPCG(23, 24))
	const n = 64
	for _, s := range []*schedule.Schedule{builtIn("nycc"), builtIn("wltc"), schedule.Steady(20)} {
		for range 40 {
			car := randomCar(r, n)
			quickRows(r, car)
			for i := range n {
				for range 1 + r.IntN(3) {
					(*columns(car)[r.IntN(len(between))])[i] = odd[r.IntN(len(odd))]
				}
			}
			sameBits(t, car, n, s)
		}
	}
}

// TestQuickLoopIsTaken: the test of the forms would hold for a loop that no row reaches.
func TestQuickLoopIsTaken(t *testing.T) {
	const n = 400
	r := rand.New(rand.NewPCG(25, 26))
	car := randomCar(r, n)
	quickRows(r, car)
	quick, feasible := 0, 0
	m := builtIn("udds").Motion()
	for i := range n {
		if c := new(row); c.load(car, i) && c.quick(m) {
			quick++
			if isFinite(c.folded(m)) {
				feasible++
			}
		}
	}
	if quick < n/2 || feasible < n/4 || feasible == quick {
		t.Errorf("of %d rows %d take the quick loop and %d of these are feasible: too few, or none infeasible", n, quick, feasible)
	}
}

// FuzzForms: any bytes as the numbers of nine cars.
func FuzzForms(f *testing.F) {
	f.Add([]byte("any bytes at all make up the numbers of a few cars"), uint8(0))
	s := builtIn("sc03")
	f.Fuzz(func(t *testing.T, bytes []byte, spoil uint8) {
		const n = 9
		r := rand.New(rand.NewPCG(27, uint64(spoil)))
		car := randomCar(r, n)
		quickRows(r, car)
		all := columns(car)
		for k := 0; k+9 <= len(bytes); k += 9 {
			at := int(bytes[k])
			(*all[at%len(all)])[at%n] = math.Float64frombits(binary.LittleEndian.Uint64(bytes[k+1:]))
		}
		sameBits(t, car, n, s)
	})
}
