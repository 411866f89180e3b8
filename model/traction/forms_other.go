//go:build !amd64

package traction

import "proofmass/model/schedule"

// forms are those that the processor can run: plain Go fuses products and sums by one
// instruction on most other processors.
func forms() []form { return []form{plain} }

func (form) call(*[places * mostLanes]float64, []schedule.Moving, bool) {
	panic("traction: no lanes on this processor")
}
