package traction

import (
	"fmt"
	"testing"
	"time"

	"proofmass/model/schedule"
)

// benchmarkRows fills a block with variants of a plain car, none of them infeasible.
func benchmarkRows(n int) *Car {
	car := new(Car)
	typical := [...]float64{2010, 0.03, 167, 0.5, 0, 0.365, 0, 0, 8.7, 0.337, 0.97, 0.034, 0.6, 2e-7, 270, 0.91, 1, 4, 60e3, 190, 346, 0.054}
	for j, column := range columns(car) {
		for i := range n {
			*column = append(*column, typical[j]*(1+0.05*float64((i*(2*j+3))%n)/float64(n)))
		}
	}
	return car
}

// timed returns the least time that f takes in a fifth of a second, or ten runs: what else the machine does only adds to it.
func timed(f func()) time.Duration {
	least, began := time.Hour, time.Now()
	for runs := 0; runs < 10 || time.Since(began) < time.Second/5; runs++ {
		start := time.Now()
		f()
		least = min(least, time.Since(start))
	}
	return least
}

// BenchmarkTotal times each form of the kernel that the processor has beside a plain loop over the same rows in the same run: x-reference is
// how many times faster it is than scalarRow, x-written-out than the formula of the package comment; ns/row-step counts moving seconds.
func BenchmarkTotal(b *testing.B) {
	const n = 512
	car := benchmarkRows(n)
	energy := make([]float64, n)
	for _, s := range schedule.All() {
		moving := 0.0
		for _, step := range s.Motion().Steps {
			moving += step.DT
		}
		for _, f := range forms() {
			b.Run(fmt.Sprintf("form=%s/schedule=%s", f.name, s.Name), func(b *testing.B) {
				b.ReportAllocs()
				inForm(f, func() {
					for b.Loop() {
						Total(energy, car, s)
					}
					kernel := timed(func() { Total(energy, car, s) })
					scalar := timed(func() {
						for i := range energy {
							energy[i] = scalarRow(car, i, s.Steps())
						}
					})
					written := timed(func() {
						for i := range energy {
							energy[i], _ = reference(car, i, s)
						}
					})
					b.ReportMetric(float64(kernel.Nanoseconds())/(n*moving), "ns/row-step")
					b.ReportMetric(float64(scalar)/float64(kernel), "x-reference")
					b.ReportMetric(float64(written)/float64(kernel), "x-written-out")
				})
			})
		}
	}
}

// BenchmarkSplit times the sinks against the total alone.
func BenchmarkSplit(b *testing.B) {
	const n = 512
	car := benchmarkRows(n)
	s := builtIn("udds")
	energy := make([]float64, n)
	out, _ := sinkColumns(n)
	for _, f := range forms() {
		b.Run("form="+f.name, func(b *testing.B) {
			inForm(f, func() {
				b.ReportAllocs()
				for b.Loop() {
					Split(out, car, s)
				}
				b.ReportMetric(float64(timed(func() { Split(out, car, s) }))/float64(timed(func() { Total(energy, car, s) })), "x-total")
			})
		})
	}
}
