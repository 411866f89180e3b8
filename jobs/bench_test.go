package jobs_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/study"
	"proofmass/model/schedule"
	"proofmass/model/traction"
)

// BenchmarkRun times whole runs of the demo without indices, and in the same turn
// the energy-kernel calls that such a run makes: two cars, UDDS and HWFET. x-kernel
// is the quotient on one worker; rows/s counts draws of both cars.
func BenchmarkRun(b *testing.B) {
	const rows = 65_536
	path := withoutIndices(b, "heron.yaml")
	for b.Loop() {
		began := time.Now()
		o := jobs.Options{Out: filepath.Join(b.TempDir(), "result"), Workers: 1, Study: study.Options{Rows: rows}}
		if _, err := jobs.Run(context.Background(), path, o); err != nil {
			b.Fatal(err)
		}
		whole := time.Since(began)
		began = time.Now()
		kernelCalls(rows)
		b.ReportMetric(float64(whole)/float64(time.Since(began)), "x-kernel")
		b.ReportMetric(rows/whole.Seconds(), "rows/s")
	}
}

// withoutIndices copies a study and what it uses into a folder of its own.
func withoutIndices(tb testing.TB, name string) string {
	tb.Helper()
	folder := tb.TempDir()
	for _, file := range []string{name, "drum-cell.yaml"} {
		text, err := os.ReadFile(studies + file)
		if err != nil {
			tb.Fatal(err)
		}
		if file == name {
			text = append(text, "\nindices: none\n"...)
		}
		if err := os.WriteFile(filepath.Join(folder, file), text, 0o666); err != nil {
			tb.Fatal(err)
		}
	}
	return filepath.Join(folder, name)
}

// kernelCalls evaluates both schedules of two typical cars over that many rows.
func kernelCalls(rows int) {
	const block = 512
	car := typicalCar(block)
	energy := make([]float64, block)
	for _, name := range strings.Fields("udds hwfet") {
		s, _ := schedule.ByName(name)
		for range 2 * rows / block {
			traction.Total(energy, car, s)
		}
	}
}

func typicalCar(n int) *traction.Car {
	c := func(x float64) []float64 {
		column := make([]float64, n)
		for i := range column {
			column[i] = x * (1 + 1e-3*float64(i%17)) // rows differ, as draws do
		}
		return column
	}
	return &traction.Car{
		Mass: c(1630), RotatingShare: c(0.03), RollingForce: c(140), RollingSlope: c(0), SpeedTerm: c(0),
		AeroFactor: c(0.35), HeadWind: c(0), GradeForce: c(0), GearRatio: c(9), WheelRadius: c(0.33), GearEfficiency: c(0.96),
		TorqueLoss: c(0.05), SpinLoss: c(0.3), SpinCubicLoss: c(0), IdleLoss: c(200), RegenShare: c(0.9),
		RegenFadeLow: c(1), RegenFadeHigh: c(4), RegenPowerLimit: c(1e9), Auxiliaries: c(210), Voltage: c(349), Resistance: c(0.074),
	}
}
