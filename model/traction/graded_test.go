package traction

import (
	"math"
	"testing"

	"proofmass/model/schedule"
)

// onHills is a drive over rising and falling road, speeds and grades made up.
func onHills(t *testing.T, grade func(i int) float64) *schedule.Schedule {
	t.Helper()
	const n = 240
	seconds, speed, rise := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		seconds[i], rise[i] = 0.5*float64(i), grade(i)
		if i > 3 && i < n-4 {
			ends := math.Min(1, 0.04*math.Min(float64(i-3), float64(n-4-i)))
			speed[i] = ends * (14 + 6*math.Sin(0.05*float64(i)) + math.Sin(0.21*float64(i)))
		}
	}
	level, err := schedule.New("hills", seconds, speed)
	if err != nil {
		t.Fatal(err)
	}
	graded, err := level.WithGrade(rise)
	if err != nil {
		t.Fatal(err)
	}
	return graded
}

// TestSteadyGrade: a grade that is the same at every sample is the road's slope, whose weight
// and rolling resistance the car's own columns have; first principles.
func TestSteadyGrade(t *testing.T) {
	for _, rise := range []float64{0, 0.06, -0.045} {
		s := onHills(t, func(int) float64 { return rise })
		level, err := schedule.New("level", s.Seconds, s.Speed)
		if err != nil {
			t.Fatal(err)
		}
		angle := math.Atan(rise)
		car, sloped := drawn(oneCar(0.03), 40), drawn(oneCar(0.03), 40)
		for i := range sloped.Mass {
			sloped.GradeForce[i] = sloped.Mass[i] * 9.80665 * math.Sin(angle)
			sloped.RollingForce[i] *= math.Cos(angle)
			sloped.RollingSlope[i] *= math.Cos(angle)
		}
		got, want := totalOf(car, 40, s), totalOf(sloped, 40, level)
		for i := range got {
			if !(math.Abs(got[i]-want[i]) <= 1e-11*math.Abs(want[i])) {
				t.Fatalf("grade %g, row %d: %.15g J, want %.15g", rise, i, got[i], want[i])
			}
		}
		holds(t, "climb", s.Climb()+1, math.Sin(angle)*s.Distance()+1, 1e-12)
	}
}

// TestHills: each step by the equations of the package comment, with the slope of that step,
// and the split adds up.
func TestHills(t *testing.T) {
	s := onHills(t, func(i int) float64 { return 0.08 * math.Sin(0.04*float64(i)) })
	car := drawn(oneCar(0.05), 60)
	got := totalOf(car, 60, s)
	var out Sinks
	columns := make([][]float64, 11)
	for j := range columns {
		columns[j] = make([]float64, 60)
	}
	out.Rolling, out.SpeedTerm, out.Aero, out.Grade, out.Kinetic, out.FrictionBrakes, out.Gear, out.DriveUnit, out.Auxiliaries, out.Battery, out.Total =
		columns[0], columns[1], columns[2], columns[3], columns[4], columns[5], columns[6], columns[7], columns[8], columns[9], columns[10]
	Split(&out, car, s)
	for i := range got {
		want, gross := 0.0, 0.0
		for k, step := range s.Steps() {
			angle := math.Atan(0.5 * (s.Grade[k] + s.Grade[k+1]))
			here := new(Car)
			from, to := car.columns(), newCar(1)
			*here = *to
			for j, column := range here.columns() {
				column[0] = from[j][i]
			}
			here.GradeForce[0] += here.Mass[0] * 9.80665 * math.Sin(angle)
			here.RollingForce[0] *= math.Cos(angle)
			here.RollingSlope[0] *= math.Cos(angle)
			e := referencePower(here, 0, step) * step.DT
			want, gross = want+e, gross+math.Abs(e)
		}
		sum := 0.0
		for _, column := range columns[:10] {
			sum += column[i]
		}
		if !(math.Abs(got[i]-want) <= 1e-11*gross) || out.Total[i] != got[i] || !(math.Abs(sum-got[i]) <= 1e-10*gross) {
			t.Fatalf("row %d: %.15g J, want %.15g; split %.15g", i, got[i], want, sum)
		}
	}
}
