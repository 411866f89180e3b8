// Command generate writes the assembly forms of the energy kernel, lanes_amd64.s, beside
// their declarations. It is run by go generate in package traction.
//
// A form evaluates a group of rows, one a lane, over all steps of a schedule. The order of
// the operations is that of the plain Go loops folded and foldedFlows, one instruction for
// each of theirs, so that every form gives the same bits.
package main

import (
	"math"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Places of a row's constants and sums in a group, as in lanes.go.
const (
	f0 = iota
	f1
	f2
	inertia
	drive
	brake
	low
	fade
	limit
	torque
	spin
	cubic
	fixed
	volt
	volt2
	r4
	charge
	heat
	positive
	negative
	back
	rim2
)

// Places of a step's numbers, as in schedule.Moving.
const (
	v = iota
	a
	dt
	v2
	inverse
	stepSize = 5 * 8
)

// Predicates of VCMPPD.
const greater = 30 // GT_OQ

// ones is a place in memory that holds 1 in each lane.
var ones Mem

// form is an instruction set.
type form struct {
	name    string
	width   int // bytes of a vector
	vectors int // of a group
}

func main() {
	Package("proofmass/model/traction")
	ConstraintExpr("amd64")
	ones = GLOBL("lanes_ones", RODATA|NOPTR)
	for i := range 8 {
		DATA(8*i, U64(math.Float64bits(1)))
	}
	for _, f := range []form{{"AVX2", 32, 2}, {"AVX512", 64, 2}} {
		f.kernel("total"+f.name, false)
		f.kernel("flows"+f.name, true)
	}
	Generate()
}

func (f form) vector() reg.VecVirtual {
	if f.width == 64 {
		return ZMM()
	}
	return YMM()
}

// lane is one vector of rows on its way through the steps.
type lane struct {
	form
	lanes reg.Register // address of the group
	at    int          // offset of the vector in a row of constants
	sums  map[int]reg.VecVirtual
}

// constant is the place in memory of a row constant.
func (l *lane) constant(number int) Mem {
	return Mem{Base: l.lanes, Disp: number*l.width*l.vectors + l.at}
}

// step is what a step gives to all rows alike: in every lane of a register, once for all
// vectors of a group.
type step struct{ v, a, dt, v2, inverse reg.VecVirtual }

func (f form) read(steps reg.Register) (s step) {
	for number, x := range []*reg.VecVirtual{v: &s.v, a: &s.a, dt: &s.dt, v2: &s.v2, inverse: &s.inverse} {
		*x = f.vector()
		VBROADCASTSD(Mem{Base: steps, Disp: 8 * number}, *x)
	}
	return s
}

// kernel writes func NAME(lanes, steps *float64, n int). The flows take one vector of
// the group after the other where there are too few registers for both.
func (f form) kernel(name string, flows bool) {
	TEXT(name, NOSPLIT, "func(lanes, steps *float64, n int)")
	doc := " sums the charge of a group of rows over n steps."
	if flows {
		doc = " sums the charge and the flows of a group of rows over n steps."
	}
	Doc(name + doc)
	Pragma("noescape")
	group, first, count := Load(Param("lanes"), GP64()), Load(Param("steps"), GP64()), Load(Param("n"), GP64())
	together := f.vectors
	if flows && f.width == 32 {
		together = 1
	}
	for from := 0; from < f.vectors; from += together {
		steps, n := GP64(), GP64()
		MOVQ(first, steps)
		MOVQ(count, n)
		var all []*lane
		for i := range together {
			all = append(all, f.start(group, (from+i)*f.width, flows))
		}
		loop := name[:5] + "_" + string(rune('a'+from))
		Label(loop)
		stepAll(all, f.read(steps), flows)
		ADDQ(Imm(stepSize), steps)
		DECQ(n)
		JNZ(LabelRef(loop))
		for _, l := range all {
			l.store(flows)
		}
	}
	VZEROUPPER()
	RET()
}

// sumsOf are the sums that a kernel makes.
func sumsOf(flows bool) []int {
	if flows {
		return []int{charge, heat, positive, negative, back, rim2}
	}
	return []int{charge}
}

func (f form) start(group reg.Register, at int, flows bool) *lane {
	l := &lane{form: f, lanes: group, at: at, sums: map[int]reg.VecVirtual{}}
	for _, s := range sumsOf(flows) {
		l.sums[s] = f.vector()
		f.zero(l.sums[s])
	}
	return l
}

func (f form) zero(x reg.VecVirtual) {
	if f.width == 64 {
		VPXORQ(x, x, x)
	} else {
		VXORPD(x, x, x)
	}
}

func (l *lane) store(flows bool) {
	for _, s := range sumsOf(flows) {
		VMOVUPD(l.sums[s], l.constant(s))
	}
}

// stepAll writes one step for all vectors, operation by operation, so that they overlap.
func stepAll(all []*lane, s step, flows bool) {
	force, shaft := forces(all, s), make([]reg.VecVirtual, len(all))
	for i, l := range all {
		shaft[i] = l.shaft(force[i], s)
	}
	if flows {
		for i, l := range all {
			l.atWheel(force[i], shaft[i], s)
		}
	}
	for i, l := range all {
		l.battery(shaft[i], s, flows)
	}
}

// forces: FMA(inertia, a, FMA(v2, f2, FMA(v, f1, f0))).
func forces(all []*lane, s step) []reg.VecVirtual {
	force := make([]reg.VecVirtual, len(all))
	for i, l := range all {
		force[i] = l.vector()
		VMOVUPD(l.constant(f0), force[i])
	}
	for _, term := range []struct {
		constant int
		of       reg.VecVirtual
	}{{f1, s.v}, {f2, s.v2}, {inertia, s.a}} {
		for i, l := range all {
			VFMADD231PD(l.constant(term.constant), term.of, force[i])
		}
	}
	return force
}

// shaft: driving force x drive, braking max(force x brake x fade, limit x inverse), fade
// between 0 and 1 and 1 where it is not a number.
func (l *lane) shaft(force reg.VecVirtual, s step) reg.VecVirtual {
	x, share, most := l.vector(), l.vector(), l.vector()
	VSUBPD(l.constant(low), s.v, share)
	VMULPD(l.constant(fade), share, share)
	VMINPD(ones, share, share) // the second source, here 1, where share is NaN
	zero := l.vector()
	l.zero(zero)
	VMAXPD(zero, share, share)
	VMULPD(l.constant(brake), force, x)
	VMULPD(share, x, x)
	VMULPD(l.constant(limit), s.inverse, most)
	VMAXPD(x, most, x)
	drives := l.vector()
	VMULPD(l.constant(drive), force, drives)
	l.choose(force, zero, drives, x)
	return x
}

// choose puts drives into x where force > 0.
func (l *lane) choose(force, zero, drives, x reg.VecVirtual) {
	if l.width == 64 {
		k := K()
		VCMPPD(Imm(greater), zero, force, k)
		VMOVAPD(drives, k, x)
		return
	}
	VCMPPD(Imm(greater), zero, force, zero)
	VBLENDVPD(zero, drives, x, x)
}

// battery: p = FMA(shaft, FMA(torque, shaft, v), FMA(v, FMA(v2, cubic, spin), fixed)), then
// the sum of dt (volt - sqrt(FMA(r4, p, volt2))).
func (l *lane) battery(shaft reg.VecVirtual, s step, flows bool) {
	p, rim, drop := l.vector(), l.vector(), l.vector()
	VMOVUPD(l.constant(spin), p)
	VFMADD231PD(l.constant(cubic), s.v2, p)
	VFMADD213PD(l.constant(fixed), s.v, p)
	VMOVAPD(s.v, rim)
	VFMADD231PD(l.constant(torque), shaft, rim)
	VFMADD231PD(shaft, rim, p)
	VMOVUPD(l.constant(volt2), drop)
	VFMADD132PD(l.constant(r4), drop, p)
	VSQRTPD(p, p)
	VMOVUPD(l.constant(volt), drop)
	VSUBPD(p, drop, drop)
	VFMADD231PD(s.dt, drop, l.sums[charge])
	if flows {
		VMULPD(drop, drop, drop)
		VFMADD231PD(s.dt, drop, l.sums[heat])
	}
}

// atWheel sums the work at the wheels where they drive and where they brake, and the
// force at the rim squared. A step of the other kind adds nil.
func (l *lane) atWheel(force, shaft reg.VecVirtual, s step) {
	way, zero, part := l.vector(), l.vector(), l.vector()
	VMULPD(s.dt, s.v, way)
	l.zero(zero)
	VMAXPD(zero, force, part)
	VFMADD231PD(way, part, l.sums[positive])
	VMINPD(zero, force, part)
	VFNMADD231PD(way, part, l.sums[negative])
	VMINPD(zero, shaft, part)
	VFNMADD231PD(way, part, l.sums[back])
	VMULPD(shaft, shaft, part)
	VFMADD231PD(s.dt, part, l.sums[rim2])
}
