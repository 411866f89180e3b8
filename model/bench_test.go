package model

import (
	"math"
	"testing"
	"time"
)

// BenchmarkBounds times a column held to bounds and, in the same turn, one that is
// only looked through for what is no finite number: x-finite is the quotient.
func BenchmarkBounds(b *testing.B) {
	x := make([]float64, 512)
	for i := range x {
		x[i] = float64(i + 1)
	}
	bounds, sum, other := Quantity{Low: 0, High: math.Inf(1), LowOpen: true}.Bounds(), time.Duration(0), time.Duration(0)
	for b.Loop() {
		began := time.Now()
		for range 1000 {
			bounds.keep(x)
		}
		sum += time.Since(began)
		began = time.Now()
		for range 1000 {
			for i, v := range x {
				if !(math.Abs(v) <= math.MaxFloat64) {
					x[i] = math.NaN()
				}
			}
		}
		other += time.Since(began)
	}
	b.ReportMetric(float64(sum)/float64(other), "x-finite")
}
