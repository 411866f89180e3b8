package model

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// rules is a toy graph: c = a + b, d = 2 c, e = b k, with k a constant.
func rules(name string) (Rule, error) {
	sum := func(f func(x, y float64) float64) func(out, in [][]float64) {
		return func(out, in [][]float64) {
			for i := range out[0] {
				out[0][i] = f(in[0][i], in[1][i])
			}
		}
	}
	switch name {
	case "a", "b":
		return Sampled(name), nil
	case "k":
		return Constant("k", 3), nil
	case "limit":
		return Constant("limit", math.Inf(1)), nil
	case "c":
		return Rule{Out: []string{"c"}, Needs: []string{"a", "b"}, Eval: sum(func(x, y float64) float64 { return x + y })}, nil
	case "d":
		return Rule{Out: []string{"d"}, Needs: []string{"c", "c"}, Eval: sum(func(x, y float64) float64 { return x + y })}, nil
	case "e":
		return Rule{Out: []string{"e"}, Needs: []string{"b", "k"}, Eval: sum(func(x, y float64) float64 { return x * y })}, nil
	case "k2":
		return Rule{Out: []string{"k2"}, Needs: []string{"k", "k"}, Eval: sum(func(x, y float64) float64 { return x * y })}, nil
	case "within":
		return Rule{Out: []string{"within"}, Needs: []string{"b", "limit"}, Eval: sum(math.Min)}, nil
	case "bad":
		return Rule{Out: []string{"bad"}, Needs: []string{"a", "b"}, Eval: sum(func(x, y float64) float64 { return x / y })}, nil
	case "loop":
		return Rule{Out: []string{"loop"}, Needs: []string{"pool"}, Eval: sum(math.Max)}, nil
	case "pool":
		return Rule{Out: []string{"pool"}, Needs: []string{"loop"}, Eval: sum(math.Max)}, nil
	}
	return Rule{}, fmt.Errorf("%s is not known", name)
}

func TestProgramEvaluatesWhatIsWanted(t *testing.T) {
	p, err := Compile([]string{"d", "e", "k2", "within", "b"}, rules)
	if err != nil {
		t.Fatal(err)
	}
	w := p.NewWorker(4)
	for i, name := range p.Inputs() {
		copy(w.Input(i), map[string][]float64{"a": {1, 2, 3, 4}, "b": {10, 20, 30, 40}}[name])
	}
	w.Run(4)
	for j, want := range [][]float64{{22, 44, 66, 88}, {30, 60, 90, 120}, {9, 9, 9, 9}, {10, 20, 30, 40}, {10, 20, 30, 40}} {
		if got := fmt.Sprint(w.Output(j)); got != fmt.Sprint(want) {
			t.Errorf("%s = %s, want %v", p.Outputs()[j], got, want)
		}
	}
}

func TestSwapEvaluatesOnlyWhatItReaches(t *testing.T) {
	calls := map[string]int{}
	counted := func(name string) (Rule, error) {
		r, err := rules(name)
		if eval := r.Eval; eval != nil {
			r.Eval = func(out, in [][]float64) { calls[name]++; eval(out, in) }
		}
		return r, err
	}
	p, err := Compile([]string{"d", "e", "a"}, counted)
	if err != nil {
		t.Fatal(err)
	}
	w := p.NewWorker(2)
	copy(w.Input(0), []float64{1, 2}) // a is met first
	copy(w.Input(1), []float64{10, 20})
	w.Run(2)
	clear(calls)
	for range 2 { // twice: a swap leaves nothing behind
		w.RunSwapped([]int{0}, [][]float64{{5, 6}}, 2)
		if got := fmt.Sprint(w.SwappedOutput(0), w.SwappedOutput(1), w.SwappedOutput(2)); got != "[30 52] [30 60] [5 6]" {
			t.Errorf("after swapping a: %s, want [30 52] [30 60] [5 6]", got)
		}
	}
	if calls["c"] != 2 || calls["d"] != 2 || calls["e"] != 0 || calls["k"] != 0 {
		t.Errorf("calls %v, want c and d twice, e and k never", calls)
	}
	w.RunSwapped([]int{1}, [][]float64{{0, 0}}, 2)
	if got := fmt.Sprint(w.SwappedOutput(0), w.SwappedOutput(1), w.SwappedOutput(2), w.Output(0)); got != "[2 4] [0 0] [1 2] [22 44]" {
		t.Errorf("after swapping b: %s, want [2 4] [0 0] [1 2] and the base untouched [22 44]", got)
	}
	for _, want := range []struct {
		input, output int
		reaches       bool
	}{{0, 0, true}, {0, 1, false}, {0, 2, true}, {1, 0, true}, {1, 1, true}, {1, 2, false}} {
		if p.Reaches(want.input, want.output) != want.reaches {
			t.Errorf("Reaches(%d, %d) = %t", want.input, want.output, !want.reaches)
		}
	}
}

func TestInfeasibleIsOneNaN(t *testing.T) {
	p, err := Compile([]string{"bad"}, rules)
	if err != nil {
		t.Fatal(err)
	}
	w := p.NewWorker(3)
	copy(w.Input(0), []float64{0, 1, 6})
	copy(w.Input(1), []float64{0, 0, 3})
	w.Run(3)
	one := math.Float64bits(math.NaN())
	for i, want := range []uint64{one, one, math.Float64bits(2)} {
		if got := math.Float64bits(w.Output(0)[i]); got != want {
			t.Errorf("row %d: bits %x, want %x", i, got, want)
		}
	}
}

func TestCompileErrors(t *testing.T) {
	for wanted, message := range map[string]string{"loop": "loop: loop needs pool needs loop", "x": "x is not known"} {
		if _, err := Compile([]string{wanted}, rules); err == nil || !strings.Contains(err.Error(), message) {
			t.Errorf("%s: got %v, want %q", wanted, err, message)
		}
	}
}

func TestQuantityAllows(t *testing.T) {
	q := Quantity{Low: 0, High: 5, LowOpen: true}
	for x, want := range map[float64]bool{0: false, 1: true, 5: true, 5.1: false, -1: false} {
		if q.Allows(x) != want {
			t.Errorf("Allows(%g) = %t, want %t", x, !want, want)
		}
	}
	if q.Allows(math.NaN()) {
		t.Error("Allows(NaN) = true")
	}
}

// TestBounds has a value outside its own bounds infeasible, and what reads it, in a
// swap too; each column of a rule has bounds of its own.
func TestBounds(t *testing.T) {
	bounded := func(name string) (Rule, error) {
		switch name {
		case "mass", "rest":
			return Rule{Out: []string{"mass", "rest"}, Needs: []string{"a", "b"}, Bounds: []Bounds{Quantity{Low: 0, High: 5, LowOpen: true}.Bounds(), {math.Inf(-1), math.Inf(1)}},
				Eval: func(out, in [][]float64) {
					for i := range out[0] {
						out[0][i], out[1][i] = in[0][i]-in[1][i], in[0][i]-in[1][i]
					}
				}}, nil
		case "reader":
			return Rule{Out: []string{"reader"}, Needs: []string{"mass"}, Eval: func(out, in [][]float64) { copy(out[0], in[0]) }}, nil
		}
		return rules(name)
	}
	p, err := Compile([]string{"mass", "rest", "reader"}, bounded)
	if err != nil {
		t.Fatal(err)
	}
	w := p.NewWorker(5)
	copy(w.Input(0), []float64{1, 1, 7, 6, math.MaxFloat64})
	copy(w.Input(1), []float64{3, 1, 1, 1, -math.MaxFloat64})
	w.Run(5)
	if got := fmt.Sprint(w.Output(0), w.Output(1), w.Output(2)); got != "[NaN NaN NaN 5 NaN] [-2 0 6 5 NaN] [NaN NaN NaN 5 NaN]" {
		t.Errorf("mass, rest, reader = %s", got)
	}
	w.RunSwapped([]int{1}, [][]float64{{0, 2, 2, 7, 0}}, 5)
	if got := fmt.Sprint(w.SwappedOutput(0), w.SwappedOutput(2)); got != "[1 NaN 5 NaN NaN] [1 NaN 5 NaN NaN]" {
		t.Errorf("after a swap: mass, reader = %s", got)
	}
}

// TestStart: a rule with a memory is started once by each worker, and none shares it.
func TestStart(t *testing.T) {
	started := 0
	counting := func(Saving) Eval {
		started++
		blocks := 0.0
		return func(out, in [][]float64) {
			blocks++
			for i := range out[0] {
				out[0][i] = in[0][i] + blocks
			}
		}
	}
	p, err := Compile([]string{"y"}, func(name string) (Rule, error) {
		if name == "x" {
			return Sampled("x"), nil
		}
		return Rule{Out: []string{"y"}, Needs: []string{"x"}, Start: counting}, nil
	})
	if err != nil || started != 0 {
		t.Fatalf("started %d times before there is a worker: %v", started, err)
	}
	first, second := p.NewWorker(1), p.NewWorker(1)
	first.Run(1)
	first.Run(1)
	second.Run(1)
	if got, other := first.Output(0)[0], second.Output(0)[0]; started != 2 || got != 2 || other != 1 {
		t.Errorf("started %d times by two workers; blocks counted: %g and %g, want 2 and 1", started, got, other)
	}
	second.RunSwapped([]int{0}, [][]float64{{5}}, 1)
	if got := second.SwappedOutput(0)[0]; got != 7 {
		t.Errorf("a swap evaluated apart: %g, want 7", got)
	}
}
