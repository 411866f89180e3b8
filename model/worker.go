package model

import "math"

// A Worker holds the columns of one block of rows and evaluates a Program over
// them. It allocates nothing a row and serves one goroutine.
type Worker struct {
	p           *Program
	eval        []Eval      // of each node
	base        [][]float64 // every column of the program
	over        [][]float64 // the same after a swap; nil until first needed
	in, out     [][]float64 // argument lists, reused
	swapped     []int       // the inputs of the last swap
	touched     []bool      // columns that the last swap changed
	touchedNode []bool
}

// NewWorker makes a worker for blocks of at most rows rows and evaluates the
// constants.
func (p *Program) NewWorker(rows int) *Worker {
	w := &Worker{p: p, base: columns(p.columns, rows), over: make([][]float64, p.columns),
		touched: make([]bool, p.columns), touchedNode: make([]bool, len(p.nodes)), eval: make([]Eval, len(p.nodes))}
	for k := range p.nodes {
		if w.eval[k] = p.nodes[k].eval; p.nodes[k].start != nil {
			w.eval[k] = p.nodes[k].start(p.saving)
		}
		if p.nodes[k].constant {
			w.evaluate(k, 1, false)
			for _, c := range p.nodes[k].out {
				fill(w.base[c], w.base[c][0])
			}
		}
	}
	return w
}

// Input is the column of the input, to be filled before Run.
func (w *Worker) Input(input int) []float64 { return w.base[input] }

// Output is the column of the output after Run.
func (w *Worker) Output(output int) []float64 { return w.base[w.p.output[output]] }

// Run evaluates the first n rows.
func (w *Worker) Run(n int) {
	for k := range w.p.nodes {
		if !w.p.nodes[k].constant {
			w.evaluate(k, n, false)
		}
	}
}

// RunSwapped evaluates the first n rows with the given inputs' columns in place
// of those of the last Run. Only what these inputs reach is evaluated again. The
// values are read until the next call and never changed.
func (w *Worker) RunSwapped(inputs []int, values [][]float64, n int) {
	for _, input := range w.swapped {
		w.over[input] = nil // the caller's column, not ours to write into
	}
	w.swapped = append(w.swapped[:0], inputs...)
	clear(w.touched)
	clear(w.touchedNode)
	for i, input := range inputs {
		r := &w.p.reach[input]
		for k := range w.p.nodes {
			w.touchedNode[k] = w.touchedNode[k] || r.nodes[k]
		}
		for c := range w.touched {
			w.touched[c] = w.touched[c] || r.columns[c]
		}
		w.over[input] = values[i]
	}
	for k := range w.p.nodes {
		if w.touchedNode[k] {
			w.ownColumns(k)
			w.evaluate(k, n, true)
		}
	}
}

// SwappedOutput is the column of the output after RunSwapped; it is the base
// output itself where the swapped inputs do not reach.
func (w *Worker) SwappedOutput(output int) []float64 {
	c := w.p.output[output]
	if w.touched[c] {
		return w.over[c]
	}
	return w.base[c]
}

func (w *Worker) ownColumns(k int) {
	for _, c := range w.p.nodes[k].out {
		if w.over[c] == nil {
			w.over[c] = make([]float64, len(w.base[c]))
		}
	}
}

// evaluate runs node k over the first n rows: of the base columns or, after a
// swap, of those that the swap has touched.
func (w *Worker) evaluate(k, n int, swapped bool) {
	node, to := &w.p.nodes[k], w.base
	if swapped {
		to = w.over
	}
	w.in, w.out = w.in[:0], w.out[:0]
	for _, c := range node.in {
		from := w.base[c]
		if swapped && w.touched[c] {
			from = w.over[c]
		}
		w.in = append(w.in, from[:n])
	}
	for _, c := range node.out {
		w.out = append(w.out, to[c][:n])
	}
	w.eval[k](w.out, w.in)
	if !node.keepsInfs {
		for i, column := range w.out {
			node.bounds[i].keep(column)
		}
	}
}

// keep turns every value that is no number within the bounds into the one NaN, so
// that infeasible rows have equal bits on every machine.
func (b Bounds) keep(x []float64) {
	low, high := b.Low, b.High
	for i, v := range x {
		if !(v >= low && v <= high) {
			x[i] = math.NaN()
		}
	}
}

func columns(count, rows int) [][]float64 {
	all := make([]float64, count*rows)
	c := make([][]float64, count)
	for i := range c {
		c[i] = all[i*rows : (i+1)*rows : (i+1)*rows]
	}
	return c
}

func fill(x []float64, v float64) {
	for i := range x {
		x[i] = v
	}
}
