package jobs

import (
	"math"
	"path/filepath"
	"testing"
	"time"
)

// The time left is that of the work of each class at its own speed; a class that has none
// yet is thought as slow as others of the kind.
func TestPaceGoesByClass(t *testing.T) {
	at := time.Unix(1000, 0)
	p := pacer{slowness: &ofVehicles}
	p.turn("sample", at)
	p.done[drawing] = 500
	all := [classes]int{drawing: 1000, swapping: 10_000, summing: 2000}
	got := p.pace(all, at.Add(time.Second))
	if want := 1 + 2e-3*(0.13*10_000+0.14*2000); math.Abs(got.Left.Seconds()-want) > 1e-6 || got.Doing != "sample" {
		t.Errorf("half of the sample in one second: %+v, want %v s left", got, want)
	}
	p.done[drawing] = 1000
	p.turn("index", at.Add(2*time.Second))
	p.done[swapping] = 2500
	got = p.pace(all, at.Add(7*time.Second))
	own := (5 + 2e-3*0.13*1000) / (2500 + 1000) // its thought speed weighs as much as a tenth of it
	if want := own*7500 + 2e-3*0.14*2000; math.Abs(got.Left.Seconds()-want) > 1e-6 || got.Elapsed != 7*time.Second {
		t.Errorf("a quarter of the swapped runs in five seconds: %+v, want %v s left", got, want)
	}
	p.done[swapping], p.done[summing] = 10_000, 2000
	if got = p.pace(all, at.Add(30*time.Second)); got.Left != 0 || got.Share() != 1 {
		t.Errorf("at the end: %+v", got)
	}
}

// BenchmarkTimeLeft tells by how many per cent of the time of a run the time left was wrong
// at worst, and half of the times, once a tenth of the run was over.
func BenchmarkTimeLeft(b *testing.B) {
	for name, rows := range map[string]int{"heron": 400_000, "certified-car": 400_000, "product": 4_000_000} {
		b.Run(name, func(b *testing.B) {
			for range b.N {
				var told []Pace
				o := Options{Out: filepath.Join(b.TempDir(), "out"), Pace: func(p Pace) { told = append(told, p) }}
				o.Study.Rows = rows
				began := time.Now()
				if _, err := Run(b.Context(), "../testdata/studies/"+name+".yaml", o); err != nil {
					b.Fatal(err)
				}
				whole := time.Since(began)
				worst, sum, n := 0.0, 0.0, 0
				for _, p := range told {
					if p.Elapsed < whole/10 {
						continue
					}
					off := math.Abs((p.Elapsed + p.Left - whole).Seconds()) / whole.Seconds()
					worst, sum, n = max(worst, off), sum+off, n+1
				}
				b.ReportMetric(100*worst, "%worst")
				b.ReportMetric(100*sum/float64(n), "%mean")
			}
		})
	}
}
