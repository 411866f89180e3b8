package formula

import "math"

// blockRows is how many rows go through all steps before the next: a handful
// of columns of 4 kB stay in the first cache.
const blockRows = 512

// A Code is a compiled expression with its temporaries. One goroutine at a
// time may use it; others take a Clone.
type Code struct {
	steps    []step
	inputs   int       // registers 0 to inputs-1
	fill     []float64 // what each further register starts with
	constant []bool    // whether it keeps that
	result   int       // the last register
	memory   [][]float64
	columns  [][]float64 // registers of the block at work
}

// Clone returns a Code with temporaries of its own.
func (c *Code) Clone() *Code {
	clone := &Code{steps: c.steps, inputs: c.inputs, fill: c.fill, constant: c.constant, result: c.result}
	clone.allocate()
	return clone
}

func (c *Code) allocate() {
	all := make([]float64, len(c.fill)*blockRows)
	c.memory = make([][]float64, len(c.fill))
	for i, x := range c.fill {
		c.memory[i], all = all[:blockRows:blockRows], all[blockRows:]
		for j := range c.memory[i] {
			c.memory[i][j] = x
		}
	}
	c.columns = make([][]float64, c.result+1)
}

// Eval computes out from in, both in SI: in[i] is the column of Names()[i] and
// has as many rows as out. Conditions give 1 and 0, infeasible rows the one
// NaN of math.NaN. out may be one of in. Nothing is allocated.
func (c *Code) Eval(out []float64, in [][]float64) {
	for from := 0; from < len(out); from += blockRows {
		to := min(from+blockRows, len(out))
		for i := range c.inputs {
			c.columns[i] = in[i][from:to]
		}
		for i, m := range c.memory {
			c.columns[c.inputs+i] = m[:to-from]
		}
		c.columns[c.result] = out[from:to]
		c.block()
	}
}

func (c *Code) block() {
	for i := range c.steps {
		s := &c.steps[i]
		s.run(c.columns[s.out], c.column(s.a), c.column(s.b), c.column(s.c), *s)
	}
	seal(c.columns[c.result])
}

func (c *Code) column(register int) []float64 {
	if register == none {
		return nil
	}
	return c.columns[register]
}

// seal makes every value that is not finite the one NaN. Until then infinities
// travel: a kernel that would make something finite of one refuses it itself.
func seal(out []float64) {
	if allFinite(out) {
		return
	}
	nan := math.NaN()
	for i, x := range out {
		if x-x != 0 {
			out[i] = nan
		}
	}
}

// allFinite adds up x*0, in four sums so that none waits for the last.
func allFinite(x []float64) bool {
	var a, b, c, d float64
	for ; len(x) >= 4; x = x[4:] {
		a += float64(x[0] * 0)
		b += float64(x[1] * 0)
		c += float64(x[2] * 0)
		d += float64(x[3] * 0)
	}
	for _, rest := range x {
		a += float64(rest * 0)
	}
	return a+b+c+d == 0
}
