package traction

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
)

// emulator runs the text of lanes_amd64.s, an instruction at a time, as the processor's
// manual describes each (Intel 64 and IA-32 Architectures Software Developer's Manual,
// volume 2, from memory). So the AVX-512 form is held to the others' bits on machines that
// do not have it; that the AVX2 form run this way gives what the processor gives
// holds the emulator to the truth.
type emulator struct {
	t       *testing.T
	vectors map[string][]float64
	masks   map[string][]bool // of comparisons, by the register that holds them
	ints    map[string]int    // registers: a number, or a place in lanes or steps
	memory  map[string][]float64
	base    map[string]string // which memory a register points into
	width   int               // lanes of a vector
}

func emulate(t *testing.T, name string, width int, lanes, steps []float64, n int) {
	source, err := os.ReadFile("lanes_amd64.s")
	if err != nil {
		t.Fatal(err)
	}
	_, body, found := strings.Cut(string(source), "TEXT ·"+name+"(SB)")
	if !found {
		t.Fatalf("lanes_amd64.s has no %s", name)
	}
	body, _, _ = strings.Cut(body, "\nTEXT ")
	lines := strings.Split(body, "\n")[1:]
	labels := map[string]int{}
	for i, line := range lines {
		if label, ok := strings.CutSuffix(line, ":"); ok {
			labels[label] = i
		}
	}
	e := &emulator{t: t, width: width, vectors: map[string][]float64{}, masks: map[string][]bool{}, ints: map[string]int{}, base: map[string]string{},
		memory: map[string][]float64{"lanes": lanes, "steps": steps, "ones": {1, 1, 1, 1, 1, 1, 1, 1}}}
	for at := 0; ; at++ {
		op, operands, _ := strings.Cut(strings.TrimSpace(lines[at]), " ")
		var args []string
		for _, arg := range strings.Split(operands, ",") {
			args = append(args, strings.TrimSpace(arg))
		}
		switch {
		case op == "RET":
			return
		case op == "" || strings.HasSuffix(op, ":") || strings.HasPrefix(op, "//") || op == "VZEROUPPER":
		case op == "JNZ":
			if e.ints[e.counter(lines, at)] != 0 {
				at = labels[args[0]]
			}
		default:
			e.step(op, args, n)
		}
	}
}

// counter is the register that the DECQ before a jump counted down.
func (e *emulator) counter(lines []string, at int) string {
	_, register, _ := strings.Cut(strings.TrimSpace(lines[at-1]), " ")
	return strings.TrimSpace(register)
}

func (e *emulator) step(op string, args []string, n int) {
	last := args[len(args)-1]
	switch op {
	case "MOVQ":
		switch from, _, _ := strings.Cut(args[0], "+"); from {
		case "lanes", "steps":
			e.ints[last], e.base[last] = 0, from
		case "n":
			e.ints[last] = n
		default:
			e.ints[last], e.base[last] = e.ints[args[0]], e.base[args[0]]
		}
	case "ADDQ":
		by, _ := strconv.ParseInt(strings.TrimPrefix(args[0], "$"), 0, 64)
		e.ints[last] += int(by)
	case "DECQ":
		e.ints[last]--
	case "VMOVUPD":
		if memory, at := e.place(last); memory != nil {
			copy(memory[at:], e.vectors[args[0]])
			return
		}
		e.vectors[last] = e.source(args[0])
	case "VMOVAPD":
		e.moved(args)
	case "VBROADCASTSD":
		memory, at := e.place(args[0])
		e.vectors[last] = e.each(func(int) float64 { return memory[at] })
	case "VXORPD", "VPXORQ":
		e.vectors[last] = make([]float64, e.width)
	case "VCMPPD":
		e.compare(args)
	case "VBLENDVPD": // mask, where set, where not, destination
		mask, set, not := e.masks[args[0]], e.source(args[1]), e.source(args[2])
		e.vectors[last] = e.each(func(i int) float64 {
			if mask[i] {
				return set[i]
			}
			return not[i]
		})
	default:
		e.arithmetic(op, args)
	}
}

// moved is a move, under a mask where there are three operands.
func (e *emulator) moved(args []string) {
	x, last := e.source(args[0]), args[len(args)-1]
	if len(args) == 3 {
		mask, old := e.masks[args[1]], e.vectors[last]
		e.vectors[last] = e.each(func(i int) float64 {
			if mask[i] {
				return x[i]
			}
			return old[i]
		})
		return
	}
	e.vectors[last] = x
}

// compare is greater than, ordered: predicate, right side, left side, destination.
func (e *emulator) compare(args []string) {
	if args[0] != "$0x1e" {
		e.t.Fatalf("predicate %s is not known", args[0])
	}
	right, left := e.source(args[1]), e.source(args[2])
	mask := make([]bool, e.width)
	for i := range mask {
		mask[i] = left[i] > right[i]
	}
	e.masks[args[3]] = mask
}

// arithmetic has its operands in the order of Go's assembler: the manual's last comes first.
func (e *emulator) arithmetic(op string, args []string) {
	last := args[len(args)-1]
	x := e.source(args[0])
	if op == "VSQRTPD" {
		e.vectors[last] = e.each(func(i int) float64 { return math.Sqrt(x[i]) })
		return
	}
	y := e.source(args[1])
	var z []float64
	if strings.HasPrefix(op, "VF") {
		z = e.vectors[last]
	}
	known := map[string]func(i int) float64{
		"VMULPD":       func(i int) float64 { return y[i] * x[i] },
		"VSUBPD":       func(i int) float64 { return y[i] - x[i] },
		"VMINPD":       func(i int) float64 { return second(y[i] < x[i], y[i], x[i]) },
		"VMAXPD":       func(i int) float64 { return second(y[i] > x[i], y[i], x[i]) },
		"VFMADD231PD":  func(i int) float64 { return math.FMA(y[i], x[i], z[i]) },
		"VFNMADD231PD": func(i int) float64 { return math.FMA(-y[i], x[i], z[i]) },
		"VFMADD213PD":  func(i int) float64 { return math.FMA(y[i], z[i], x[i]) },
		"VFMADD132PD":  func(i int) float64 { return math.FMA(z[i], x[i], y[i]) },
	}
	f := known[op]
	if f == nil {
		e.t.Fatalf("instruction %s is not known", op)
	}
	e.vectors[last] = e.each(f)
}

// second is the first number where the comparison holds; with equal or unordered ones the
// second source.
func second(holds bool, first, otherwise float64) float64 {
	if holds {
		return first
	}
	return otherwise
}

func (e *emulator) each(f func(i int) float64) []float64 {
	x := make([]float64, e.width)
	for i := range x {
		x[i] = f(i)
	}
	return x
}

// source is a register or a place in memory.
func (e *emulator) source(arg string) []float64 {
	if memory, at := e.place(arg); memory != nil {
		return memory[at : at+e.width : at+e.width]
	}
	x, ok := e.vectors[arg]
	if !ok {
		e.t.Fatalf("register %s is read before it is written", arg)
	}
	return x
}

// place finds the memory of an operand such as 64(AX), nil for a register.
func (e *emulator) place(arg string) (memory []float64, at int) {
	if strings.HasPrefix(arg, "lanes_ones") {
		return e.memory["ones"], 0
	}
	offset, register, ok := strings.Cut(strings.TrimSuffix(arg, ")"), "(")
	if !ok {
		return nil, 0
	}
	bytes, _ := strconv.Atoi(offset)
	return e.memory[e.base[register]], (e.ints[register] + bytes) / 8
}

// TestEmulatedForms holds the text of all assembly forms to the plain loops.
func TestEmulatedForms(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	m := builtIn("nycc").Motion()
	steps := make([]float64, 0, 5*len(m.Steps))
	for _, s := range m.Steps {
		steps = append(steps, s.V, s.A, s.DT, s.V2, s.Inverse)
	}
	for _, f := range []struct {
		suffix string
		lanes  int
	}{{"AVX2", 8}, {"AVX512", 16}} {
		g := &group{form: form{f.suffix, f.lanes}, motion: m}
		car := randomCar(r, 200)
		quickRows(r, car)
		for i := 0; g.count < f.lanes; i++ {
			if c := &g.rows[g.count]; c.load(car, i) && c.quick(m) {
				g.add(i)
			}
		}
		for lane := range f.lanes {
			g.pack(&g.rows[lane], lane, f.lanes)
		}
		total, all := g.lanes, g.lanes
		emulate(t, "total"+f.suffix, f.lanes/2, total[:], steps, len(m.Steps))
		emulate(t, "flows"+f.suffix, f.lanes/2, all[:], steps, len(m.Steps))
		for lane := range f.lanes {
			c := &g.rows[lane]
			g.lanes = total
			check(t, f.suffix+" charge", c.chemical(g.sum(outCharge, lane), m), c.folded(m))
			g.lanes = all
			want := c.foldedFlows(m)
			got := c.unfold(flows{charge: g.sum(outCharge, lane), heat: g.sum(outHeat, lane), positive: g.sum(outPositive, lane),
				negative: g.sum(outNegative, lane), back: g.sum(outBack, lane), rim2: g.sum(outRim2, lane)}, m)
			for _, pair := range [][2]float64{{got.charge, want.charge}, {got.heat, want.heat}, {got.positive, want.positive},
				{got.negative, want.negative}, {got.back, want.back}, {got.rim2, want.rim2}, {got.air, want.air}} {
				check(t, f.suffix+" flows", pair[0], pair[1])
			}
		}
	}
}

func check(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Float64bits(got) != math.Float64bits(want) && (got == got || want == want) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}
