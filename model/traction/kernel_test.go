package traction

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/model/schedule"
)

// between are the ends from which random and corner rows are drawn, in the order of Car's fields: wider than any car.
var between = [...][2]float64{
	{600, 5000}, {0, 0.1}, {0, 600}, {0, 3}, {0, 10}, {0, 1.2}, {-25, 25}, {-1500, 1500}, // mass to grade force
	{4, 14}, {0.25, 0.45}, {0.8, 1}, {0, 0.2}, {0, 3}, {0, 1e-5}, {0, 1000}, // gear ratio to idle loss
	{0, 1}, {0, 4}, {4, 10}, {0, 60000}, // recovery
	{0, 6000}, {200, 900}, {0, 0.6}, // auxiliaries, battery
}

// randomCar draws n rows: a third of them corners; power limits, wind, resistance and equal fade speeds in all their kinds.
func randomCar(r *rand.Rand, n int) *Car {
	car := new(Car)
	all := columns(car)
	for j, column := range all {
		*column = make([]float64, n)
		for i := range *column {
			u := r.Float64()
			if i%3 == 0 {
				u = float64(r.IntN(2))
			}
			(*column)[i] = between[j][0] + float64(u*(between[j][1]-between[j][0]))
		}
	}
	for i := range n {
		if r.IntN(2) == 0 {
			car.RegenPowerLimit[i] = math.Inf(1)
		}
		if r.IntN(2) == 0 {
			car.HeadWind[i] = 0
		}
		if r.IntN(4) == 0 {
			car.RegenFadeHigh[i] = car.RegenFadeLow[i]
		}
		switch r.IntN(4) {
		case 0:
			car.Resistance[i] = 0
		case 1:
			car.Resistance[i] = math.Pow(10, -12+11*r.Float64())
		}
	}
	return car
}

func totalOf(car *Car, n int, s *schedule.Schedule) []float64 {
	energy := make([]float64, n)
	Total(energy, car, s)
	return energy
}

// allSchedules are the built-in ones, a part that does not start at rest, a crawl, a steady speed and standing still.
func allSchedules() []*schedule.Schedule {
	udds := builtIn("udds")
	return append(schedule.All(), udds.Between(100, 400), schedule.Steady(0.01), schedule.Steady(30), schedule.Steady(0))
}

// TestTotalMeetsReference compares rows of every kind with the formula written down plainly. The draws are seeded, so the test cannot
// fail by chance.
func TestTotalMeetsReference(t *testing.T) {
	const n = 600
	car := randomCar(rand.New(rand.NewPCG(1, 2)), n)
	infeasible, general := 0, 0
	for _, s := range allSchedules() {
		for i, got := range totalOf(car, n, s) {
			want, gross := reference(car, i, s)
			if want != want {
				infeasible++
			}
			if c := loaded(car, i); !c.quick(s.Motion()) {
				general++
			}
			if (got != got) != (want != want) || math.Abs(got-want) > 1e-11*gross {
				t.Errorf("%s row %d: %.17g, want %.17g", s.Name, i, got, want)
			}
		}
	}
	if all := n * len(allSchedules()); infeasible < all/20 || infeasible > all/2 || general < all/10 || general > all*9/10 {
		t.Errorf("%d infeasible, %d by the general loop: the rows do not try everything", infeasible, general)
	}
}

// loaded is row i whether or not all of it is known.
func loaded(car *Car, i int) *row {
	c := new(row)
	c.load(car, i)
	return c
}

// TestTwoLoopsAgree runs rows that either loop can take through both.
func TestTwoLoopsAgree(t *testing.T) {
	const n = 200
	car := randomCar(rand.New(rand.NewPCG(3, 4)), n)
	for _, s := range schedule.All() {
		for i := range n {
			car.HeadWind[i] = math.Abs(car.HeadWind[i])
			car.Resistance[i] = max(car.Resistance[i], quickAbove*car.Voltage[i]*car.Voltage[i])
			c := loaded(car, i)
			_, gross := reference(car, i, s)
			if a, b := c.folded(s.Motion()), c.general(s.Motion()); math.Abs(a-b) > 1e-12*gross || (a != a) != (b != b) {
				t.Errorf("%s row %d: folded %.17g, general %.17g", s.Name, i, a, b)
			}
		}
	}
}

func TestSplitAddsUp(t *testing.T) {
	const n = 300
	car := randomCar(rand.New(rand.NewPCG(5, 6)), n)
	out, byName := sinkColumns(n)
	addends := []string{"Rolling", "SpeedTerm", "Aero", "Grade", "Kinetic", "FrictionBrakes", "Gear", "DriveUnit", "Auxiliaries", "Battery"}
	for _, s := range allSchedules() {
		Split(out, car, s)
		for i, want := range totalOf(car, n, s) {
			if want != want {
				for name, column := range byName {
					if column[i] == column[i] {
						t.Errorf("%s row %d: infeasible, but %s = %v", s.Name, i, name, column[i])
					}
				}
				continue
			}
			if math.Float64bits(out.Total[i]) != math.Float64bits(want) {
				t.Errorf("%s row %d: split has a total of %v, Total %v", s.Name, i, out.Total[i], want)
			}
			sum, gross := 0.0, out.PositiveWheel[i]+out.NegativeWheel[i]
			for _, name := range addends {
				sum += byName[name][i]
				gross += math.Abs(byName[name][i])
			}
			if math.Abs(sum-want) > 1e-12*gross {
				t.Errorf("%s row %d: sinks add up to %.17g, total %.17g", s.Name, i, sum, want)
			}
			if s.Speed[0] == 0 && math.Abs(out.Kinetic[i]) > 1e-12*gross {
				t.Errorf("%s row %d: kinetic %v J from rest to rest", s.Name, i, out.Kinetic[i])
			}
			checkIdentities(t, out, i, gross)
		}
	}
}

// checkIdentities holds what must be true of the sinks of any feasible row.
func checkIdentities(t *testing.T, out *Sinks, i int, gross float64) {
	t.Helper()
	road := out.Rolling[i] + out.SpeedTerm[i] + out.Aero[i] + out.Grade[i] + out.Kinetic[i]
	for name, gap := range map[string]float64{
		"work of the wheels": road - (out.PositiveWheel[i] - out.NegativeWheel[i]),
		"braking":            out.NegativeWheel[i] - out.RecoveredWheel[i] - out.FrictionBrakes[i],
		"terminal": out.Terminal[i] - (out.PositiveWheel[i] - out.RecoveredWheel[i] + out.Gear[i] + out.DriveUnit[i] +
			out.Auxiliaries[i]),
	} {
		if math.Abs(gap) > 1e-12*gross {
			t.Errorf("row %d: %s is open by %v J of %v", i, name, gap, gross)
		}
	}
	for name, x := range map[string]float64{"friction brakes": out.FrictionBrakes[i], "gear": out.Gear[i], "battery": out.Battery[i]} {
		if x < -1e-12*gross {
			t.Errorf("row %d: %s loses %v J", i, name, x)
		}
	}
}

func TestSplitFillsWhatIsWanted(t *testing.T) {
	const n = 5
	car := randomCar(rand.New(rand.NewPCG(7, 8)), n)
	s := builtIn("nycc")
	all, _ := sinkColumns(n)
	Split(all, car, s)
	only := Sinks{Battery: make([]float64, n)}
	Split(&only, car, s)
	for i := range n {
		if math.Float64bits(only.Battery[i]) != math.Float64bits(all.Battery[i]) {
			t.Errorf("row %d: battery alone %v, with the others %v", i, only.Battery[i], all.Battery[i])
		}
	}
	Split(&Sinks{}, car, s)
}

// TestCutInTwo cuts a schedule anywhere, also in motion.
func TestCutInTwo(t *testing.T) {
	const n = 30
	car := randomCar(rand.New(rand.NewPCG(9, 10)), n)
	for _, s := range schedule.All() {
		whole := totalOf(car, n, s)
		for _, k := range []int{1, 20, 137, len(s.Seconds) / 2, len(s.Seconds) - 2} {
			first, second := totalOf(car, n, s.Between(0, k)), totalOf(car, n, s.Between(k, len(s.Seconds)-1))
			for i := range n {
				_, gross := reference(car, i, s)
				sum := first[i] + second[i]
				if (sum != sum) != (whole[i] != whole[i]) || math.Abs(sum-whole[i]) > 1e-12*gross {
					t.Errorf("%s cut at %d, row %d: %.17g and %.17g, whole %.17g", s.Name, k, i, first[i], second[i], whole[i])
				}
			}
		}
	}
}

// TestRowStandsAlone: neither the block's length nor a row's place nor its neighbours change a bit of it.
func TestRowStandsAlone(t *testing.T) {
	const n = 64
	car := randomCar(rand.New(rand.NewPCG(11, 12)), n)
	s := builtIn("us06")
	want := totalOf(car, n, s)
	for _, length := range []int{1, 7, 64} {
		for from := 0; from < n; from += length {
			part := new(Car)
			to := min(from+length, n)
			for j, column := range columns(part) {
				for i := to - 1; i >= from; i-- { // backwards: places change as well
					*column = append(*column, (*columns(car)[j])[i])
				}
			}
			for k, got := range totalOf(part, to-from, s) {
				if i := to - 1 - k; math.Float64bits(got) != math.Float64bits(want[i]) {
					t.Errorf("row %d in a block of %d: %v, want %v", i, length, got, want[i])
				}
			}
		}
	}
}

// TestSameBitsEverywhere holds the bits of many energies to one hash, made on amd64 and met on arm64 (qemu-user).
func TestSameBitsEverywhere(t *testing.T) {
	const n = 400
	car := randomCar(rand.New(rand.NewPCG(13, 14)), n)
	for i := range n {
		car.Resistance[i] = []float64{0, 1e-9, 1e-3, 0.05, 0.1}[i%5] // not by math.Pow: its bits differ between machines
	}
	hash := sha256.New()
	out, _ := sinkColumns(n)
	for _, s := range schedule.All() {
		Split(out, car, s)
		for _, column := range append([][]float64{totalOf(car, n, s)}, sinksOf(out)...) {
			for _, x := range column {
				if x != x {
					x = math.Inf(1)
				}
				hash.Write(binary.LittleEndian.AppendUint64(nil, math.Float64bits(x)))
			}
		}
	}
	const want = "52c4648033c68bd6"
	if got := hex.EncodeToString(hash.Sum(nil)[:8]); got != want {
		t.Errorf("hash %s, want %s: the bits of results have changed", got, want)
	}
}

func sinksOf(out *Sinks) [][]float64 {
	columns := out.columns()
	return columns[:]
}
