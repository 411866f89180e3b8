package traction

import (
	"golang.org/x/sys/cpu"

	"proofmass/model/schedule"
)

var (
	avx2   = form{name: "AVX2", lanes: 8}
	avx512 = form{name: "AVX-512", lanes: 16}
)

// forms are those that the processor and the system can run, the fastest first.
func forms() []form {
	var all []form
	if cpu.X86.HasAVX512F && cpu.X86.HasFMA {
		all = append(all, avx512)
	}
	if cpu.X86.HasAVX2 && cpu.X86.HasFMA {
		all = append(all, avx2)
	}
	return append(all, plain)
}

// call runs the assembly over a packed group; there must be a step.
func (f form) call(lanes *[places * mostLanes]float64, steps []schedule.Moving, flows bool) {
	first, step, n := &lanes[0], &steps[0].V, len(steps)
	switch {
	case f == avx512 && flows:
		flowsAVX512(first, step, n)
	case f == avx512:
		totalAVX512(first, step, n)
	case flows:
		flowsAVX2(first, step, n)
	default:
		totalAVX2(first, step, n)
	}
}
