package formula

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// Each case is an expression and the same written by hand in Go, a plain loop
// over rows that does not ask what is feasible.
var byHand = []struct {
	name, text string
	hand       func(out []float64, in [][]float64)
}{
	{"saving", "(a.kerb_mass - b.kerb_mass) / b.cell_count * 1.5 + sqrt(x)", func(out []float64, in [][]float64) {
		a, b, n, x := in[0][:len(out)], in[1][:len(out)], in[2][:len(out)], in[3][:len(out)]
		for i := range out {
			out[i] = float64((a[i]-b[i])/n[i]*1.5) + math.Sqrt(x[i])
		}
	}},
	{"sum", "p + q - 2 * r", func(out []float64, in [][]float64) {
		p, q, r := in[0][:len(out)], in[1][:len(out)], in[2][:len(out)]
		for i := range out {
			out[i] = p[i] + q[i] - float64(2*r[i])
		}
	}},
	{"condition", "p >= 0.5 * q and r < 1", func(out []float64, in [][]float64) {
		p, q, r := in[0][:len(out)], in[1][:len(out)], in[2][:len(out)]
		for i := range out {
			holds := 0.0
			if p[i] >= 0.5*q[i] && r[i] < 1 {
				holds = 1
			}
			out[i] = holds
		}
	}},
	{"choice", "if(p > q, p^2, max(q, r) / 3)", func(out []float64, in [][]float64) {
		p, q, r := in[0][:len(out)], in[1][:len(out)], in[2][:len(out)]
		for i := range out {
			if p[i] > q[i] {
				out[i] = p[i] * p[i]
			} else {
				out[i] = max(q[i], r[i]) / 3
			}
		}
	}},
}

// randomBlocks makes blocks of columns, so many that the processor can't learn
// the branches of the loop by hand by heart, as it does with 16 blocks: draws
// are met once.
func randomBlocks(columns, rows int) [][][]float64 {
	r := rand.New(rand.NewPCG(1, 2))
	blocks := make([][][]float64, 96)
	for k := range blocks {
		blocks[k] = make([][]float64, columns)
		for j := range blocks[k] {
			blocks[k][j] = make([]float64, rows)
			for i := range blocks[k][j] {
				blocks[k][j][i] = r.Float64() + 0.25
			}
		}
	}
	return blocks
}

// BenchmarkEval reports the time of an expression over that of the loop by
// hand, on blocks of 1024 rows: the two take turns in one run, and the best
// turn of each counts, for a busy machine slows some turns of either.
func BenchmarkEval(b *testing.B) {
	const rows = 1024
	for _, c := range byHand {
		b.Run(fmt.Sprintf("formula=%s", c.name), func(b *testing.B) {
			e, err := Parse(c.text)
			if err != nil {
				b.Fatal(err)
			}
			blocks := randomBlocks(len(e.Names()), rows)
			code, out := e.Program(), make([]float64, rows)
			formula, hand := time.Hour, time.Hour
			for b.Loop() {
				start := time.Now()
				for _, in := range blocks {
					code.Eval(out, in)
				}
				middle := time.Now()
				for _, in := range blocks {
					c.hand(out, in)
				}
				end := time.Now()
				formula, hand = min(formula, middle.Sub(start)), min(hand, end.Sub(middle))
			}
			b.ReportMetric(float64(formula)/float64(hand), "x-by-hand")
			b.ReportMetric(float64(formula.Nanoseconds())/float64(len(blocks)*rows), "ns/row")
		})
	}
}
