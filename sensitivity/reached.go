package sensitivity

// reached are the pairs of an input and an output of which sums are kept: all, or those in
// which the input can reach the output at all. Of many inputs and outputs most cannot, and
// sums of 500 times 500 pairs take 14 MB a slot.
type reached struct {
	inputs, outputs int
	place           []int32 // of input i of output j at j*inputs + i, -1 where it is not kept; nil: all are
	count           int
}

func allReached(inputs, outputs int) *reached {
	return &reached{inputs: inputs, outputs: outputs, count: inputs * outputs}
}

// whereReached keeps the pairs that reaches says.
func whereReached(inputs, outputs int, reaches func(input, output int) bool) *reached {
	r := &reached{inputs: inputs, outputs: outputs, place: make([]int32, inputs*outputs)}
	for j := range outputs {
		for i := range inputs {
			at := int32(-1)
			if reaches(i, j) {
				at = int32(r.count)
				r.count++
			}
			r.place[j*inputs+i] = at
		}
	}
	return r
}

// at is the place of a pair's sums, -1 where none are kept.
func (r *reached) at(input, output int) int {
	if r.place == nil {
		return output*r.inputs + input
	}
	return int(r.place[output*r.inputs+input])
}

// of are the sums of a pair; the zero value where none are kept, or no sums at all.
func of[S any](r *reached, sums []S, input, output int) (s S) {
	if at := r.at(input, output); at >= 0 && sums != nil {
		s = sums[at]
	}
	return s
}
