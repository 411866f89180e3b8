package jobs_test

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/model/schedule"
	"proofmass/model/traction"
	"proofmass/sensitivity"
)

// BenchmarkRun takes the processor time of whole runs of the demo without indices, and in the
// same turn that of the energy-kernel calls over all steps that such a run makes: two cars,
// UDDS and HWFET. x-kernel is the quotient; rows/s counts draws of both cars a second of
// processor time. Rows: PROOFMASS_BENCH_ROWS.
func BenchmarkRun(b *testing.B) {
	rows := 65_536
	if n, err := strconv.Atoi(os.Getenv("PROOFMASS_BENCH_ROWS")); err == nil && n > 0 {
		rows = n
	}
	for _, steps := range []string{"reduced", "all"} {
		b.Run("steps="+steps, func(b *testing.B) {
			path := withoutIndices(b, "heron.yaml", steps == "all")
			for b.Loop() {
				began := processorTime()
				o := jobs.Options{Out: filepath.Join(b.TempDir(), "result"), Study: study.Options{Rows: rows}}
				if _, err := jobs.Run(context.Background(), path, o); err != nil {
					b.Fatal(err)
				}
				whole := processorTime() - began
				began = processorTime()
				kernelCalls(rows)
				b.ReportMetric(float64(whole)/float64(processorTime()-began), "x-kernel")
				b.ReportMetric(float64(rows)/whole.Seconds(), "rows/s")
			}
		})
	}
}

// withoutIndices copies a study and what it uses into a folder of its own.
func withoutIndices(tb testing.TB, name string, exact bool) string {
	tb.Helper()
	folder := tb.TempDir()
	for _, file := range []string{name, "drum-cell.yaml"} {
		text, err := os.ReadFile(studies + file)
		if err != nil {
			tb.Fatal(err)
		}
		if file == name {
			text = append(text, "\nindices: none\n"...)
			if exact {
				text = append(text, "exact: yes\n"...)
			}
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

// BenchmarkEstimators times a whole run of the demo on one worker, and then what its
// estimators of sensitivity take: those from the sample's own rows (given), and the sums of
// swapped rows (swaps), of as many columns as the run had. The metrics are their
// shares of the run in per cent.
func BenchmarkEstimators(b *testing.B) {
	s, err := study.Read(studies+"heron.yaml", study.Options{})
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.New(s)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		out := filepath.Join(b.TempDir(), "result")
		began := time.Now()
		if _, err := jobs.Run(context.Background(), studies+"heron.yaml", jobs.Options{Out: out, Workers: 1}); err != nil {
			b.Fatal(err)
		}
		whole := time.Since(began).Seconds()
		given, reading := givenAgain(b, p, out)
		b.ReportMetric(100*(given-reading)/whole, "%given")
		b.ReportMetric(100*reading/whole, "%reading")
		b.ReportMetric(100*swapsAgain(p)/whole, "%swaps")
	}
}

// givenAgain takes the seconds of what is told from the rows of a finished run, and
// those of them that it takes to read each column once.
func givenAgain(b *testing.B, p *plan.Plan, out string) (all, reading float64) {
	a := &analyse.Analyst{Plan: p, Workers: 1}
	var paths []string
	for _, slice := range p.Sample.Slices {
		paths = append(paths, filepath.Join(out, result.SliceName(result.SampleKind, 0, slice.Number)))
	}
	first, err := p.Next(&plan.Joined{})
	if err != nil {
		b.Fatal(err)
	}
	a.Begin(first, p.Sample, func(s plan.Slice) string { return paths[s.Number] })
	began := time.Now()
	slices, err := result.OpenSlices(paths)
	if err != nil {
		b.Fatal(err)
	}
	var buffer []float64
	for _, s := range p.StoredInputs() {
		if buffer, err = slices.Read(s.Stored, buffer[:0]); err != nil {
			b.Fatal(err)
		}
	}
	reading = time.Since(began).Seconds()
	began = time.Now()
	g, err := a.GivenData()
	if err != nil {
		b.Fatal(err)
	}
	if err := g.Regress(a.NewIndices()); err != nil {
		b.Fatal(err)
	}
	return time.Since(began).Seconds(), reading
}

// swapsAgain takes the seconds of the sums of two rounds of swapped rows.
func swapsAgain(p *plan.Plan) float64 {
	const block = 512
	random := rand.New(rand.NewPCG(1, 1))
	columns := make([][]float64, 4)
	for k := range columns {
		columns[k] = make([]float64, block)
		for i := range columns[k] {
			columns[k][i] = random.NormFloat64()
		}
	}
	sums := sensitivity.NewPickFreeze(len(p.Index.Swaps), len(p.Index.Targets)).NewSums()
	began := time.Now()
	for range p.Index.FirstRounds() * p.Index.Rows / block {
		for t, target := range p.Index.Targets {
			sums.AddBase(t, columns[0], columns[1])
			for i, swap := range p.Index.Swaps {
				if p.Reaches(swap.Factor, target.Output) {
					sums.AddSwapped(i, t, columns[0], columns[1], columns[2], columns[3])
				}
			}
		}
	}
	return time.Since(began).Seconds()
}
